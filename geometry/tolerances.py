"""The one home of every tolerance, each with one meaning."""

SAME_POINT_IN = 1e-7
"""Two points closer than this (inches) are the same point."""

CROSSING_IN = 2.0**-38
"""Where seams meet edges is rounded to this (inches): it stays the same, bit for bit, when only
the length of an edge changes that it lies on, and so does all that was worked out from it."""

PARALLEL_RAD = 1e-9
"""Directions closer than this (radians) are parallel."""

STRAIGHT_BULGE = 1e-9
"""An edge with a smaller bulge is a line."""

NEARLY_PARALLEL_DEG = 5.0
"""A moved edge is never met again with a neighbor this close to parallel that moves otherwise."""

SHORT_EDGE_IN = 0.25
"""A piece edge shorter than this beside a seam is a finding."""

FLAT_IN = 1e-3
"""A side asked to rise less than this is straight: its circle would be too large to be met well."""

CHORD_IN = 1e-4
"""Arcs handed to a polygon library are flattened to this distance."""


GRAZING_RAD = 1e-4
"""A seam that leaves an edge at a smaller angle than this runs along it or only grazes it."""

SLIVER_IN = 0.25
"""A piece on average thinner than this (twice its area through its perimeter) is a sliver."""

LEVEL_RAD = 1e-6
"""A width that meets an edge this close to square neither shrinks nor grows along it."""

SCRIBED_IN = 1.0 / 128.0
"""The lines and arcs of a scribed edge follow the curve of the measured wall this closely."""

SAME_STATION_IN = 0.5
"""Offsets of a wall taped closer together than this along it are of the same spot."""

SHADING_IN = 2e-3
"""Shaded areas follow the outlines they belong to this closely."""

SMOOTH_RAD = 1e-5
"""Neighbors that turn less than this where they join go on smoothly."""

CONVERGED_IN = 1e-9
"""An adjustment ends when no corner moves further (inches) in a step."""

RANK_RATIO = 1e-8
"""Singular values below this share of the largest mean that something is not determined."""

REDUNDANT = 1e-9
"""A redundancy number below this means that nothing checks the reading."""

NESTED_CHORD_IN = 1.0 / 128.0
"""Parts laid on sheets are outlined by straight lines outside their arcs, this close to them."""

NESTED_SLACK_IN = 1e-5
"""Parts on a sheet may stand this much closer than the kerf, so that what fits exactly is found."""

KERF_KEPT_IN = 1e-4
"""A cut plan is right when every kerf and margin is kept to this."""

WHOLE = 1e-6
"""A sum this little above a whole number counts as that number when boards are rounded up."""

TEMPLATE_CURVE_IN = 5e-5
"""Lines and arcs follow the splines and ellipses of a maker's template this closely."""

TEMPLATE_JOINED_IN = 1e-3
"""Ends of a maker's lines and arcs closer together than this are joined."""

TEMPLATE_COARSE_IN = 1e-3
"""Curves of a template that would take too many arcs are followed this closely."""

TEMPLATE_LEAST_SQ_IN = 1e-4
"""Lines of a template that enclose less than this (square inches) enclose nothing."""

TEMPLATE_MET_IN = 1.0 / 32.0
"""Ends of an outline no further apart are brought together, instead of a line between them."""

TEMPLATE_GAP_IN = 0.25
"""An outline of a maker's template that is open by no more than this may be closed."""

SIMILAR_RATIO = 1e-9
"""Two axes of a circle that was stretched differ by more than this share of their length."""

INSIDE_RATIO = 1e-7
"""A spline's direction is taken this share of a stretch inside its ends, where it may kink."""

LEANING_RATIO = 1e-6
"""An axis that leans more than this out of the plane is not drawn in it."""

SAME_TAPED_IN = 1.0 / 32.0
"""Two readings of a paper template closer together than this are of the same point."""

PARALLEL_TAPED_RAD = 0.02
"""Straight sides of a paper template that turn less than this into each other have no corner."""

MOST_TAPED = 120
"""More readings of a paper template are not taped by hand."""

BOX_RATIO = 1e-6
"""A part whose area is that of its box within this share is its box."""
