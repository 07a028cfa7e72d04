"""Does satin hide the cloth: its spacing against the widest that the worker found to hide it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from festoon.hooping import Division
from festoon.measure import Units, thread_diameter
from festoon.proof.cloth import HIDES
from festoon.proof.heap import boxed, window_cells
from festoon.proof.hidden import GLANCE
from festoon.proof.limits import SHORT
from festoon.proof.lines import Lines, satin, stitches
from festoon.proof.values import Thickness
from festoon.proof.words import fine, spot
from festoon.work import Amount, Finding

SPAN = 6
"""Spacings in a row over which the mean is taken: the file's 0.1 mm steps even out, and both sides count. Chosen."""
PLAY = 0.05
"""mm by which a spacing may pass what was measured: half a step of the file."""
OPEN = 2.0
"""Times the measured spacing from which satin is an open zigzag, meant to show the cloth. Chosen."""

Floats = NDArray[np.float64]


def hiding_findings(
    division: Division, maps: Sequence[Thickness], cover: float | None, units: Units
) -> tuple[Finding, ...]:
    """Satin opener than `cover` mm, hole to hole on one side, where nothing else closes over or under it.

    maps: one a panel. One finding a part, at its most open stretch, the most open part first; none where cover is
    None, for then nobody knows what hides the cloth.
    """
    if cover is None:
        return ()
    thickest = max((thread_diameter(t.tex) for h in division.hoopings for t in h.stitching.threads), default=0.0)
    by_panel = {m.panel: m for m in maps}
    found = [f for part in stitches(division) for f in _open(part, by_panel[part.panel], cover, thickest, units)]
    return tuple(finding for _, finding in sorted(found, key=lambda pair: -pair[0]))


def _open(
    part: Lines, whole: Thickness, cover: float, thickest: float, units: Units
) -> Iterator[tuple[float, Finding]]:
    at, spacing = spacings(part)
    shows = (spacing > cover + PLAY) & (spacing < OPEN * cover)
    if shows.any():
        shows &= ~_closed(at, spacing, whole, thickest)
    if not shows.any():
        return
    worst = int(np.where(shows, spacing, 0.0).argmax())
    x, y = at[worst].round(3).tolist()
    finding = Finding(
        "look again",
        f"{part.part} on {part.panel}{spot((x, y), units)}",
        "Its satin lies more open than hides the cloth: cloth may show through.",
        "Have it sewn closer or with a heavier thread, or lay a fill of its colour underneath.",
        figure=f"{fine(float(spacing[worst]), units, places=2)} from hole to hole on one side",
        limit=fine(cover, units, places=2),
        source="measured: cover, under [measured] in the bench file",
        panel=part.panel,
        at=(x, y),
        elements=(part.part,),
        hooping=int(part.hooping[0]),
        rule="cloth shows",
        amount=Amount(round(float(spacing[worst]), 2), "mm"),
    )
    yield float(spacing[worst]), finding


def spacings(part: Lines) -> tuple[Floats, Floats]:
    """Along every column of satin: points (n, 2), mm on the panel, and the mean spacing (n,) of the SPAN about each.

    A spacing is the way from a hole to the next on the same side, taken square to the stitch between: the fan of a
    curve opens on its outer side as it closes on its inner one, and the mean is that of its middle.
    """
    across = part.chosen(satin(part) & (part.lengths >= SHORT.value))
    if len(across.run) <= SPAN:
        return np.zeros((0, 2)), np.zeros(0)
    way = across.end - across.start
    step = across.end[1:] - across.start[:-1]
    apart = np.abs(way[:-1, 0] * step[:, 1] - way[:-1, 1] * step[:, 0]) / across.lengths[:-1]
    mean = np.convolve(apart, np.full(SPAN, 1 / SPAN), "valid")
    whole = across.run[SPAN:] == across.run[:-SPAN]
    middle = (across.start + across.end)[SPAN // 2 : SPAN // 2 + len(mean)] / 2
    return middle[whole], mean[whole]


def _closed(at: Floats, spacing: Floats, whole: Thickness, thickest: float) -> NDArray[np.bool_]:
    """(n,) true where, beside the satin itself, enough thread lies to hide the cloth."""
    layers = boxed(whole.layers.astype(np.float64), window_cells(whole.cell, GLANCE))
    column, row = np.floor((at - whole.origin) / whole.cell).astype(np.int64).T
    return np.asarray(layers[row, column] >= 2 * thickest / spacing + HIDES.value)
