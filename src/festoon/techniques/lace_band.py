"""Lace band: a strip of lace with two headings, shaped along a line by arithmetic and traced at true size."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely

from festoon.plane import Path, Pose
from festoon.shaping.set_out import SetOut
from festoon.techniques.base import Ask, Beginning, Setting, Technique
from festoon.techniques.course import Course, course_of, needs
from festoon.techniques.fastening import told
from festoon.techniques.lace_faults import Laid, findings
from festoon.techniques.lace_figures import computed, figures, sorts, supplies
from festoon.techniques.lace_shapes import Strip, drawings, height, middles, repeats, strips, without_behind
from festoon.techniques.lace_sheet import FINE, alike, chain, headings, point_pins, repeated, whole
from festoon.techniques.lace_told import Made, cautions, sentences, steps
from festoon.techniques.lace_words import PAIRED, LaceBand
from festoon.work.values import Area, Handle, Line, Template, Work

SMOOTHED = 0.05
"""mm by which the line to cut along behind the lace may be straightened (ours)."""

TRIM = 2.0
"""mm from the headings to where the cloth is cut away behind, or a quarter of narrower lace. Common practice: close to
the stitching."""


def work(words: LaceBand, setting: Setting) -> Work:
    """The lace where it lies, its lines and pins, the template to shape it on, what it takes, and what is amiss."""
    course = course_of(words, setting)
    out = repeats(words, course)
    made = strips(words, drawings(words, course, out.places if out else ()))
    traced = _templates(words, course, out, made)
    state = Made(
        curved=any(s.longer != "equal" for strip in made for s in strip.laid.stretches),
        mitres=sum(len(strip.laid.mitres) for strip in made),
        pieces=len({strip.name for strip in made if not strip.behind}),
        pins=sum(t.times * len(t.pins) for t in traced),
        behind=any(strip.behind for strip in made),
    )
    return Work(
        element=words.name,
        panel=setting.panel,
        lines=_lines(words, course, made),
        areas=tuple(Area("lace", strip.region, _called(strip)) for strip in made),
        pins=tuple(pin for strip in made if not strip.behind for pin in point_pins(strip)),
        templates=traced if state.traced else (),
        named=_named(words, made),
        closes=course.closes,
        places=middles(words, out),
        handles=_handles(words, course, out),
        figures=tuple(figures(words, out, made, state, setting.units)),
        supplies=tuple(supplies(words, out, made, traced if state.traced else (), setting.units)),
        steps=steps(words, state, told(words.sewn, setting.units), told(words.butted, setting.units), setting.units),
        cautions=cautions(state),
        findings=findings(Laid(words, course, out, made, tuple(strip for strip, _ in sorts(made)), setting)),
        sentences=sentences(words, computed(words, out, made, setting.units)),
    )


def _called(strip: Strip) -> str:
    return strip.name if strip.of == 1 else f"{strip.name}, strip {strip.number}"


def _named(words: LaceBand, made: tuple[Strip, ...]) -> dict[str, Path]:
    """The lines that others may follow: the band's lower and upper edge, or of closed pieces the outer of each."""
    shaped = [s for s in made if not s.behind]
    if words.closed_pieces:
        return {s.name: s.course for s in shaped if s.innermost}
    if words.shape in PAIRED:
        return {s.name.split()[0]: s.over for s in shaped if s.outermost}
    ends = (shaped[0].course, shaped[-1].over)
    lower, upper = ends if shaped[0].laid.side == "left" else ends[::-1]
    return {"lower": lower, "upper": upper}


def _lines(words: LaceBand, course: Course, made: tuple[Strip, ...]) -> tuple[Line, ...]:
    shaped = [s for s in made if not s.behind]
    lace = shapely.simplify(shapely.union_all([s.region for s in made]), SMOOTHED, preserve_topology=False)
    inside = shapely.get_parts(shapely.buffer(shapely.buffer(lace, FINE), -min(TRIM, words.total / 4) - FINE))
    rings = [r for part in inside if not part.is_empty for r in (part.exterior, *part.interiors)]
    return (
        Line("placement", course.path.flatten(FINE), course.path.closed, words.name),
        *(line for strip in shaped for line in headings(strip)),
        *(Line("trim", np.array(r.coords)[:-1], True, "cut the cloth behind") for r in rings),
    )


def _templates(words: LaceBand, course: Course, out: SetOut | None, made: tuple[Strip, ...]) -> tuple[Template, ...]:
    """The drawing for the stabiliser: of as many whole repeats as fit a sheet, of one closed piece, or of all of it."""
    shaped = [s for s in made if not s.behind]
    how = ("Trace both headings and the folds on stabiliser.", "Pin the longer heading on its line; draw up the other.")
    if out is None or not alike(out):
        return (whole(words.name, how, shaped, words.pins),)
    high = height(words, out.places[0]) * (2 if words.closed_pieces or words.shape in PAIRED else 1)
    drawn = chain(out, high + (0 if words.closed_pieces else 4 * words.total))
    if words.closed_pieces:
        one = strips(words, without_behind(words, replace(drawn, count=1).places()))
        each = "Each is a piece of its own; leave room between them."
        return (whole(f"{words.name}, one of {out.count}", (*how, each), one, words.pins, out.count),)
    run = strips(words, without_behind(words, drawn.places(beside=1)))
    title = f"{words.name}, {'one repeat' if drawn.count == 1 else f'{drawn.count} repeats'} of {out.count}"
    on = ("Pins on the last match line belong to the repeat that begins there.",)
    return (repeated(title, (*how, *on), drawn, run, words.pins),)


def _handles(words: LaceBand, course: Course, out: SetOut | None) -> tuple[Handle, ...]:
    """How far up it lies; and at the middle repeat its rise, at the first its length."""
    s = course.path.length / 4
    (x, y), (tx, ty) = course.path.at(s).tolist(), course.path.tangents([s])[0].tolist()
    up = Handle("distance up", (x, y), "up", along=(ty, -tx))
    if out is None:
        return (up,)
    first, middle = out.places[0], out.places[out.count // 2]
    ahead = Pose(turn=first.pose.turn).apply([1.0, 0.0]).tolist()
    ex, ey = first.pose.apply([first.chord / 2, 0.0]).tolist()
    length = Handle("length of a repeat", (ex, ey), "repeat", along=(ahead[0], ahead[1]))
    if words.shape in ("squares", "rings"):
        return up, length
    above = words.closed_pieces or words.shape in PAIRED or words.rounds == "above"
    sign = -1.0 if above else 1.0
    rx, ry = middle.pose.apply([0.0, sign * words.rise]).tolist()
    ox, oy = Pose(turn=middle.pose.turn).apply([0.0, sign]).tolist()
    return up, length, Handle("rise", (rx, ry), "rise", along=(ox, oy))


BEGINNINGS = (
    Beginning(
        told="a band of lace",
        sentence="A strip of lace along a line, its inside heading drawn up on curves, its corners mitred.",
        asks=(Ask("along", "Which line does it follow?"),),
        example={"along": "M 6 30 H 30 C 48 30 50 14 74 14", "width": 7},
    ),
    Beginning(
        told="scallops of lace",
        sentence="Lace in whole scallops along a line, mitred in the points between them.",
        asks=(Ask("along", "Which line do the points lie on?"),),
        words={"shape": "scallops", "repeat": 100, "rise": 25},
        example={"along": "M 4 18 H 76", "shape": "scallops", "repeat": 36, "rise": 9, "width": 6},
    ),
    Beginning(
        told="pointed ovals of lace",
        sentence="Two bands of lace that mirror each other, meeting in points: ovals, with room for a motif in each.",
        asks=(Ask("along", "Which line do the points lie on?"),),
        words={"shape": "pointed ovals", "repeat": 120, "rise": 30, "centre": "round"},
        example={"along": "M 4 20 H 76", "shape": "pointed ovals", "repeat": 36, "rise": 9, "width": 5},
    ),
    Beginning(
        told="a V of lace",
        sentence="Lace in V's along a line, mitred at every point.",
        asks=(Ask("along", "Which line do the V's stand on?"),),
        words={"shape": "vees", "repeat": 80, "rise": 40},
        example={"along": "M 10 10 H 70", "shape": "vees", "repeat": 60, "rise": 22, "width": 6},
    ),
    Beginning(
        told="diamonds of lace",
        sentence="Closed diamonds of mitred lace in a row along a line.",
        asks=(Ask("along", "Which line runs through their middles?"),),
        words={"shape": "diamonds", "repeat": 80, "rise": 50, "each": True},
        example={"along": "M 4 20 H 76", "shape": "diamonds", "repeat": 36, "rise": 17, "width": 5, "each": True},
    ),
    Beginning(
        told="loops of lace",
        sentence="Lace that runs in loops along a line and crosses itself below each of them.",
        asks=(Ask("along", "Which line do the loops stand on?"),),
        words={"shape": "loops", "repeat": 140, "rise": 110, "across": 84, "rounds": "above"},
        example={
            "along": "M 4 36 H 76",
            "shape": "loops",
            "repeat": 36,
            "rise": 28,
            "across": 20,
            "rounds": "above",
            "width": 4,
            "gather": 2,
        },
    ),
)

TECHNIQUE = Technique(
    kind="lace band", model=LaceBand, needs=needs, work=work, told="a band of lace", begins=BEGINNINGS
)
