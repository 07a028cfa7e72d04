"""One table, every technique, the same trials: straight, curved, closed, mirrored, wrong place, shortest."""

import pkgutil
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
import shapely

import festoon.techniques
from festoon.techniques import TECHNIQUES, ElementBase, technique_of

from .toy import patch, same, setting

TRIALS: dict[str, dict[str, dict]] = {
    "motif": {
        "straight": {"along": {"line": "hem", "spacing": 40}},
        "curved": {"along": {"line": "wave", "spacing": 40}},
        "cornered": {"along": {"line": "corner", "spacing": 40, "corners": True}},
        "closed": {"along": {"line": "round", "spacing": 40}},
        "mirrored": {"mirror": True, "pair": {"apart": 60}},
        "shortest": {"along": {"line": "shortest", "spacing": 40}},
    },
    "join": {
        "straight": {"path": "hem"},
        "curved": {"path": "wave", "taper": 20},
        "cornered": {"path": "corner", "stitch": "zigzag"},
        "closed": {"path": "round"},
        "mirrored": {"from": "leaf", "to": "bud", "leave": (10, 5)},
        "shortest": {"path": "shortest"},
    },
    "lace band": {
        "straight": {"along": "hem", "strips": 3, "up": 10},
        "curved": {"along": "wave", "width": 8, "lies": "middle", "butted": {"length": 1.2}},
        "cornered": {"along": "corner", "shape": "vees", "repeat": 60, "rise": 18, "width": 6, "centre": "point"},
        "closed": {"along": "round", "shape": "diamonds", "repeat": 60, "rise": 20, "width": 6, "each": True},
        "mirrored": {"along": "hem", "shape": "pointed ovals", "repeat": 60, "rise": 16, "width": 6, "behind": True},
        "shortest": {"along": "shortest", "shape": "scallops", "repeat": 1, "rise": 0.2, "width": 0.5},
    },
    "edging": {
        "straight": {"along": "hem", "fullness": 2.5, "piece": 300, "ends": "joined"},
        "curved": {"along": "wave", "up": 6, "lies": "above", "pull_thread": False},
        "cornered": {"along": "corner", "lies": "above", "at_points": 0, "sewn": {"stitch": "pin stitch", "rows": 2}},
        "closed": {"along": "round", "lies": "above", "at_curves": 1},
        "mirrored": {"along": "M 280 200 H 20", "begin": 12, "pattern": 15, "ends": "hemmed"},
        "shortest": {"along": "shortest", "fullness": 3},
    },
    "entredeux": {
        "straight": {"along": "hem", "upper": "rolled", "lower": "seam"},
        "curved": {"along": "wave", "up": 4, "lies": "above", "shrink": 0},
        "cornered": {"along": "corner", "lies": "below", "piece": 150},
        "closed": {"along": "round", "pattern": 5},
        "mirrored": {"along": "M 280 200 H 20", "begin": 12, "end": 3},
        "shortest": {"along": "shortest"},
    },
    "beading": {
        "straight": {"along": "hem", "ribbon": 7, "tail": 200},
        "curved": {"along": "wave", "lies": "above", "ribbon": 2},
        "cornered": {"along": "corner", "lies": "below", "ribbon": 20, "hole": 12},
        "closed": {"along": "round", "ease": 0.2},
        "mirrored": {"along": "M 280 200 H 20", "begin": 12, "end": 3},
        "shortest": {"along": "shortest"},
    },
    "puffing": {
        "straight": {"along": "hem", "lower": "M 280 240 H 10", "fullness": 3},
        "curved": {"along": "wave", "width": 45, "lies": "middle"},
        "cornered": {"along": "corner", "rows": 3, "apart": 4, "piece": 400},
        "closed": {"along": "round", "width": 40},
        "mirrored": {"along": "M 280 200 H 20", "begin": 12, "lies": "above"},
        "shortest": {"along": "shortest"},
    },
    "scalloped edge": {
        "straight": {"along": "hem", "up": 20, "at_points": 1.5},
        "curved": {"along": "wave", "up": 8, "centre": "round", "thread": "blue"},
        "cornered": {"along": "corner", "sewn": "sewing machine"},
        "closed": {"along": "round", "rounds": "above", "lap": 0},
        "mirrored": {"along": "hem", "rounds": "above", "begin": 10, "end": 30, "centre": "point"},
        "shortest": {"along": "shortest"},
    },
    "tucks": {
        "straight": {"sort": "pin", "count": 7, "first": 40, "sewn": 120},
        "curved": {"sort": "graduated", "run": "across", "count": 3, "middle": 150, "apart": 20, "press": "up"},
        "cornered": {"sort": "blind", "over": 95, "begin": 20, "press": "left"},
        "closed": {"sort": "wide", "reduce_by": 100, "depth": 25, "sewing": {"needle": "80", "length": 2.5}},
        "mirrored": {"mirrored": True, "about": "M 150 0 V 300", "first": 12, "press": "towards"},
        "shortest": {"sort": "twin needle", "count": 1, "first": 20, "sewn": 1},
    },
}
"""Words beyond kind, name and file that put a technique on trial; every technique stands every trial."""

FIRST = next(iter(TRIALS.values()))
STANDING = (patch("leaf", 80, 80, 30, mirrored=True), patch("bud", 200, 120))
CASES = [(kind, trial) for kind in TECHNIQUES for trial in FIRST]


def element(kind: str, trial: str) -> ElementBase:
    own = {"file": "motifs/f.vp3"} if "file" in TECHNIQUES[kind].model.model_fields else {}
    return TECHNIQUES[kind].model(kind=kind, name="it", **own, **TRIALS[kind][trial])


def fields(model: type, before: str = "") -> Iterator[str]:
    """Every field of a model, and of the tables inside it after a dot."""
    for name, field in model.model_fields.items():
        yield before + name
        for module, inner in re.findall(r"festoon\.techniques\.(\w+)\.(\w+)", str(field.annotation)):
            yield from fields(getattr(getattr(festoon.techniques, module), inner), f"{name}.")


def test_every_technique_is_on_trial():
    assert set(TRIALS) == set(TECHNIQUES)
    assert all(set(trials) == set(FIRST) for trials in TRIALS.values())


@pytest.mark.parametrize(("kind", "trial"), CASES)
def test_the_work_stands_on_its_panel_under_its_own_name(kind, trial):
    one, place = element(kind, trial), setting(*STANDING)
    done = technique_of(one).work(one, place)
    assert (done.element, done.panel) == ("it", "front")
    assert done.parts or done.areas or done.lines
    for part in done.parts:
        assert (part.element, part.panel) == ("it", "front")
        assert part.name == "it" or re.fullmatch(r"it-\d+", part.name)
        left, top, right, bottom = part.stitching.bounds
        assert 0 < left < right < 300
        assert 0 < top <= bottom < 300
        assert shapely.contains_xy(part.region.buffer(0.2), part.stitching.holes).all()
        assert {k for k, _ in part.outlines} == set(range(len(part.stitching.threads)))
    assert len({p.name for p in done.parts}) == len(done.parts)
    assert all(area.region.is_valid and not area.region.is_empty for area in done.areas)


@pytest.mark.parametrize(("kind", "trial"), CASES)
def test_the_work_is_pure(kind, trial):
    one, place = element(kind, trial), setting(*STANDING)
    words, parts = one.model_dump(), dict(place.parts)
    standing = [p.stitching.points.copy() for p in place.parts.values()]
    first, again = technique_of(one).work(one, place), technique_of(one).work(one, place)
    assert one.model_dump() == words
    assert dict(place.parts) == parts
    assert all((p.stitching.points == s).all() for p, s in zip(place.parts.values(), standing, strict=True))
    assert all(same(a.stitching, b.stitching) for a, b in zip(first.parts, again.parts, strict=True))
    assert all(a.region.equals_exact(b.region) for a, b in zip(first.parts, again.parts, strict=True))
    assert (first.findings, first.sentences, first.handles) == (again.findings, again.sentences, again.handles)
    assert (first.figures, first.supplies, first.steps) == (again.figures, again.supplies, again.steps)


@pytest.mark.parametrize(("kind", "trial"), CASES)
def test_the_steps_come_after_steps_of_their_own(kind, trial):
    one = element(kind, trial)
    steps = technique_of(one).work(one, setting(*STANDING)).steps
    names = [step.name for step in steps]
    assert len(set(names)) == len(names)
    for n, step in enumerate(steps):
        assert set(step.after) <= set(names[:n])


@pytest.mark.parametrize(("kind", "trial"), CASES)
def test_every_gap_and_handle_names_a_word_of_the_technique(kind, trial):
    one = element(kind, trial)
    done = technique_of(one).work(one, setting(*STANDING))
    known = set(fields(type(one)))
    for sentence in done.sentences:
        gaps = dict(sentence.gaps)
        assert set(re.findall(r"{(\w+)}", sentence.text)) == set(gaps)
        assert set(gaps.values()) <= known
    assert done.sentences
    assert {h.field.rstrip(".0123456789") for h in done.handles} <= known, "a place in a list is counted after a dot"


@pytest.mark.parametrize(("kind", "trial"), CASES)
def test_what_is_used_up_is_counted(kind, trial):
    one = element(kind, trial)
    supplies = technique_of(one).work(one, setting(*STANDING)).supplies
    assert all(s.quantity > 0 and s.reckoned and s.unit for s in supplies)


@pytest.mark.parametrize(("kind", "trial"), CASES)
def test_in_a_piece_in_inches_no_length_is_told_in_millimetres(kind, trial):
    one = element(kind, trial)
    done = technique_of(one).work(one, replace(setting(*STANDING), units="inch"))
    told = [
        *(w for f in done.findings for w in (f.where, f.reason, f.remedy, f.figure, f.limit)),
        *(m.told for f in done.findings for m in f.mends),
        *(w for f in done.figures for w in (f.what, f.value, f.reckoned)),
        *(w for s in done.supplies for w in (s.what, s.reckoned)),
        *(step.text for step in done.steps),
        *(caution.text for caution in done.cautions),
        *(w for t in done.templates for w in (t.title, *t.told)),
        *(line.label for line in done.lines),
    ]
    assert [w for w in told if re.search(r"\d ?(mm|cm)\b", w)] == []


def test_every_technique_has_a_test_file_of_its_name():
    here = Path(__file__).parent
    modules = [m.name for m in pkgutil.iter_modules(festoon.techniques.__path__)]
    with_technique = [m for m in modules if hasattr(getattr(festoon.techniques, m), "TECHNIQUE")]
    assert sorted(TECHNIQUES) == sorted(m.replace("_", " ") for m in with_technique)
    assert [m for m in modules if m != "base" and not (here / f"test_{m}.py").is_file()] == []
