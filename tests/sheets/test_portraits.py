"""The stitching of a hooping as an image, and where it is laid."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from festoon.plane.pose import Pose
from festoon.sheets.portraits import portraits
from festoon.stitches import empty
from tests.sheets import toy


def test_an_image_lies_where_the_stitching_does():
    _, division = toy.cushion(2)
    for h in division.hoopings:
        image = portraits([h], 4.0)[h.number]
        record = image.record((10.0, 20.0, 400.0, 400.0), 0.5)
        left, top, right, bottom = h.stitching.bounds
        corner, far = np.array(record["at"]), np.array(record["at"]) + record["size"]
        # on paper, half a millimetre of room round it at this scale, and up to a pixel at the far sides
        assert corner == pytest.approx((np.array([left, top]) - 1.0 - (10, 20)) * 0.5)
        assert far == pytest.approx((np.array([right, bottom]) + 1.0 - (10, 20)) * 0.5, abs=0.13)


def test_in_the_hoop_it_turns_about_its_middle():
    _, division = toy.cushion(3)
    h = division.hoopings[1]
    back = h.field.inverse()
    image = portraits([h], 4.0)[h.number]
    record = image.record((-60.0, -60.0, 60.0, 60.0), 1.0, back)
    assert record["turn"] == pytest.approx(-h.field.turn)
    middle = np.array(record["at"]) + np.array(record["size"]) / 2
    assert middle == pytest.approx(back.apply(image.middle) + 60.0)


def test_its_pixels_show_the_thread():
    _, division = toy.cushion(1)
    h = division.hoopings[0]
    image = portraits([h], 4.0)[1]
    pixels = cv2.imdecode(np.frombuffer(image.data, np.uint8), cv2.IMREAD_UNCHANGED)
    assert pixels.shape[1] / 4.0 == pytest.approx(image.size[0])
    corner = np.array(image.middle) - np.array(image.size) / 2
    x, y = ((h.stitching.holes[5] - corner) * 4.0).astype(int)
    assert pixels[y, x, 3] > 128
    assert pixels[0, 0, 3] < 128


def test_a_hooping_that_sews_nothing_has_no_image():
    _, division = toy.cushion(1)
    assert portraits([replace(division.hoopings[0], stitching=empty(), field=Pose())], 4.0) == {}
