"""A hooping turned on its panel, four crosses at the corners of a square in it, and two flowers to sew."""

import numpy as np

from festoon.hooping import Hooping, Mark
from festoon.hooping.expected import expected_error
from festoon.hooping.values import Block
from festoon.piece import Hoop
from festoon.plane.pose import Pose
from festoon.registration import PlacingModel
from festoon.stitches import Thread, from_points, joined, stitched_region

FIELD = Pose(200.0, 150.0, 30.0)
CORNERS = {"A": (-40.0, -40.0), "B": (40.0, -40.0), "C": (40.0, 40.0), "D": (-40.0, 40.0)}
FLE = 0.64
STILL = Pose()


def model(fle):
    """Crosses that err by `fle`, and nothing else that does."""
    return PlacingModel(marking=fle, reading=0, seating=0, shift=0, turn=0, drawn_along=0, drawn_across=0)


def spiral(middle=(0.0, 0.0), radius=20.0):
    """Holes (n, 2) about 2 mm apart on three rounds out to the radius; the last of them farthest out."""
    t = np.sqrt(np.linspace(0.05, 1.0, round(radius * 4)))
    return np.asarray(middle) + radius * t[:, None] * np.column_stack([np.cos(19 * t), np.sin(19 * t)])


def toy(corners=CORNERS, reach=20.0, size=(100.0, 100.0), first=None):
    """A hooping with marks at `corners` in hoop axes, sewing two spirals or the holes `first` and one spiral."""
    holes = [spiral((1.3, 2.1), reach) if first is None else np.asarray(first, float), spiral((-7.4, 3.3), 9.0)]
    runs = [from_points(FIELD.apply(h), Thread(c)) for h, c in zip(holes, ("#c8412f", "#2b5fc8"), strict=True)]
    blocks = tuple(
        Block(n, n, n, k, run, stitched_region(run), run.holes)
        for k, (n, run) in enumerate(zip(("rose", "bell"), runs, strict=True))
    )
    marks = tuple(Mark(n, tuple(FIELD.apply(at).tolist())) for n, at in corners.items())
    sewn = joined(runs)
    expected = expected_error(marks, blocks, FIELD, model(FLE))
    return Hooping(3, "cloth", Hoop(name="toy", field=size), FIELD, blocks, sewn, marks, expected)


def moved(pose=STILL, scale=1.0, corners=CORNERS, **off):
    """The readings of crosses on cloth that is stretched by `scale`, then lies as `pose` has it, and `off` besides."""
    return {
        n: tuple((pose.apply(scale * np.array(at)) - at + off.get(n, (0.0, 0.0))).tolist()) for n, at in corners.items()
    }
