"""The derived numbers of a job as plain data, documented in docs/facts.md and only extended."""

from math import degrees
from typing import Any

from export.sound import left_out, sound_pieces
from export.stock_facts import stock_facts
from geometry import edges as exact
from geometry.insets import depth_in, in_face
from geometry.naming import EdgeRef, Tag
from geometry.outline import Outline, mirrored
from geometry.points import mirrored_point
from shop import plan
from shop.base_panels import base_panels
from shop.cabinets import CabinetPlan, cabinet_plans
from shop.counterbores import Counterbore
from shop.findings import findings
from shop.inset_words import making_words
from shop.insets import InsetPlan, insets_of
from shop.job import Job
from shop.mold_choices import mold_choices
from shop.reinforcement import reinforcement
from shop.slab_findings import differs_in
from shop.strips import Strip
from shop.supports import under
from shop.survey import room
from shop.words import edge_words, reading_words

Plain = dict[str, Any]


def facts(job: Job) -> Plain:
    """Return everything a program outside may want to know, in inches and pounds."""
    return {
        "format": "facedown-facts",
        "version": 1,
        "units": "in",
        "job": {
            "name": job.name,
            "thickness": job.thickness,
            "density_pcf": job.density_pcf,
        },
        "room": _room(job),
        "cabinets": [_cabinet(plan) for plan in cabinet_plans(job)],
        "pieces": [_piece(job, piece) for piece in sound_pieces(job)],
        "molds": [_mold(job, piece.name) for piece in sound_pieces(job)],
        "left_out": list(left_out(job)),
        "bridges": [bridge for piece in sound_pieces(job) for bridge in _bridges(job, piece)],
        "seams": list(filter(None, (_seam(job, seam.id) for seam in job.seams))),
        "stock": stock_facts(job),
        "findings": [
            {
                "code": finding.code,
                "blocking": finding.blocking,
                "title": finding.title,
                "text": finding.text,
                "at": list(finding.at) if finding.at else None,
            }
            for finding in findings(job)
        ],
    }


def _seam(job: Job, seam: str) -> Plain | None:
    below = under(job, seam)
    if below is None:
        return None
    ends = (below.back, below.front)
    back, front = ({"words": end.words, "holds": end.holds} for end in ends)
    return {"seam": seam, "under_back": back, "under_front": front}


def _room(job: Job) -> Plain:
    survey = room(job)
    return {
        "datum": {
            "corner": str(survey.corners[0].number) if survey.corners else None,
            "direction": "wall 1 as drawn",
        },
        "tape_sd": job.room.tape_sd,
        "angle_sd_deg": job.room.angle_sd,
        "degrees_of_freedom": survey.degrees_of_freedom,
        "corners": [
            {
                "name": str(corner.number),
                "x": corner.point[0],
                "y": corner.point[1],
                "sd_major": corner.sd_major,
                "sd_minor": corner.sd_minor,
                "axis_deg": degrees(corner.axis_rad) if corner.axis_rad is not None else None,
            }
            for corner in survey.corners
        ],
        "walls": [
            {"id": wall.id, "left": list(wall.left), "right": list(wall.right)}
            for wall in survey.walls
        ],
        "readings": [
            {
                "name": reading_words(job, reading.reading),
                "id": reading.reading.id,
                "value": reading.reading.value,
                "adjusted": reading.adjusted,
                "residual": reading.residual,
                "standardized": reading.standardized,
                "redundancy": reading.redundancy,
                "suspect": reading.suspect,
            }
            for reading in survey.readings
        ],
    }


def _cabinet(plan: CabinetPlan) -> Plain:
    cabinet = plan.cabinet
    return {
        "id": cabinet.id,
        "use": cabinet.use,
        "wall": cabinet.wall,
        "side": cabinet.side,
        "island_side": cabinet.island_side,
        "hook": cabinet.hook,
        "along": cabinet.along,
        "width": cabinet.width,
        "depth": cabinet.depth,
        "doors": cabinet.doors,
        "carries": plan.carries,
        "takes_top": plan.takes_top,
        "box": [list(corner) for corner in plan.corners],
    }


def rows(outline: Outline) -> list[list[float]]:
    """Return an outline as rows of x, y and bulge."""
    return [[x, y, bulge] for (x, y), bulge in zip(outline.vertices, outline.bulges, strict=True)]


def _edges(outline: Outline, names: dict[Any, str]) -> list[Plain]:
    return [
        {
            "kind": tag.kind.value,
            "name": names[tag.ref],
            "ref": ref_words(tag),
            "length_in": exact.length(edge),
        }
        for edge, tag in zip(outline.edges, outline.tags, strict=True)
    ]


def ref_words(tag: Tag) -> str:
    """Return an edge's name that does not depend on geometry, such as 'leg3.front.0'."""
    if isinstance(tag.ref, EdgeRef):
        return f"{tag.ref.owner}.{tag.ref.side}.{tag.part}"
    a, b = tag.ref.a, tag.ref.b
    return f"{a.owner}.{a.side}+{b.owner}.{b.side}"


def _names(job: Job, name: str) -> dict[Any, str]:
    return dict(plan.names_of_edges(job, name))


def _piece(job: Job, piece: plan.Piece) -> Plain:
    return {
        "name": piece.name,
        "top": piece.top,
        "state": piece.state,
        "differs_in": differs_in(job, piece.name),
        "area_sq_in": piece.area_sq_in,
        "volume_cu_ft": piece.volume_cu_ft,
        "weight_lb": piece.weight_lb,
        "centroid": list(piece.centroid),
        "outline": rows(piece.face.outline),
        "base_outline": rows(piece.face.base_outline),
        "openings": [rows(opening.outline) for opening in piece.face.openings],
        "opening_ids": [opening.id for opening in piece.face.openings],
        "opening_parts": [
            {"opening": part.id, "outline": rows(part.outline)} for part in piece.face.parts
        ],
        "edges": _edges(piece.face.outline, _names(job, piece.name)),
    }


def _bevel(strip: Strip) -> Plain | None:
    bevel = strip.bevel
    if bevel is None:
        return None
    return {
        "name": bevel.name,
        "leg_in": bevel.leg_in,
        "long_in": bevel.long_in,
        "short_in": bevel.short_in,
        "ends_deg": [end.cut_deg for end in bevel.ends],
    }


def _mold(job: Job, name: str) -> Plain:
    mold = plan.mold(job, name)
    made = base_panels(job, mold)
    names = _names(job, name)
    beads = {i: strip.bead_radius_in for strip in mold.strips for i in strip.edges}
    finishes = {i: strip.finish for strip in mold.strips for i in strip.edges}
    return {
        "piece": name,
        "construction": mold_choices(job, name).construction,
        "base": rows(mold.base),
        "panels": [{"name": panel.name, "outline": rows(panel.outline)} for panel in made.panels],
        "joints": [{"from": list(a), "to": list(b)} for a, b in made.joints],
        "frame": rows(mold.frame),
        "edges": [
            {
                "kind": tag.kind.value,
                "name": names[tag.ref],
                "bead": beads[i] is not None,
                "bead_radius_in": beads[i],
                "finish": finishes[i],
            }
            for i, tag in enumerate(mold.frame.tags)
        ],
        "sidewalls": [
            {
                "name": strip.name,
                "edge": strip.edge,
                "edges": list(strip.edges),
                "edge_kind": strip.tag.kind.value,
                "edge_name": strip.edge_name,
                "edge_length_in": strip.edge_length_in,
                "face_length_in": strip.face_length_in,
                "back_length_in": strip.back_length_in,
                "height_in": strip.height_in,
                "ends": [{"cut": end.cut, "bevel_deg": end.bevel_deg} for end in strip.ends],
                "bevel": _bevel(strip),
                "bead": strip.bead,
                "screws": len(strip.screws),
                "screws_at_in": list(strip.screws),
                "arc_radius_in": strip.arc_radius,
                "turned_insert": strip.turned_insert,
                "insert": None if strip.insert is None else rows(strip.insert),
                "thickness_in": strip.thickness_in,
                "backing_blocks": [rows(block) for block in strip.blocks],
                "spliced_from_in": list(strip.pieces),
            }
            for strip in mold.strips
        ],
        "knockouts": [
            {
                "opening": knockout.opening,
                "name": knockout.name,
                "outline": rows(knockout.outline),
                "partial": knockout.partial,
                "thickness_in": knockout.thickness_in,
                "uplift_lb": knockout.uplift_lb,
                "bead_length_in": knockout.bead_length_in,
                "finish": knockout.finish,
                "bead_radius_in": knockout.bead_radius_in,
                "fit": knockout.fit,
                "made_of": knockout.made_of,
                "wrap_length_in": knockout.wrap_length_in,
                "draft_in": knockout.draft_in,
                "counterbore": _counterbore(knockout.counterbore),
            }
            for knockout in mold.knockouts
        ],
        "bead_length_in": mold.bead_length_in,
        "uprights_length_in": mold.uprights_length_in,
        "silicone_cu_in": mold.silicone_cu_in,
        "tape_length_in": mold.tape_length_in,
        "screws": mold.screw_count,
        "diagonals": [
            {"from": list(a), "to": list(b), "length_in": length} for a, b, length in mold.diagonals
        ],
        "turn_over_about": names[mold.turning.edge] if mold.turning else None,
        "lands_turned_deg": mold.turning.turned_deg if mold.turning else None,
        "handedness": mold.handedness,
        "insets": [_inset(job, found) for found in insets_of(job, name)],
        **_steel(job, name),
    }


def _counterbore(block: Counterbore | None) -> Plain | None:
    if block is None:
        return None
    return {
        "outline": rows(block.outline),
        "diameter_in": block.diameter_in,
        "depth_in": block.depth_in,
        "left_in": block.left_in,
    }


def _inset(job: Job, found: InsetPlan) -> Plain:
    """Return what is set into a slab, face down where it lies in its mold."""
    assert found.placed is not None
    x, y = mirrored_point(found.placed.center)
    return {
        "name": found.inset.name,
        "kind": found.inset.shape.__struct_config__.tag,
        "in_face": in_face(found.inset.shape),
        "depth_in": depth_in(found.inset.shape),
        "middle": [x, y],
        "outlines": [rows(mirrored(one)) for one in found.placed.outlines],
        "made": making_words(job, found),
    }


def _steel(job: Job, name: str) -> Plain:
    steel = reinforcement(job, name)
    return {
        "mesh": {
            "style": steel.style,
            "height_in": steel.mesh_height_in,
            "lap_in": steel.lap_in,
            "panels": [
                {
                    "name": panel.name,
                    "rings": [[[x, y] for x, y in ring] for ring in panel.rings],
                    "size_in": list(panel.size),
                    "area_sq_in": panel.area_sq_in,
                    "weight_lb": panel.weight_lb,
                }
                for panel in steel.panels
            ],
        }
        if steel.panels
        else None,
        "bars": [
            {
                "name": bar.name,
                "where": bar.where,
                "set_by": bar.set_by,
                "reach": bar.reach,
                "from": list(bar.start),
                "to": list(bar.end),
                "length_in": bar.length_in,
                "lengths_in": list(bar.lengths),
                "height_in": bar.height_in,
                "cover_in": bar.cover_in,
                "crosses": list(bar.crosses),
                "weight_lb": bar.weight_lb,
            }
            for bar in steel.bars
        ],
        "ties": steel.ties,
        "steel_lb": steel.weight_lb,
    }


def _bridges(job: Job, piece: plan.Piece) -> list[Plain]:
    return [
        {
            "piece": piece.name,
            "width_in": bridge.width,
            "between": [edge_words(job, tag.ref) for tag in bridge.between],
            "at": [
                (bridge.a[0] + bridge.b[0]) / 2.0,
                (bridge.a[1] + bridge.b[1]) / 2.0,
            ],
        }
        for bridge in piece.bridges
    ]
