"""Whole repeats on a line: what is found where they come out too far from their wish. Not a technique itself."""

from __future__ import annotations

from typing import Literal

from festoon.measure import fine, show_length
from festoon.plane import Parity
from festoon.shaping.set_out import SetOut
from festoon.techniques.base import Setting
from festoon.work.values import Amount, Finding, Mend

Centre = Literal["any", "point", "round"]

PARITY: dict[Centre, Parity] = {"any": "any", "point": "even", "round": "odd"}
"""The count that puts what is asked at the middle of a line: an odd one a round, an even one a point."""


def closing_finding(
    name: str, repeat: float, most: float, centre: Centre, out: SetOut, setting: Setting
) -> Finding | None:
    """Repeats that close only by more than the stretch allowed; None where they close within it.

    repeat: mm, as wished; most: the share by which it may change. The two nearest widths that close are offered, where
    one width serves the whole line.
    """
    worst = out.worst
    if abs(worst.stretch) <= most:
        return None
    wider = "wider" if worst.stretch > 0 else "narrower"
    length = worst.count * worst.pitch
    mends = _mends(name, length, repeat, centre, setting) if len(out.stretches) == 1 else ()
    nearest = " or ".join(mend.told[0].lower() + mend.told[1:] for mend in mends)
    x, y = out.places[0].pose.apply([-out.places[0].chord / 2, 0.0]).round(3).tolist()
    count = "One repeat fills" if worst.count == 1 else f"{worst.count} repeats fill"
    return Finding(
        verdict="look again",
        where=f'"{name}" on {setting.panel}',
        reason=f"{count} {show_length(length, setting.units)} only by being {abs(worst.stretch):.1%} {wider} than "
        "wished.",
        remedy=f"To close with less, {nearest}; or allow more stretch." if nearest else "Allow more stretch.",
        figure=f"{abs(worst.stretch):.1%}",
        limit=f"{most:.1%}",
        source="computed: the count is rounded, never the width; how much may be silently stretched is common practice",
        panel=setting.panel,
        at=(x, y),
        rule="repeat stretched",
        about=(name,),
        amount=Amount(round(abs(worst.stretch), 3), "share"),
        mends=mends,
    )


def _mends(name: str, length: float, repeat: float, centre: Centre, setting: Setting) -> tuple[Mend, ...]:
    """The next wider and the next narrower repeat that close without stretch, the nearer one first."""
    step = 1 if centre == "any" else 2
    least = 2 if centre == "point" else 1
    fewer = max(least, least + step * int((length / repeat - least) // step))
    widths = {count: length / count for count in (fewer, fewer + step)}
    nearest = sorted(widths, key=lambda count: abs(widths[count] - repeat))
    return tuple(
        Mend(
            f"Make repeat {fine(widths[count], setting.units, 2)}, for {count}",
            name,
            "repeat",
            round(widths[count], 2),
        )
        for count in nearest
    )
