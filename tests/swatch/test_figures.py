"""From what the rule shows to what the cloth did."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import FestoonError
from festoon.registration import fit_rigid
from festoon.swatch import EXPECTED, figures, readings
from festoon.swatch.design import CROSSES
from festoon.swatch.figures import _LETTERS

SHARES = st.floats(-0.05, 0.0999)
SCALES = st.floats(0.97, 1.03)


def shrunk(along: float, across: float, level: float, upright: float) -> dict[str, float]:
    """The rule's figures for cloth stretched by two scales whose blocks then drew in about their middles."""
    found = {}
    for d in EXPECTED:
        drawn = {True: 1 - along, False: 1 - across, None: 1.0}[d.along]
        found[d.letter] = d.nominal * drawn * (level if d.level else upright)
    return found


@given(SHARES, SHARES, SCALES, SCALES)
def test_a_known_draw_in_is_found_again(along: float, across: float, level: float, upright: float) -> None:
    found = figures(shrunk(along, across, level, upright))
    assert found.along == pytest.approx(along, abs=1e-9)
    assert found.across == pytest.approx(across, abs=1e-9)
    assert found.placing is None
    assert found.cover is None


def test_worked_example() -> None:
    # computed: along (30·0.6 + 6·0.3)/(900 + 36) = 0.021154; across (30·0.15 + 60·0.3)/(900 + 3600) = 0.005
    found = figures(readings(["a=60 b=60 c=29.4 d=29,85", "e=59.7 mm", "f=5.7", "p=0.3 q=0.4 r=0 s=0.5 t=0.45"]))
    assert found.along == pytest.approx(0.021154, abs=1e-6)
    assert found.across == pytest.approx(0.005)
    # computed: √((0.09 + 0.16 + 0 + 0.25)/4) = 0.353553; over √(5/8) it is 0.447214
    assert found.placing == pytest.approx(0.447214, abs=1e-6)
    assert found.cover == 0.45


def test_the_placing_counts_what_lining_up_hides() -> None:
    """Simulated: crosses err by 0.6 mm rms, the hoop is laid to them by least squares."""
    rng = np.random.default_rng(7)
    nominal, squares = np.array(CROSSES), []
    for _ in range(400):
        drawn = nominal + rng.normal(0, 0.6 / math.sqrt(2), (4, 2))
        left = np.hypot(*(fit_rigid(nominal, drawn).pose.apply(nominal) - drawn).T)
        squares.append(figures(dict(zip("pqrs", left.tolist(), strict=True))).placing ** 2)
    assert math.sqrt(np.mean(squares)) == pytest.approx(0.6, rel=0.05)


@given(st.floats(0, 0.999), st.floats(1, 6))
def test_a_known_take_up_of_a_twin_needle_is_found_again(share: float, needles: float) -> None:
    # computed: ten rows take up ten times that share of the needles' distance
    found = figures({"u": 100 - 10 * share * needles, "v": needles})
    assert found.twin == pytest.approx(share, abs=1e-6)
    assert found.along is None


def test_ten_twin_needle_rows() -> None:
    # computed: 100 - 86 = 14 mm in ten rows are 1.4 mm each, 0.7 of 2 mm
    assert figures(readings(["u=86 v=2"])).twin == pytest.approx(0.7)


def test_inches_and_one_set_alone() -> None:
    assert readings(["f = 1/4 in", "P=0"]) == {"f": pytest.approx(6.35), "p": 0.0}
    assert figures({"t": 0.5}).cover == 0.5
    assert figures({"t": 0.5}).along is None


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "nothing was measured"),
        (["a"], '"a" is no measurement'),
        (["a=-3"], "less than nothing"),
        (["a=0"], "cannot measure 0 mm"),
        (["c=60.1"], "cannot measure 60.1 mm; it was sewn 30 mm long"),
        (["k=3"], 'there is no "k" on the swatch'),
        (["a=59", "a=60"], "given twice"),
        (["a=wide"], "measured a"),
        (["p=5.1"], "slipped"),
        (["t=5"], "no spacing of satin"),
        (["a=60 b=60 c=30 d=30 e=60"], "f is missing"),
        (["p=0.1", "q=0.2"], "r and s are missing"),
        (["a=60 b=60 c=25 d=30 e=60 f=6"], "beyond belief"),
        (["u=86"], "v is missing"),
        (["u=101 v=2"], "101 mm is not left of 100 mm"),
        (["u=86 v=80"], "no twin needle has its needles 80 mm apart"),
        (["u=70 v=2"], "cannot take up 30 mm"),
    ],
)
def test_impossible_figures_are_told_in_a_sentence(words: list[str], told: str) -> None:
    with pytest.raises(FestoonError) as refused:
        figures(readings(words))
    assert told in str(refused.value)
    assert str(refused.value).endswith((".", "?"))


@given(st.lists(st.sampled_from([*_LETTERS, "z", ""]).flatmap(lambda k: st.text(max_size=8).map(f"{k}=".__add__))))
def test_any_words_give_figures_or_a_sentence(words: list[str]) -> None:
    try:
        found = figures(readings(words))
    except FestoonError:
        return
    assert found.along is None or found.along <= 0.1
