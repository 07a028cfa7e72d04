"""Stitchings for the tests: drawn by Hypothesis, and one asymmetric design."""

import numpy as np
from hypothesis import strategies as st

from festoon.stitches import Act, Stitching, Thread

COLOURS = ("#c8412f", "#2b5fc8", "#3f8a4d", "#ffffff")
LETTER_F = Stitching(
    [[0, 0], [0, -8], [0, -16], [5, -16], [10, -16], [10, -16], [0, -8], [0, -8], [6, -8]],
    [0, 0, 0, 0, 0, Act.TRIM, Act.MOVE, 0, 0],
    [0, 0, 0, 0, 0, 0, 1, 1, 1],
    (Thread("#c8412f"), Thread("#2b5fc8")),
)
"""The letter F, 10 mm wide and 16 mm tall, its foot in the middle of the field: nothing of it mirrors into itself."""


@st.composite
def stitchings(draw: st.DrawFn, far: float = 90.0) -> Stitching:
    """Any records within `far` mm of the middle, in up to four thread blocks, with at least one stitch."""
    steps = draw(
        st.lists(
            st.tuples(
                st.floats(-far, far),
                st.floats(-far, far),
                st.sampled_from([Act.STITCH, Act.STITCH, Act.STITCH, Act.MOVE, Act.TRIM, Act.STOP]),
                st.booleans(),
            ),
            min_size=1,
            max_size=25,
        )
    )
    points, acts, blocks = [], [], []
    block = 0
    for x, y, act, changes in steps:
        if acts and changes and block < 3:
            block += 1
        points.append((x, y))
        acts.append(act)
        blocks.append(block)
    acts[draw(st.integers(0, len(acts) - 1))] = Act.STITCH
    threads = tuple(Thread(draw(st.sampled_from(COLOURS))) for _ in range(block + 1))
    return Stitching(np.array(points), np.array(acts), np.array(blocks), threads)


def waits(stitching: Stitching) -> list[tuple[int, float, float]]:
    """(penetrations before, x, y) of every place where the machine waits: stops and thread changes, one where both."""
    found = []
    sewn, stopped = 0, False
    for k, (point, act) in enumerate(zip(stitching.points.tolist(), stitching.acts.tolist(), strict=True)):
        if k and stitching.thread[k] != stitching.thread[k - 1]:
            if not stopped:
                found.append((sewn, *stitching.points[k - 1].tolist()))
            stopped = False
        sewn += act == Act.STITCH
        stopped = act == Act.STOP or (stopped and act == Act.TRIM)
        if act == Act.STOP:
            found.append((sewn, *point))
    return found
