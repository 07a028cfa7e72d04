"""Two hoopings side by side, each with four crosses at the corners of a square, and what they sew."""

import numpy as np
from shapely import box

from festoon.hooping.values import Block, Division, ExpectedError, Hooping, Mark
from festoon.layout import Layout
from festoon.piece import Hoop
from festoon.plane.pose import Pose
from festoon.registration.model import PlacingModel
from festoon.stitches import Thread, from_points, stitched_region
from festoon.stitches.lay import fill
from tests.hooping.pieces import piece

LEFT, RIGHT = (100.0, 100.0), (200.0, 100.0)
THREAD = Thread("#c8412f")
ONLY_CROSSES = PlacingModel(marking=0.5, reading=0.3, seating=0, shift=0, turn=0, drawn_along=0, drawn_across=0)


def patch(left, top, right, bottom):
    """A filled rectangle."""
    return fill(box(left, top, right, bottom), angle=0, row=0.4, thread=THREAD)


def block(name, stitching, region=None, order=0, number=0):
    region = stitched_region(stitching) if region is None else region
    label = f"{name}/{number}" if number else name
    return Block(label, name, name, order, stitching, region, stitching.holes, number)


def boxed(name, left, top, right, bottom, number=0):
    """A block that covers exactly this rectangle; its few stitches run to and fro."""
    run = from_points(np.array([(left, top), (right, top), (right, bottom), (left, bottom)]), THREAD)
    return block(name, run, box(left, top, right, bottom), number=number)


def hooping(number, middle, *blocks, shared=True):
    """Crosses 50 mm left and right, up and down of the middle; with shared = False a hair off, so no others' own."""
    x, y = middle
    off = 0.0 if shared else 1e-9 * number
    marks = tuple(Mark(f"{x + dx:g} {y + dy:g}", (x + dx, y + dy + off)) for dx in (-50, 50) for dy in (-50, 50))
    return Hooping(
        number=number,
        panel="front",
        hoop=Hoop(name="toy", field=(120.0, 120.0)),
        field=Pose(x, y),
        blocks=blocks,
        stitching=blocks[0].stitching,
        marks=marks,
        expected=ExpectedError(middle, 1.0, 0.95, 0.5, 0.5),
    )


def divided(first, second, shared=True):
    """The first block sewn in the left hooping, the second in the right."""
    return Division((hooping(1, LEFT, first, shared=shared), hooping(2, RIGHT, second, shared=shared)), 2, True, "", ())


def layout(*elements, units="mm", **words):
    """A layout that knows the panel and what the elements say, and has laid nothing."""
    return Layout(piece(*elements, units=units, **words), ())
