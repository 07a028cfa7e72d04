"""What to cut for a panel, in words."""

from __future__ import annotations

from festoon.measure import Units, fine, show_length
from festoon.piece import Panel, shape_of
from festoon.piece.outline import NOUNS, SHAPES


def cutting_told(panel: Panel, units: Units) -> str:
    """'Cut 400 mm by 300 mm (measured), linen.'; with a shape, what is cut from the block afterwards; with a panel that
    closes, how far it is round."""
    basis = "measured" if panel.block else "computed"
    cloth = f", {panel.cloth}" if panel.cloth else ""
    block = f"Cut {'a block of ' if panel.shaped else ''}{_size(panel.size, units)} ({basis}){cloth}."
    return " ".join([block, *([_shape_told(panel, units)] if panel.shaped else []), *_round_told(panel, units)])


def _shape_told(panel: Panel, units: Units) -> str:
    left, top, right, bottom = shape_of(panel).cut.bounds
    noun = next(NOUNS[word] for word in SHAPES if getattr(panel, word) is not None)
    size = _size((right - left, bottom - top), units)
    with_them = f" with {_allowances(panel, units)}" if _allowances(panel, units) else ""
    return f"When the work is done, cut the {noun} out of it, {size} (computed){with_them}."


def _allowances(panel: Panel, units: Units) -> str:
    seam = f"seams of {show_length(panel.seam, units)}" if panel.seam else ""
    hem = f"a hem of {show_length(panel.hem_allowance, units)}" if panel.hem_allowance else ""
    fold = f"none on the fold at the {panel.fold}" if panel.fold else ""
    return ", ".join(part for part in (seam, hem, fold) if part)


def _round_told(panel: Panel, units: Units) -> list[str]:
    shape = shape_of(panel)
    loops = [(name, shape.lines[name].length) for name in shape.lines if name in shape.loops]
    return [f"Sewn round, its {name} is {fine(length, units)} (computed)." for name, length in loops]


def _size(size: tuple[float, float], units: Units) -> str:
    return " by ".join(show_length(v, units) for v in size)
