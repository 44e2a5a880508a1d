import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.canvas.camera import Camera, fitted, shifted, zoomed

coordinates = st.floats(-500.0, 500.0)
points = st.tuples(coordinates, coordinates)
cameras = st.builds(Camera, coordinates, coordinates, st.floats(0.5, 100.0))
factors = st.floats(0.5, 2.0)


def left_of_fold_px(camera: Camera, point: tuple[float, float]) -> tuple[float, float]:
    return (
        (camera.fold_x - point[0]) * camera.scale,
        (camera.middle_y - point[1]) * camera.scale,
    )


@given(cameras, points, factors)
def test_the_point_zoomed_about_stays_where_it_is(
    camera: Camera, point: tuple[float, float], factor: float
) -> None:
    before = left_of_fold_px(camera, point)
    after = left_of_fold_px(zoomed(camera, point, factor), point)
    assert after == pytest.approx(before, abs=1e-6 * (1.0 + max(map(abs, before))))


@given(cameras, points, st.floats(-300.0, 300.0), st.floats(-300.0, 300.0))
def test_shifted_paper_moves_by_the_pixels_asked(
    camera: Camera, point: tuple[float, float], right: float, down: float
) -> None:
    x, y = left_of_fold_px(camera, point)
    moved = left_of_fold_px(shifted(camera, right, down), point)
    assert moved == pytest.approx((x - right, y + down), abs=1e-6 * (1.0 + abs(x) + abs(y)))


def test_a_fitted_box_lies_in_the_middle_of_the_view() -> None:
    camera = fitted((0.0, 0.0, 100.0, 50.0), 600.0, 500.0, 400.0)
    x, y = left_of_fold_px(camera, (50.0, 25.0))
    assert (x, y) == pytest.approx((300.0, 0.0))
    assert 100.0 * camera.scale <= 500.0
