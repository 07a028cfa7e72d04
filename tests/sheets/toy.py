"""A made-up piece, small enough to reckon in the head: a wreath of sprigs and stems on a cushion."""

import math
from pathlib import Path

import numpy as np
import shapely

from festoon.hooping.marks import letters
from festoon.hooping.values import Block, Division, ExpectedError, Hooping, Mark
from festoon.layout import Layout
from festoon.piece import Bench, Hoop, Panel, Piece, PieceFile
from festoon.piece.model import PieceTable
from festoon.plane.pose import Pose
from festoon.stitches.stitching import from_points, joined
from festoon.stitches.thread import Thread
from festoon.work import Part, Work

HOLLY = Thread("#5a6db4")
SILVER = Thread("#8aa3c2")
STEM = Thread("#66845f")
HOOP = Hoop(name="small", field=(100.0, 100.0))


def satin(spine, width, spacing=0.4):
    """Zigzag along a polyline (n, 2), mm."""
    line = shapely.LineString(spine)
    s = np.arange(0, line.length, spacing / 2)
    p = shapely.get_coordinates(shapely.line_interpolate_point(line, s))
    q = shapely.get_coordinates(shapely.line_interpolate_point(line, s + 0.01))
    t = (q - p) / np.maximum(np.hypot(*(q - p).T), 1e-12)[:, None]
    side = np.where(np.arange(len(s)) % 2, 1, -1)[:, None] * width / 2
    return p + np.column_stack([-t[:, 1], t[:, 0]]) * side


def part(name, panel, pieces):
    """A part from (points, thread) runs; each thread's outline is the stitching a little widened."""
    stitching = joined(from_points(p, t) for p, t in pieces)
    outlines = tuple((i, shapely.buffer(shapely.LineString(p), 0.3, quad_segs=1)) for i, (p, _) in enumerate(pieces))
    return Part(name, name.split(" ")[0], panel, stitching, shapely.union_all([a for _, a in outlines]), outlines)


def sprig(name, panel, pose, size=1.0):
    """A head of rays, a ruff and a stem."""
    turns = np.linspace(0, 2 * math.pi, 24, endpoint=False)
    rays = np.concatenate(
        [[[0, -14 * size], [17 * size * math.sin(a), -14 * size - 17 * size * math.cos(a)]] for a in turns]
    )
    ring = [[9 * size * math.sin(a), -14 * size - 9 * size * math.cos(a)] for a in np.linspace(0, 6.28, 60)]
    stem = [[0, 30 * size], [3 * size, 12 * size], [0, 2 * size]]
    runs = [(satin(stem, 2.4), STEM), (satin(ring, 4.0), SILVER), (rays, HOLLY)]
    return part(name, panel, [(pose.apply(p), t) for p, t in runs])


def block(whole, order):
    """A whole part as a block."""
    hull = shapely.get_coordinates(shapely.convex_hull(whole.region))
    return Block(whole.name, whole.name, whole.element, order, whole.stitching, whole.region, hull)


def cushion(sprigs=9, size=(400.0, 400.0), units="mm"):
    """(Layout, Division): a wreath of `sprigs` sprigs, a stem between each two, one hooping a sprig."""
    middle, radius = np.array(size) / 2, 118.0
    parts, hoopings = [], []
    for k in range(sprigs):
        a = 360.0 * k / sprigs
        at = Pose(*middle).after(Pose(0, 0, a)).apply([0, -radius])
        nxt = (
            Pose(*middle)
            .after(Pose(0, 0, a))
            .apply(
                [
                    [radius * math.sin(u), -radius * math.cos(u)]
                    for u in np.linspace(0.12, 2 * math.pi / sprigs - 0.12, 12)
                ]
            )
        )
        motif = sprig(f"sprig-{k + 1}", "front", Pose(*at, a + 80))
        stem = part(f"stem-{k + 1}", "front", [(satin(nxt, 2.2), STEM)])
        parts += [motif, stem]
        pose = Pose(*Pose(*middle).after(Pose(0, 0, a + 14)).apply([0, -radius]), (a + 14) % 90)
        corners = pose.apply([[-44, -44], [44, -44], [44, 44], [-44, 44]])
        mine = tuple(Mark(letters(2 * k + i), tuple(c)) for i, c in enumerate(corners[[0, 2]]))
        blocks = tuple(block(p, 2 * k + i) for i, p in enumerate((motif, stem)))
        hoopings.append(
            Hooping(
                k + 1,
                "front",
                HOOP,
                pose,
                blocks,
                joined(b.stitching for b in blocks),
                mine,
                ExpectedError(tuple(at), 0.83, 0.95, 0.41, 0.36),
                after=(k,) if k else (),
                float_sides=("left",) if k == 6 else (),
                reason="First: nothing has to meet it yet." if not k else f"Its stem begins on sprig-{k}.",
            )
        )
    panel = Panel(name="front", size=size, cloth="natural linen", seam=12.0)
    work = Work("wreath", "front", tuple(parts))
    file = PieceFile(piece=PieceTable(name="Sea-holly cushion", units=units), panel=(panel,), element=())
    piece = Piece(Path("cushion"), file, Bench(hoop=(HOOP,)), {})
    division = Division(
        tuple(hoopings),
        sprigs,
        True,
        f"{sprigs} hoopings, and this is the fewest.",
        ("front: two sprigs side by side need a square of 101.6 mm, however the hoop is turned. The field is 100 mm.",),
        ("Hooping 7 reaches past the cloth at its left.",),
    )
    return Layout(piece, (work,)), division
