"""What entredeux and beading have in common: shrinking, and curves that they cannot take."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.techniques import beading, entredeux
from festoon.techniques.beading import Beading
from festoon.techniques.entredeux import Entredeux
from festoon.techniques.openwork import bought, gentlest
from festoon.techniques.strip import Cut

from .toy import setting


def strip(**words):
    return Entredeux(**{"kind": "entredeux", "name": "it", "along": "hem", **words})


def tight(**words):
    found = entredeux.work(strip(**words), setting()).findings
    return {f.rule: f for f in found}.get("no drawing up on a curve")


def arc(radius):
    """A half circle, clockwise: what lies to its left lies outside."""
    return f"M 50 150 a {radius} {radius} 0 0 1 {2 * radius} 0"


@given(st.floats(0, 0.4), st.floats(10, 1000))
def test_what_is_bought_is_as_long_as_wanted_when_it_has_shrunk(shrink, length):
    assert bought(strip(shrink=shrink), Cut(1, length, False)) * (1 - shrink) == pytest.approx(length)


def test_the_gentlest_curve():
    # Computed: (R + w)/R of 1.05 at w 2.5 mm.
    assert gentlest(strip()) == pytest.approx(50)


@pytest.mark.parametrize("lies", ["above", "below", "middle"])
@pytest.mark.parametrize("path", [arc(45), "M 50 150 a 45 45 0 0 0 90 0"])
@pytest.mark.parametrize(("width", "ease", "limit"), [(3, 0.05, "60 mm"), (24, 0.3, "80 mm")])
def test_a_tight_curve_is_told_and_a_narrower_strip_takes_it(lies, path, width, ease, limit):
    words = {"along": path, "lies": lies, "width": width, "ease": ease}
    one = tight(**words)
    assert one.verdict == "will not work"
    assert one.limit == limit
    (mend,) = one.mends
    assert mend.word == "width"
    assert tight(**{**words, "width": mend.value}) is None
    assert tight(**{**words, "width": mend.value + 0.1}) is not None, "the widest that does"


def test_where_no_strip_is_so_narrow_none_is_offered():
    one = tight(along=arc(10))
    assert one.mends == ()
    assert one.remedy == "Smooth the line, or take lace with a thread to draw it up by."


def test_straight_lines_corners_and_gentle_curves_are_taken():
    for along in ("hem", "corner", arc(60)):
        assert tight(along=along) is None


def test_beading_has_the_same_limit():
    words = {"kind": "beading", "name": "it", "along": arc(100), "ribbon": 5}
    rules = [f.rule for f in beading.work(Beading(**words), setting()).findings]
    assert rules == ["no drawing up on a curve"]
    assert beading.work(Beading(**words, ease=0.2), setting()).findings == ()
