"""`make bench`: how long the main things take, each as a ratio to a plain reference in the same run.

Ratios hold on any machine; seconds hold where they were taken, and are printed beside them.
"""

from __future__ import annotations

import functools
import os
import resource
import subprocess
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path
from unittest import mock

import numpy as np
import pyembroidery
import shapely
from scipy.optimize import linprog

from festoon.hooping.assignment import Task
from festoon.hooping.candidates import candidates
from festoon.hooping.cover import divide_blocks
from festoon.hooping.fitting import Turns
from festoon.layout import settings
from festoon.measure import thread_diameter
from festoon.piece import read_piece, shape_of
from festoon.plane import Pose
from festoon.proof.thickness import CELL, thickness
from festoon.stitches import FORMATS, Stitching, Thread, encode, from_points, read_stitches, write_stitches
from festoon.techniques import technique_of

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT))
from tools import page_speed  # noqa: E402
from tools.page_frames import page_frames  # noqa: E402

FIELD = (100.0, 100.0)


def median_seconds(
    work: Callable[[], object], rounds: int = 3, clock: Callable[[], float] = time.perf_counter
) -> float:
    """The median time of a few rounds, after one that is not counted."""
    work()
    taken = []
    for _ in range(rounds):
        start = clock()
        work()
        taken.append(clock() - start)
    return sorted(taken)[rounds // 2]


def line(what: str, seconds: float, against: str = "", reference: float = 0.0) -> None:
    """One line of the report."""
    ratio = f"{seconds / reference:8.2f} x  {against} ({reference:.3f} s)" if reference else ""
    print(f"{what:58s}{seconds:8.3f} s  {ratio}")


def whole_example() -> None:
    """`festoon make` on the example as its own process, against a process that only loads the same libraries."""
    libraries = "import cv2, numpy, pydantic, pyembroidery, rich, scipy.optimize, shapely, typer, typst"
    with tempfile.TemporaryDirectory() as folder:
        for name in ("sea-holly-cushion", "tablecloth-hem"):
            out = os.path.join(folder, name)
            command = [sys.executable, "-m", "festoon", "make", str(ROOT / "examples" / name), "-o", out]
            seconds = median_seconds(lambda c=command: subprocess.run(c, check=True, capture_output=True))
            loading = median_seconds(lambda: subprocess.run([sys.executable, "-c", libraries], check=True))
            line(f"festoon make {name}", seconds, "loading the libraries alone", loading)
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"{'its peak memory':58s}{peak:8.0f} MB")


def border(count: int) -> list[np.ndarray]:
    """Rectangles of a border round a cloth: `count` motifs with leaves between, in a fixed order."""
    rng = np.random.default_rng(20260)
    side = count // 4
    blocks = []
    for k in range(count):
        along, edge = 38.0 * (k % side), k // side
        reach = 38.0 * side
        x, y = ((along, 0.0), (reach, along), (reach - along, reach), (0.0, reach - along))[edge]
        w, h = rng.uniform(24, 44, 2)
        x, y = np.array([x, y]) + rng.uniform(-3, 3, 2)
        blocks.append(np.array([[x, y], [x + w, y], [x + w, y + h], [x, y + h]]))
    return blocks


def plain_cover(blocks: list[np.ndarray]) -> int:
    """The same count by looking at every corner position in plain Python, and one integer programme over all."""
    low = [b.min(axis=0) for b in blocks]
    high = [b.max(axis=0) for b in blocks]
    held = set()
    for left in low:
        for top in low:
            held.add(
                tuple(
                    i
                    for i in range(len(blocks))
                    if low[i][0] >= left[0]
                    and low[i][1] >= top[1]
                    and high[i][0] <= left[0] + FIELD[0]
                    and high[i][1] <= top[1] + FIELD[1]
                )
            )
    fields = [h for h in held if h]
    owed = np.zeros((len(blocks), len(fields)))
    for f, members in enumerate(fields):
        owed[list(members), f] = -1.0
    return round(linprog(np.ones(len(fields)), owed, -np.ones(len(blocks)), bounds=(0, 1), integrality=1).fun)


def dividing() -> None:
    """300 blocks of a border, with layers and touching neighbours."""
    blocks = border(300)
    touching = tuple((k, k + 1) for k in range(299))
    task = Task(300, beneath=touching[::2], touching=touching, threads=tuple(frozenset({k % 4}) for k in range(300)))
    found: list[int] = []

    def ours() -> None:
        cover = divide_blocks(task, candidates(blocks, FIELD, Turns((0.0,))))
        found[:] = [len(cover.groups), cover.lower_bound]

    seconds = median_seconds(ours)
    start = time.perf_counter()
    count = plain_cover(blocks)
    line("300 blocks divided, ordered and assigned", seconds, "plain cover alone", time.perf_counter() - start)
    print(f"    {found[0]} hoopings, bound {found[1]}; the plain cover finds {count}")


LIBRARY_CALLS = [
    *((f"{kind}Reader", "read") for kind in ("Dst", "Exp", "Jef", "Pes")),
    *((f"{kind}Writer", "write") for kind in ("Dst", "Exp", "Jef")),
    ("PesWriter", "write_pes_header_v6"),
    ("PesWriter", "write_pes_addendum"),
    ("PecWriter", "write_pec_header"),
    ("PecWriter", "write_pec_graphics"),
]
"""Where Festoon enters the format library, (module, function); vp3 it reads and writes by itself."""


def share_inside_library(work: Callable[[], object]) -> float:
    """The part of the CPU time of `work` that passes inside the format library's readers and writers, 0 to 1."""
    inside = 0.0

    def timed(call: Callable[..., object]) -> Callable[..., object]:
        def timing(*args: object) -> object:
            nonlocal inside
            start = time.process_time()
            result = call(*args)
            inside += time.process_time() - start
            return result

        return timing

    with ExitStack() as stack:
        for module, name in LIBRARY_CALLS:
            call = getattr(getattr(pyembroidery, module), name)
            stack.enter_context(mock.patch(f"pyembroidery.{module}.{name}", timed(call)))
        start = time.process_time()
        work()
        return inside / (time.process_time() - start)


def formats() -> None:
    """100,000 stitches read, placed, written and read back to check them, in CPU seconds.

    The reference is the format library's own reading, writing and reading back of the same file.
    """
    t = np.arange(100_000) * 0.02
    wave = np.column_stack([t % 90 - 45, 40 * np.sin(t / 9) + np.where(np.arange(len(t)) % 2, 1.5, 0.0)])
    stitching = from_points(wave, Thread("#336699"))
    with tempfile.TemporaryDirectory() as folder:
        for suffix in FORMATS:
            path = Path(folder) / f"wave.{suffix}"
            write_stitches(stitching, path)

            def ours(path: Path = path, suffix: str = suffix) -> None:
                encode(read_stitches(path).placed(Pose(0.3, -0.2, 90.0)), suffix)

            def library(path: Path = path) -> None:
                written = str(path.with_stem("library"))
                pyembroidery.write(pyembroidery.read(str(path)), written)
                pyembroidery.read(written)

            seconds, reference = (median_seconds(work, clock=time.process_time) for work in (ours, library))
            what = f"100,000 stitches read, placed, written, checked: {suffix}"
            line(what, seconds, "the library's own read, write, read", reference)
            print(f"    inside the library's readers and writers: {share_inside_library(ours):.0%} of it")


AGREE = 0.02
"""Share by which the map's thread and that of its reference may differ."""


def buffered(stitching: Stitching) -> float:
    """mm2 of thread laid: every stitch as a Shapely buffer with flat ends, cut by the map's cells one by one."""
    to = stitching.laid()
    width = thread_diameter(stitching.threads[0].tex)
    ways = shapely.linestrings(np.stack([stitching.points[to - 1], stitching.points[to]], axis=1))
    threads = shapely.buffer(ways, width / 2, cap_style="flat")
    left, top, right, bottom = shapely.total_bounds(threads) / CELL
    columns, rows = np.meshgrid(np.arange(np.floor(left), right), np.arange(np.floor(top), bottom))
    x, y = columns.ravel() * CELL, rows.ravel() * CELL
    cells = shapely.box(x, y, x + CELL, y + CELL)
    cell, thread = shapely.STRtree(threads).query(cells)
    area = np.zeros(len(cells))
    np.add.at(area, cell, shapely.area(shapely.intersection(cells[cell], threads[thread])))
    return float(area.sum())


def thickness_map() -> None:
    """The map of 500 stitches of 4 mm against cutting their Shapely buffers cell by cell; then of a million.

    Ends the run with a sentence and status 1 where the two do not find the same area of thread.
    """
    t = np.arange(1_000_000)
    turn, reach = t * 4e-4, 150 + 2 * (-1.0) ** t
    ring = from_points(200 + np.column_stack([reach * np.cos(turn), reach * np.sin(turn)]), Thread())
    few = ring.part(0, 500)
    ours = median_seconds(lambda: thickness([few], "front"))
    reference = median_seconds(lambda: buffered(few))
    line("500 stitches mapped", ours, "Shapely buffers, cell by cell", reference)
    print(f"    {len(few) / ours:,.0f} stitches a second; the reference {len(few) / reference:,.0f}")
    mapped, plain = float(thickness([few], "front").layers.sum(dtype=np.float64)) * CELL**2, buffered(few)
    told = f"{mapped:.1f} mm² of thread by the map, {plain:.1f} mm² by the buffers: {abs(mapped / plain - 1):.2%} apart"
    if abs(mapped / plain - 1) > AGREE:
        sys.exit(f"The map is wrong: {told}, and {AGREE:.0%} is the most.")
    print(f"    {told}")
    seconds = median_seconds(lambda: thickness([ring], "front"))
    line("1,000,000 stitches mapped", seconds)
    tracemalloc.start()
    found = thickness([ring], "front")
    peak = tracemalloc.get_traced_memory()[1] / 2**20
    tracemalloc.stop()
    cells = found.length.size
    print(f"    {len(ring) / seconds:,.0f} stitches a second; peak memory {peak:.0f} MB, {cells:,} cells")


def techniques() -> None:
    """Every element of the gown, worked out alone by its technique: 50 ms each is the aim. The slowest of each kind is
    told, against flattening the gown's hem a hundred times."""
    piece = read_piece(ROOT / "examples" / "christening-gown")
    around = settings(piece, [e.name for e in piece.file.element])
    hem = shape_of(piece.panels[0]).lines["hem"]
    reference = median_seconds(lambda: [hem.flatten(0.001) for _ in range(100)])
    slowest: dict[str, float] = {}
    for element in piece.file.element:
        work = functools.partial(technique_of(element).work, element, around[element.name])
        slowest[element.kind] = max(slowest.get(element.kind, 0.0), median_seconds(work))
    for kind, seconds in sorted(slowest.items()):
        line(f"the gown's slowest {kind}", seconds, "its hem flattened a hundred times", reference)


def page_answers() -> None:
    """The example served: what is back after a drop, the memory while nothing is asked, and what the browser shows.

    Over HTTP as a browser asks. What cannot be measured here is told with the reason.
    """
    taken = page_speed.drops()
    line("after a drop: the layout back", taken.layout, "laying out alone, nothing kept", taken.layout_alone)
    line("after a drop: the hoopings back", taken.hoopings, "laying out and dividing alone", taken.hoopings_alone)
    idle = page_speed.idle_memory()
    if isinstance(idle, str):
        print(f"    the server's idle memory is not measured: {idle}")
    else:
        print(f"{'the idle server and its helpers':58s}{idle.server + idle.helpers:8.0f} MB")
        print(f"    {idle.server:.0f} MB the server, {idle.helpers:.0f} MB the helpers (proportional share, PSS)")
    pictures = page_speed.first_picture()
    if isinstance(pictures, str):
        print(f"    the page in a browser is not measured: {pictures}")
        return
    line("the example in thread, first sketch", pictures.sketch, "a plain page of the same server", pictures.plain)
    line("the example in thread, painted by WebGL", pictures.whole, "a plain page of the same server", pictures.plain)
    found = page_frames()
    print(f"{found.stitches:,} stitches on the sheet, WebGL by {found.drawn_by}; frames:")
    for what, frames in found.frames.items():
        print(f"    {what:54s}{frames}")


if __name__ == "__main__":
    whole_example()
    dividing()
    formats()
    thickness_map()
    techniques()
    page_answers()
