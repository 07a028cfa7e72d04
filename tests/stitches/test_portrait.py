"""Pictures: the size, the place and the light."""

import cv2
import numpy as np
import pytest

from festoon.plane.pose import Pose
from festoon.stitches import Stitching, Thread, empty, from_points, portrait
from festoon.stitches.portrait import blank, draw, finished, png

RED = Thread("#c03040")


def patch(turn: float) -> Stitching:
    """Satin 10 mm square about the middle, its threads turned by `turn` degrees from lying along y."""
    x = np.linspace(-5, 5, 51)
    return from_points(np.stack([x, np.where(np.arange(51) % 2, 5.0, -5.0)], axis=1), RED).placed(Pose(turn=turn))


def middle(picture: np.ndarray) -> float:
    h, w = picture.shape[:2]
    return float(picture[h // 2 - 12 : h // 2 + 12, w // 2 - 12 : w // 2 + 12, :3].mean())


def test_size_and_place() -> None:
    picture = portrait(from_points([[10, 20], [30, 20]], RED), 6, margin_mm=2)
    assert picture.shape == (24, 144, 4)
    assert picture.dtype == np.uint8
    rows, columns = np.nonzero(picture[..., 3] > 200)
    assert rows.mean() == pytest.approx(11.5, abs=0.5)
    assert columns.mean() == pytest.approx(71.5, abs=0.5)


def test_clear_ground_and_cloth() -> None:
    s = patch(0)
    assert portrait(s, 6)[0, 0].tolist() == [0, 0, 0, 0]
    assert portrait(s, 6, cloth=(240, 236, 226))[0, 0].tolist() == [240, 236, 226, 255]
    assert (portrait(s, 6, cloth=(240, 236, 226))[..., 3] == 255).all()


def test_on_clear_ground_soft_edges_are_the_threads_colour() -> None:
    picture = portrait(from_points([[0, 0], [20, 7]], Thread("#ffffff")), 8)
    soft = (picture[..., 3] > 150) & (picture[..., 3] < 250)
    assert soft.any()
    assert picture[soft][:, :3].mean() > 100


def test_satin_across_the_light_shines() -> None:
    """Light falls from the upper left, 30 degrees from upright: threads square to it are bright, along it dull."""
    dull, bright = middle(portrait(patch(-30), 6)), middle(portrait(patch(60), 6))
    assert bright > dull * 1.3
    assert dull < middle(portrait(patch(15), 6)) < bright


def test_later_threads_lie_over_earlier_ones() -> None:
    blue = from_points(patch(0).points, Thread("#2030c0"))
    canvas = blank(14, 14, 6)
    for s in (patch(0), blue):
        draw(canvas, s, 6, (-7, -7))
    r, _, b, alpha = finished(canvas)[42, 42]
    assert b > r
    assert alpha == 255


def test_a_whole_piece_is_drawn_part_by_part() -> None:
    canvas = blank(40, 20, 6, cloth=(255, 255, 255))
    draw(canvas, patch(0).placed(Pose(110, 210)), 6, (100, 200))
    draw(canvas, patch(0).placed(Pose(130, 210)), 6, (100, 200))
    draw(canvas, patch(0).placed(Pose(300, 210)), 6, (100, 200))
    dark = finished(canvas)[..., 1] < 128
    assert dark[60, 60]
    assert dark[60, 180]
    assert not dark[60, 120]


def test_drawing_nothing_changes_nothing() -> None:
    canvas = blank(5, 5, 6)
    draw(canvas, empty(), 6, (0, 0))
    draw(canvas, from_points([[1, 1]], RED), 6, (0, 0))
    assert not canvas.any()
    with pytest.raises(ValueError, match="no stitches"):
        portrait(empty(), 6)


def test_png_is_the_picture_and_always_the_same() -> None:
    picture = portrait(patch(20), 6)
    data = png(picture)
    back = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_UNCHANGED)
    assert np.array_equal(cv2.cvtColor(back, cv2.COLOR_BGRA2RGBA), picture)
    assert png(portrait(patch(20), 6)) == data
