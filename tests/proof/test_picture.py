"""The picture of thickness: darker the thicker, and as large as the map."""

import cv2
import numpy as np
import pytest

from festoon.proof.picture import LEVELS, SHADES, coloured, levels_picture, levels_told, thickness_picture
from festoon.proof.thickness import thickness
from festoon.stitches import Thread, from_points
from tests.proof.toy import patch


def luminance(rgb):
    """Relative luminance of sRGB, 0 to 1 (IEC 61966-2-1, from memory)."""
    share = np.asarray(rgb) / 255
    linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    return linear @ [0.2126, 0.7152, 0.0722]


def decoded(png):
    return cv2.imdecode(np.frombuffer(png, np.uint8), cv2.IMREAD_COLOR)[..., ::-1]


def test_more_layers_are_darker():
    seen = luminance(coloured(np.arange(0, 4.01, 0.1)))
    assert (np.diff(seen) < 0).all()
    assert seen[0] / seen[-1] > 5  # from cloth to four layers


def test_levels_have_their_own_colours_and_the_last_holds_for_all_above():
    shades = coloured(np.array([level for level, _ in LEVELS] + [17.0]))
    told = ["#" + bytes(s).hex() for s in shades]
    assert told == [colour for _, colour in LEVELS] + [LEVELS[-1][1]]


@pytest.mark.parametrize("px_per_mm", [2.0, 4.0, 7.5])
def test_the_picture_is_as_large_as_the_map(px_per_mm):
    found = thickness([from_points([(0.1, 0.1), (39.9, 19.9)], Thread())], "front")
    height, width, _ = decoded(thickness_picture(found, px_per_mm)).shape
    assert (width / px_per_mm, height / px_per_mm) == (40.0, 20.0)


def test_stitching_shows_where_it_lies():
    found = thickness([patch(0, 0, 10, 10)] * 3 + [patch(20, 0, 30, 10)], "front")
    light = luminance(decoded(thickness_picture(found, 4.0)))
    thrice, bare, once = (light[12:28, left : left + 16].mean() for left in (12, 52, 92))
    assert thrice < once < bare


def test_the_same_map_gives_the_same_bytes():
    found = thickness([patch(0, 0, 10, 10)], "front")
    assert thickness_picture(found, 3.0) == thickness_picture(found, 3.0)


def test_no_cells_give_a_pixel_of_cloth():
    png = thickness_picture(thickness([], "front"), 4.0)
    assert "#" + bytes(decoded(png)[0, 0]).hex() == LEVELS[0][1]


def test_a_picture_needs_pixels():
    with pytest.raises(ValueError, match="no picture"):
        thickness_picture(thickness([], "front"), 0.0)


def test_the_grey_picture_tells_how_many_layers():
    """Three fills over each other, far from their edges; a tone is a 32nd of a layer."""
    square = patch(0, 0, 20, 20)
    for times in (1, 3):
        found = thickness([square] * times, "front")
        tones = cv2.imdecode(np.frombuffer(levels_picture(found, 2.0), np.uint8), cv2.IMREAD_GRAYSCALE)
        inner = found.layers[24:-24, 24:-24].mean()
        assert tones[12:-12, 12:-12].mean() / SHADES == pytest.approx(inner, abs=0.05)
    many = thickness([square] * 40, "front")
    assert cv2.imdecode(np.frombuffer(levels_picture(many, 2.0), np.uint8), cv2.IMREAD_GRAYSCALE).max() == 255


def test_every_level_has_its_words():
    assert len(levels_told()) == len(LEVELS)
