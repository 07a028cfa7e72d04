"""The figures go into the bench file and leave all else in it alone."""

from __future__ import annotations

import tomllib
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.piece import Bench
from festoon.piece.bench import Measured
from festoon.swatch.bench import changes, rewritten
from festoon.swatch.figures import Figures

STARTER = (files("festoon.piece") / "starter" / "bench.toml").read_text("utf-8")

HOOP = "[[hoop]]\nfield = [100, 100]  # small\n"
BEFORE = ["", "# my bench\n\n", "[needle]\nsize = '75/11'\n", f"{HOOP}\n"]
HEADS = ["[measured]\n", "[measured] # by hand\n# a remark\n", "[measured]\n\n"]
WORDS = {
    "marking": 'marking = "0.5 mm"   # last summer\n',
    "reading": "reading=0.4\n",
    "cloth": "cloth = 'lawn'\n",
    "drawn_along": "drawn_along = 1e-2\n",
}
AFTER = ["", "\n# the hoops\n", "\n\n", f"\n# the hoops\n{HOOP}", HOOP]
VALUES = st.fixed_dictionaries(
    {},
    optional={
        "marking": st.floats(0, 5).map(lambda v: round(v, 3)),
        "drawn_along": st.floats(0, 0.1).map(lambda v: round(v, 4)),
        "drawn_across": st.floats(0, 0.1).map(lambda v: round(v, 4)),
        "cover": st.floats(0.1, 2).map(lambda v: round(v, 3)),
        "cloth": st.text(st.characters(codec="utf-8"), min_size=1, max_size=12),
        "stabiliser": st.sampled_from(["tear-away", 'a "strong" one # two layers']),
    },
)


@st.composite
def bench_files(draw: st.DrawFn) -> str:
    words = draw(st.lists(st.sampled_from(sorted(WORDS)), unique=True))
    table = draw(st.sampled_from(HEADS)) + "".join(WORDS[w] for w in words)
    text = draw(st.sampled_from(BEFORE)) + draw(st.sampled_from([table, ""])) + draw(st.sampled_from(AFTER))
    text = draw(st.sampled_from([text, text.rstrip("\n")]))
    return draw(st.sampled_from([text, text.replace("\n", "\r\n")]))


@given(bench_files(), VALUES)
def test_every_other_line_is_kept_in_its_order(text: str, values: dict[str, float | str]) -> None:
    new = rewritten(text, values)
    before, after = tomllib.loads(text), tomllib.loads(new)
    if values:
        before["measured"] = {**before.get("measured", {}), **values}
    assert after == before
    old_lines, new_lines = text.split("\n"), new.split("\n")
    said = [line for line in old_lines if line.split("=")[0].strip() not in values]
    left = iter(new_lines)
    assert all(line.removesuffix("\r") in (found.removesuffix("\r") for found in left) for line in said)
    started = ["[measured]", ""] if "[measured]" not in text else []
    added = len(new_lines) - len(old_lines)
    assert added <= len([w for w in values if f"\n{w}" not in text]) + len(started) + (not text.endswith("\n"))
    assert ("\r\n" in text) == ("\r\n" in new) or "\n" not in text
    remarks = [line.partition("#")[2] for line in old_lines if "#" in line]
    assert all(any(remark in line for line in new_lines) for remark in remarks)


@given(bench_files(), VALUES)
def test_writing_twice_changes_nothing_more(text: str, values: dict[str, float | str]) -> None:
    once = rewritten(text, values)
    assert rewritten(once, values) == once


def test_a_word_keeps_its_place_and_its_remark() -> None:
    text = "[measured]\nmarking = 0.5   # last summer\n\n# the hoops\n[[hoop]]\nfield = [100, 100]\n"
    assert rewritten(text, {"marking": 0.43, "drawn_along": 0.013}) == (
        "[measured]\nmarking = 0.43   # last summer\ndrawn_along = 0.013\n\n# the hoops\n[[hoop]]\nfield = [100, 100]\n"
    )


def test_a_table_is_begun_where_there_is_none() -> None:
    assert rewritten("[[hoop]]\nfield = [9, 9]", {"cloth": "linen"}) == (
        '[[hoop]]\nfield = [9, 9]\n\n[measured]\ncloth = "linen"\n'
    )


def test_the_starter_bench_only_gains_lines_at_its_end() -> None:
    new = rewritten(STARTER, {"drawn_along": 0.013, "cloth": "natural linen"})
    assert new == STARTER + 'drawn_along = 0.013\ncloth = "natural linen"\n'
    bench = Bench.model_validate(tomllib.loads(new))
    assert (bench.measured.drawn_along, bench.measured.cloth) == (0.013, "natural linen")


def test_hoops_apart_stay_apart_and_a_mark_of_byte_order_stays_first() -> None:
    text = "\ufeff[[hoop]]\nfield = [9, 9]\n[measured]\n[[hoop]]\nfield = [8, 8]\n"
    assert rewritten(text, {"cover": 0.45}) == text.replace("[measured]\n", "[measured]\ncover = 0.45\n")


@pytest.mark.parametrize(
    "text",
    [
        "measured = { marking = 0.4 } # in one\n[[hoop]]\nfield = [9, 9]\n",
        "measured.marking = 0.4\nhoop = [{ field = [9, 9] }]\n",
    ],
)
def test_other_ways_to_write_a_table_serve_as_well(text: str) -> None:
    new = rewritten(text, {"marking": 0.3, "cover": 0.45})
    assert tomllib.loads(new)["measured"] == {"marking": 0.3, "cover": 0.45}
    assert new.splitlines()[-1] == text.splitlines()[-1]


def test_changes_say_what_they_replace() -> None:
    figures = Figures(along=0.0131, across=-0.004, placing=0.7, cover=0.45)
    before = Measured(reading=0.3, cloth="lawn", cover=0.4)
    told = changes(figures, before, "natural linen", "tear-away")
    assert {c.word: c.value for c in told} == {
        "drawn_along": 0.0131,
        "drawn_across": 0.0,
        "marking": 0.6,  # computed: √(0.49 - 0.09 - 0.04)
        "cover": 0.45,
        "cloth": "natural linen",
        "stabiliser": "tear-away",
    }
    assert [c.told for c in told] == [
        "drawn in along the stitches: 1.3 % (1 % was assumed)",
        "drawn in across the stitches: 0 % (0.3 % was assumed); it spread by 0.4 %, which is written as 0",
        "drawing a cross: 0.6 mm (0.5 mm was assumed), the part of 0.7 mm in all that setting the needle and the "
        "hoop's seat do not explain",
        "widest spacing that covers: 0.45 mm (0.4 mm was measured before)",
        "cloth that the figures hold for: natural linen (in place of lawn)",
        "stabiliser that the figures hold for: tear-away",
    ]


def test_the_twin_needle_s_take_up_says_what_it_replaces() -> None:
    (change,) = changes(Figures(twin=0.6254), Measured())
    assert (change.word, change.value) == ("twin_take_up", 0.625)
    assert change.told == "taken up by a row of the twin needle: 62.5 % of the needles' distance (70 % was assumed)"
    (again,) = changes(Figures(twin=0.7), Measured(twin_take_up=0.625))
    assert again.told.endswith("(62.5 % was measured before)")


def test_a_spread_smaller_than_reading_and_seat_leaves_nothing_to_the_drawing() -> None:
    (change,) = changes(Figures(placing=0.2), Measured())
    assert (change.word, change.value) == ("marking", 0.0)
