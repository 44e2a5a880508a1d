"""The camera that both sides of the fold share.

The fold stands at a place of the model; what lies so many pixels left of the fold face up lies as
many pixels right of it face down, so the two sides are each other's reflection on the screen.
"""

from typing import NamedTuple

from geometry.points import Point

CLOSEST_PX_PER_IN = 400.0
FARTHEST_PX_PER_IN = 0.25
MARGIN_PX = 70.0


class Camera(NamedTuple):
    """The model's x (face up) at the fold, its y at mid-height, and pixels for each inch."""

    fold_x: float = 0.0
    middle_y: float = 0.0
    scale: float = 4.0


Box = tuple[float, float, float, float]


def fitted(box: Box, width_px: float, narrow_px: float, height_px: float) -> Camera:
    """Return the camera that shows a box of the model, centered in the face-up view.

    width_px is that of the face-up view, narrow_px that of the narrower of the two.
    """
    left, bottom, right, top = box
    across = max(narrow_px - 2.0 * MARGIN_PX, 50.0) / max(right - left, 1.0)
    upright = max(height_px - 2.0 * MARGIN_PX, 50.0) / max(top - bottom, 1.0)
    scale = _bounded(min(across, upright, 24.0))
    return Camera((left + right) / 2.0 + width_px / 2.0 / scale, (bottom + top) / 2.0, scale)


def zoomed(camera: Camera, about: Point, factor: float) -> Camera:
    """Return the camera closer by a factor, with a point of the model (face up) staying put."""
    scale = _bounded(camera.scale * factor)
    keep = camera.scale / scale
    return Camera(
        about[0] + (camera.fold_x - about[0]) * keep,
        about[1] + (camera.middle_y - about[1]) * keep,
        scale,
    )


def shifted(camera: Camera, right_px: float, down_px: float) -> Camera:
    """Return the camera with the paper face up moved by so many pixels."""
    return camera._replace(
        fold_x=camera.fold_x - right_px / camera.scale,
        middle_y=camera.middle_y + down_px / camera.scale,
    )


def _bounded(scale: float) -> float:
    return min(max(scale, FARTHEST_PX_PER_IN), CLOSEST_PX_PER_IN)
