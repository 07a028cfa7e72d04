"""The line of a scallop, a V and a loop over one chord, and the formulas of an arc.

Each is drawn in the axes of its repeat: from (-c/2, 0) to (c/2, 0), y down; a rise above 0 lies to the right of travel
(below), one under 0 to the left. Source of the arc's formulas: any handbook of geometry.
"""

from __future__ import annotations

import math

from festoon.plane import Line, Path, arc_through
from festoon.plane.segments import Arc, Segment

Drawn = tuple[Segment, ...]


def arc_radius(chord: float, rise: float) -> float:
    """R = (c²/4 + h²)/(2h), mm.

    >>> arc_radius(200, 50), arc_radius(30, 8)
    (125.0, 18.0625)
    """
    return (chord * chord / 4 + rise * rise) / (2 * rise)


def arc_length(chord: float, rise: float) -> float:
    """s = 4R·atan(2h/c): 2R·asin(c/2R) up to a half circle, and right beyond it, mm.

    >>> round(arc_length(80, 20), 3)
    92.73
    """
    return 4 * arc_radius(chord, rise) * math.atan(2 * rise / chord)


def point_turn(chord: float, rise: float) -> float:
    """Degrees by which the line turns at the point between two scallops: 4·atan(2h/c), the whole arc's own turn.

    >>> round(point_turn(200, 50), 2)
    106.26
    """
    return math.degrees(4 * math.atan(2 * rise / chord))


def tip_turn(chord: float, rise: float) -> float:
    """Degrees by which the line turns at the tip of a pointed oval of two such arcs: 180 - 4·atan(2h/c).

    >>> round(tip_turn(200, 50), 2)
    73.74
    """
    return 180.0 - point_turn(chord, rise)


def scallop(chord: float, rise: float, between: float = 0.0) -> Drawn:
    """An arc over the chord less `between`, half of which is straight at either side, mm."""
    half = (chord - between) / 2
    arc = arc_through((-half, 0.0), (half, 0.0), rise).segments
    return _flanked(arc, chord, between)


def vee(chord: float, rise: float, between: float = 0.0) -> Drawn:
    """Two straight legs that meet `rise` from the middle of the chord, straight pieces beside them as for a scallop."""
    half = (chord - between) / 2
    return _flanked((Line((-half, 0.0), (0.0, rise)), Line((0.0, rise), (half, 0.0))), chord, between)


def loop(chord: float, rise: float, across: float) -> Drawn:
    """A loop, `across` mm wide and reaching `rise` mm from the chord, hung in a swag that crosses itself below it.

    The swag comes from (-c/2, 0), crosses the middle, goes round the loop and on to (c/2, 0); both arcs turn the same
    way and touch without a corner. With loop radius ρ and half turn of the swag δ = 2·atan(2(h - 2ρ)/c): swag radius
    c/(2·sin δ) + ρ, height 2ρ + c/2·tan(δ/2) (computed). Needs 0 < across < |rise|.
    """
    side, height, rho = math.copysign(1.0, rise), abs(rise), across / 2
    delta = 2 * math.atan(2 * (height - across) / chord)
    radius = chord / (2 * math.sin(delta)) + rho
    turn = math.degrees(delta)
    middle = chord / 2 / math.tan(delta) - radius
    up = (
        Arc((-chord / 2, -radius), radius, 90.0, -turn),
        Arc((0.0, middle), rho, 90.0 - turn, 2 * turn - 360.0),
        Arc((chord / 2, -radius), radius, 90.0 + turn, -turn),
    )
    return up if side < 0 else tuple(_flipped(arc) for arc in up)


def loop_turn(chord: float, rise: float, across: float) -> float:
    """Degrees that a loop's own arc goes round: 360 less the swag's turn on both sides."""
    return 360.0 - math.degrees(4 * math.atan(2 * (abs(rise) - across) / chord))


def pointed_oval(chord: float, rise: float) -> Path:
    """A closed pointed oval of two arcs (a vesica), clockwise as seen from its left tip; rise is half its height."""
    half = chord / 2
    above = arc_through((-half, 0.0), (half, 0.0), -rise).segments
    return Path(above + arc_through((half, 0.0), (-half, 0.0), -rise).segments)


def diamond(chord: float, rise: float) -> Path:
    """A closed diamond, clockwise as seen from its left tip; rise is half its height."""
    corners = [(-chord / 2, 0.0), (0.0, -rise), (chord / 2, 0.0), (0.0, rise)]
    return Path(tuple(Line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)))


def _flanked(middle: Drawn, chord: float, between: float) -> Drawn:
    if not between:
        return middle
    half = (chord - between) / 2
    return Line((-chord / 2, 0.0), (-half, 0.0)), *middle, Line((half, 0.0), (chord / 2, 0.0))


def _flipped(arc: Arc) -> Arc:
    """The same arc with above and below changed about."""
    (x, y) = arc.centre
    return Arc((x, -y), arc.radius, -arc.start_angle, -arc.sweep)
