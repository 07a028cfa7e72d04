"""Where the field of one hooping lies: its turn and middle, so that all is in it and the hoop stays on the cloth."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from festoon.hooping.fitting import FIT, Turns, fitting_angles, hull_corners
from festoon.measure import MM_PER_INCH, Units
from festoon.plane.pose import Points, Pose

STEPS = (1.0, 0.5, 0.1)
"""mm; the field's middle is set to a multiple of the coarsest of these at which the field still holds all and the hoop
passes the cloth's edge no farther. All are whole steps of the stitch formats (0.1 mm), so that at quarter turns no
stitch is rounded twice."""

MOST_ANGLES = 32
"""Turns compared for one hooping; the plainest angles come first."""


def place_field(
    holes: Points,
    size: tuple[float, float],
    turns: Turns,
    outer: tuple[float, float],
    cloth: tuple[float, float],
) -> tuple[Pose, tuple[str, ...]]:
    """(field's pose on the panel, sides of the cloth that the hoop's outline passes).

    holes (n, 2) must fit the field of `size` at one of `turns`. outer is the outside of the hoop, cloth the panel's
    width and height, mm. The plainest turn at which the hoop lies wholly on the cloth is taken, else the one at
    which it passes the edge least; the stitching lies in the middle of the field as nearly as that allows.
    """
    corners = hull_corners(holes)
    best: tuple[float, Pose] | None = None
    for angle in fitting_angles(corners, size, turns)[:MOST_ANGLES].tolist():
        pose = _placed(corners, size, angle, outer, cloth)
        beyond = sum(max(0.0, v) for v in overhang(pose, outer, cloth).values())
        if best is None or beyond < best[0] - FIT:
            best = beyond, pose
        if beyond <= FIT:
            break
    if best is None:
        raise ValueError("the stitching does not fit the field at any turn")
    return best[1], float_sides(best[1], outer, cloth)


def float_sides(field: Pose, outer: tuple[float, float], cloth: tuple[float, float]) -> tuple[str, ...]:
    """The sides of the cloth that the hoop's outline passes."""
    return tuple(side for side, by in overhang(field, outer, cloth).items() if by > FIT)


def nearest_place(corners: Points, laid: Pose, size: tuple[float, float], units: Units) -> tuple[float, float] | None:
    """The place nearest to that of a field `laid` at which, turned so, it holds the corners (k, 2) wholly; as round a
    number as will do. None where it holds them nowhere."""
    hoop = Pose(turn=laid.turn)
    own = hoop.inverse().apply(corners)
    low, high = own.max(axis=0) - np.array(size) / 2, own.min(axis=0) + np.array(size) / 2
    if (low > high + FIT).any():
        return None
    exact = hoop.apply(np.clip(hoop.inverse().apply(laid.shift), low, np.maximum(low, high)))
    for step in STEPS if units == "mm" else (MM_PER_INCH / 16,):
        around = (np.round(exact / step) + np.mgrid[-1:2, -1:2].reshape(2, -1).T) * step
        at = hoop.inverse().apply(around)
        good = around[((at >= low - FIT) & (at <= high + FIT)).all(axis=1)]
        if len(good):
            x, y = good[np.hypot(*(good - exact).T).argmin()].tolist()
            return round(x, 6), round(y, 6)
    x, y = exact.tolist()
    return round(x, 3), round(y, 3)


def overhang(field: Pose, outer: tuple[float, float], cloth: tuple[float, float]) -> dict[str, float]:
    """How far (mm) the hoop's outline passes each edge of the cloth; below zero where it stays inside."""
    ex, ey = _half(outer, field.turn)
    return {
        "left": ex - field.x,
        "top": ey - field.y,
        "right": field.x + ex - cloth[0],
        "bottom": field.y + ey - cloth[1],
    }


def _half(outer: tuple[float, float], angle: float) -> NDArray[np.float64]:
    """Half the extents, along the panel's axes, of a rectangle `outer` turned by `angle`."""
    half: NDArray[np.float64] = np.abs(Pose(turn=angle).matrix) @ np.array(outer) / 2
    return half


def _placed(
    corners: Points, size: tuple[float, float], angle: float, outer: tuple[float, float], cloth: tuple[float, float]
) -> Pose:
    hoop = Pose(turn=angle)
    own = hoop.inverse().apply(corners)
    low, high = own.max(axis=0) - np.array(size) / 2, own.min(axis=0) + np.array(size) / 2
    middle = (own.max(axis=0) + own.min(axis=0)) / 2
    half = _half(outer, angle)
    wished = hoop.apply(middle)
    for _ in range(20):
        on_cloth = np.where(half * 2 <= cloth, np.clip(wished, half, np.array(cloth) - half), np.array(cloth) / 2)
        wished = hoop.apply(np.clip(hoop.inverse().apply(on_cloth), low, high))
    x, y = wished.tolist()
    exact = Pose(x, y, angle)
    beyond = max(overhang(exact, outer, cloth).values())
    for step in STEPS:
        x, y = (np.round(wished / step) * step).tolist()
        pose = Pose(round(x, 6), round(y, 6), angle)
        at = hoop.inverse().apply(pose.shift)
        holds = (at >= low - FIT).all() and (at <= high + FIT).all()
        if holds and max(overhang(pose, outer, cloth).values()) <= max(beyond, 0.0) + FIT:
            return pose
    return exact
