"""A toy hoop whose field is 10 × 15 steps of the machine's grid (0.1 mm), and a hooping in it."""

import numpy as np
from shapely import Point

from festoon.hooping.values import Block, ExpectedError, Hooping, Mark
from festoon.piece import Hoop
from festoon.plane.pose import Pose
from festoon.stitches import Thread, from_points, joined

RED, BLUE = Thread("#ff0000", 25.0), Thread("#0000ff", 40.0)
FIELD = Pose(20.0, 30.0, 90.0)


def toy(
    first=((0.5, 0.7), (0.5, 0.0)), second=((0.0, 0.0), (-0.5, -0.7)), marks=((0.4, 0.3), (-0.4, -0.3)), field=FIELD
):
    """Two runs and two marks, given in hoop axes, hooped a quarter turn round about (20, 30)."""
    runs = {"sprig": from_points(field.apply(first), RED), "leaf": from_points(field.apply(second), BLUE)}
    blocks = tuple(
        Block(name, name, "wreath", k, run, Point(field.x, field.y), run.holes)
        for k, (name, run) in enumerate(runs.items())
    )
    places = np.round(field.apply(marks), 6).tolist()
    return Hooping(
        number=3,
        panel="cloth",
        hoop=Hoop(name="toy", field=(1.0, 1.5)),
        field=field,
        blocks=blocks,
        stitching=joined(runs.values()),
        marks=tuple(Mark(n, (x, y)) for n, (x, y) in zip("AB", places, strict=True)),
        expected=ExpectedError((19.3, 30.5), 0.70994, 0.95, 0.39, 0.31),
        after=(1, 2),
    )
