"""A stitching in figures: how large, how many, how long."""

from __future__ import annotations

from dataclasses import dataclass

from festoon.stitches.stitching import Act, Stitching
from festoon.stitches.thread import Thread


@dataclass(frozen=True, slots=True)
class Description:
    """What there is to say of a stitching.

    width, height: of the penetrations, mm. threads: each block's thread and how many stitches it sews, in order.
    trims, stops, changes: counts; a change lies between two thread blocks. longest, mean: of the laid stitches, mm,
    0 where none is laid.
    """

    width: float
    height: float
    stitches: int
    threads: tuple[tuple[Thread, int], ...]
    trims: int
    stops: int
    changes: int
    longest: float
    mean: float


def describe(stitching: Stitching) -> Description:
    """The figures of a stitching; an empty one gives zeros."""
    holes, lengths = stitching.holes, stitching.laid_lengths()
    width, height = (holes.max(axis=0) - holes.min(axis=0)).tolist() if len(holes) else (0.0, 0.0)
    blocks = stitching.thread_blocks()
    return Description(
        width=width,
        height=height,
        stitches=stitching.stitch_count,
        threads=tuple(
            (stitching.threads[int(stitching.thread[a])], int(stitching.is_stitch[a:b].sum())) for a, b in blocks
        ),
        trims=int((stitching.acts == Act.TRIM).sum()),
        stops=int((stitching.acts == Act.STOP).sum()),
        changes=max(0, len(blocks) - 1),
        longest=float(lengths.max()) if len(lengths) else 0.0,
        mean=float(lengths.mean()) if len(lengths) else 0.0,
    )
