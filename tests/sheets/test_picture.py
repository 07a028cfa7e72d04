"""The picture of the piece."""

import cv2
import numpy as np

from festoon.sheets import picture
from tests.sheets import toy


def pixels(data):
    return cv2.cvtColor(cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_COLOR), cv2.COLOR_BGR2RGB)


def test_as_wide_as_asked_and_the_same_twice():
    layout, division = toy.cushion(2)
    first = picture(layout, division, width_px=400)
    assert picture(layout, division, width_px=400) == first
    height, width, _ = pixels(first).shape
    assert abs(width - 400) <= 1
    assert abs(height - 400) <= 1


def test_thread_wood_and_cloth_are_seen():
    layout, division = toy.cushion(2)
    image = pixels(picture(layout, division, width_px=800)).astype(int)
    for colour in (toy.STEM.rgb, toy.HOLLY.rgb, (0xE6, 0xCD, 0xA4), (0xEF, 0xE8, 0xD9), (0xF8, 0xF4, 0xE8)):
        assert (np.abs(image - colour).max(axis=2) <= 12).sum() > 50


def test_what_is_not_stitched_is_not_shown():
    layout, division = toy.cushion(0)
    image = pixels(picture(layout, division, width_px=400)).astype(int)
    assert not (np.abs(image - toy.STEM.rgb).max(axis=2) <= 12).any()
