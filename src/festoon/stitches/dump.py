"""The text twin of a stitching: one record a line, for reviewing and for keeping expected results beside tests."""

from __future__ import annotations

import numpy as np

from festoon.errors import StitchFileError
from festoon.stitches.commands import UNIT
from festoon.stitches.stitching import Act, Stitching
from festoon.stitches.thread import Thread

_ACTS = {act.name.lower(): act for act in Act}


def dump(stitching: Stitching) -> str:
    """Lines 'thread 0 #rrggbb tex', then 'act x y block' with x and y in whole 0.1 mm, y down; rounded to that grid.

    >>> from festoon.stitches.stitching import from_points
    >>> print(dump(from_points([[0, 0], [2.5, -1]], Thread("#336699", 25.0))), end="")
    thread    0 #336699 25
    stitch      0      0    0
    stitch     25    -10    0
    """
    lines = [f"thread {i:>4} {thread.colour} {thread.tex:.17g}" for i, thread in enumerate(stitching.threads)]
    grid = np.rint(stitching.points / UNIT).astype(int).tolist()
    records = zip(stitching.acts.tolist(), grid, stitching.thread.tolist(), strict=True)
    lines += [f"{Act(act).name.lower():<6} {x:>6} {y:>6} {block:>4}" for act, (x, y), block in records]
    return "".join(f"{line}\n" for line in lines)


def undump(text: str) -> Stitching:
    """The stitching that `dump` wrote, on the 0.1 mm grid. Raises StitchFileError, naming the line."""
    threads: list[Thread] = []
    points: list[tuple[float, float]] = []
    acts: list[Act] = []
    blocks: list[int] = []
    for number, line in enumerate(text.splitlines(), start=1):
        try:
            word, *rest = line.split()
            if word == "thread":
                _, colour, tex = rest
                threads.append(Thread(colour, float(tex)))
            else:
                x, y, block = (int(r) for r in rest)
                acts.append(_ACTS[word])
                points.append((x / 10, y / 10))
                blocks.append(block)
        except (ValueError, KeyError) as error:
            raise StitchFileError(
                f"'{line}' is no record.", where=f"line {number}", remedy="Write it as 'stitch x y block'."
            ) from error
    shape = np.array(points, np.float64).reshape(-1, 2)
    return Stitching(shape, np.array(acts, np.uint8), np.array(blocks, np.int32), tuple(threads))
