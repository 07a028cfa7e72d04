"""Tucks told: figures, supplies, steps, cautions, sentences."""

from __future__ import annotations

from dataclasses import replace

import pytest

from festoon.measure import parse_thread
from festoon.techniques.tuck_plan import planned
from festoon.techniques.tuck_told import cautions, computed, figures, sentences, steps, supplies
from festoon.techniques.tuck_words import Tucks

from .toy import setting

HERE = setting(size=(400.0, 300.0))


def made(place=HERE, **words):
    tucks = Tucks(kind="tucks", name="front", **words)
    return tucks, planned(tucks, place)


def told(units="mm", place=HERE, **words) -> str:
    return " ".join(computed(*made(place, **words), units))


def values(units="mm", place=HERE, **words) -> dict[str, tuple[str, str]]:
    return {f.what.removeprefix("front: "): (f.value, f.reckoned) for f in figures(*made(place, **words), units)}


def test_the_cloth_to_cut_is_told_in_figures() -> None:
    # computed: 400 + 2 x 5 x 6 = 460; the span from the first stitching to the last 4 x 15
    of = values(count=5, first=40, gap=9)
    assert of["tucks"] == ("5 tucks", "computed")
    assert of["depth"] == ("6 mm", "computed")
    assert of["taken up"] == ("60 mm", "computed")
    assert of["cloth width before tucking, these alone"] == ("460 mm for 400 mm", "computed")
    assert of["first line"] == ("40 mm from the left edge", "computed")
    assert of["first stitching to last"] == ("60 mm", "computed")
    assert "freed where they end" not in of


def test_the_figures_of_other_sorts() -> None:
    graduated = values(sort="graduated", count=3, mirrored=True, sewn=100)
    assert graduated["tucks"] == ("Two mirrored groups of 3 tucks", "computed")
    assert graduated["depth"] == ("4 mm to 8 mm", "computed")
    assert graduated["between the groups"] == ("20 mm", "computed")
    assert graduated["freed where they end"] == ("72 mm", "computed")
    across = values("inch", run="across", count=2, depth="1/4 in")
    assert across["cloth height before tucking, these alone"][0] == "12 13/16 in for 11 13/16 in"
    assert across["first line"][0].endswith("in from the upper edge")


def test_measured_is_said_of_what_was_measured() -> None:
    words = {"sort": "twin needle", "count": 20}
    assert values(**words)["taken up"] == ("28 mm", "assumed 0.7 of the needles' distance")
    measured = replace(HERE, twin_take_up=0.55)
    assert values(place=measured, **words)["taken up"] == ("22 mm", "measured")
    assert "each row takes up 1.1 mm (measured)" in told(place=measured, **words)
    assert "depth" not in values(**words)


def test_sentences_say_what_was_computed() -> None:
    assert told(count=5, first=40) == (
        "5 tucks, 6 mm deep, with 9 mm between. They take up 60 mm. For these alone cut the cloth 460 mm wide before "
        "tucking; it comes to 400 mm. Press them to the right."
    )
    assert "They are released 120 mm from the upper edge, and free 60 mm there." in told(count=5, begin=20, sewn=100)
    assert "each on the next stitching" in told(sort="blind")
    assert "up to 2 mm over the next stitching" in told(gap=-2)
    assert "300 mm" in told(run="across")
    assert "Press them down." in told(run="across")
    assert "Press them away from the line between the groups." in told(mirrored=True)
    assert "Press" not in told(sort="twin needle")
    assert told(count=1).startswith("1 tuck, 6 mm deep.")


WORDS = set(Tucks.model_fields) - {"kind", "name", "panel", "sewing"}
SAID = {
    "spaced": {},
    "apart": {"apart": 20},
    "blind": {"sort": "blind", "reduce_by": 100},
    "graduated": {"sort": "graduated", "middle": 100},
    "twin": {"sort": "twin needle"},
    "mirrored": {"mirrored": True, "first": 12},
}


def test_every_word_has_a_gap_in_some_sentence_and_none_twice() -> None:
    gaps = set()
    for words in SAID.values():
        own = [field for s in sentences(*made(**words), "mm") for _, field in s.gaps]
        assert len(own) == len(set(own))
        gaps |= set(own)
    assert gaps == WORDS | {"sewing.length", "sewing.needle", "sewing.thread"}


def test_the_order_of_the_work() -> None:
    done = steps(*made(count=5, first=40, sewn=120), "mm")
    assert [s.name for s in done] == [f"{deed} front" for deed in ("mark", "fold", "stitch", "press", "check")]
    assert [s.after for s in done] == [(), *((s.name,) for s in done[:-1])]
    assert {s.stage for s in done} == {"tuck"}
    mark, _, stitch, press, check = (s.text for s in done)
    assert "cut the cloth 460 mm wide before tucking; it comes to 400 mm" in mark
    assert "the first line 40 mm from the left edge" in mark
    assert "6 mm from the fold, from the upper edge for 120 mm: straight stitch 2 mm long, needle 65/9" in stitch
    assert "Where a tuck is released" in stitch
    assert "all of them to the right" in press
    assert "From the first stitching to the last must be 60 mm" in check
    assert "it comes to 400 mm" in check
    assert "Where a tuck is released" not in steps(*made(count=5), "mm")[2].text


def test_a_twin_needle_is_turned_by_hand_first() -> None:
    done = steps(*made(sort="twin needle", count=5), "mm")
    assert [s.name for s in done] == ["mark front", "stitch front", "check front"]
    assert "Turn the wheel by hand" in done[1].text
    words = [c.text for c in cautions(made(sort="twin needle")[0])]
    assert any("Turn the wheel by hand first" in text for text in words)
    assert not any("wheel" in c.text for c in cautions(made()[0]))
    assert all(c.source for c in cautions(made()[0]))


def test_thread_for_the_rows() -> None:
    # computed: 2 (2.5 + 0.3) / 2.5 = 2.24 of thread to seam of lockstitch; 15 % waste; 200 mm of ends a row
    sewing = {"length": 2.5, "thread": "80 wt"}
    (thread,) = supplies(*made(count=5, sewing=sewing))
    assert thread.what == "sewing thread, 80 wt"
    assert thread.quantity == pytest.approx(5 * (300 * 2.24 * 1.15 + 200))
    assert thread.unit == "mm"
    assert made(sewing=sewing)[0].sewing.thread == parse_thread("80 wt")


def test_a_twin_needle_takes_two_threads_above_and_one_to_and_fro_below() -> None:
    # computed: needle 2 x 1.12; bobbin (√(2² + 2.5²) + 0.3) / 2.5 to a mm of seam
    thread, needle = supplies(*made(sort="twin needle", count=4, sewing={"length": 2.5, "needle": "80"}))
    bobbin = ((2**2 + 2.5**2) ** 0.5 + 0.3) / 2.5
    assert thread.quantity == pytest.approx(4 * (300 * (2.24 + bobbin) * 1.15 + 300))
    assert (needle.what, needle.quantity, needle.unit) == ("twin needle 2.0/80", 1.0, "pieces")
