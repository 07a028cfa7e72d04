"""Repeats fitted to a length."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import PieceError
from festoon.plane import fit_repeats


@pytest.mark.parametrize(
    ("length", "nominal", "count", "pitch"),
    [
        (1120, 80, 14, 80.0),  # pattern course page: hem 112 cm, width about 8 cm; published, recomputed
        (42, 3.875, 11, 3.818),  # sewing tutorial, inches; its printed 3 7/8 misses closing: computed
        (2286, 60, 38, 60.158),  # computed
        (2100, 65, 32, 65.625),  # computed
    ],
)
def test_hems(length, nominal, count, pitch):
    fitted = fit_repeats(length, nominal)
    assert fitted.count == count
    assert fitted.pitch == pytest.approx(pitch, abs=5e-4)


@pytest.mark.parametrize(("length", "nominal", "percent"), [(2286, 60, 0.26), (2100, 65, 0.96)])
def test_stretch(length, nominal, percent):
    assert 100 * fit_repeats(length, nominal).stretch == pytest.approx(percent, abs=5e-3)


@pytest.mark.parametrize(
    ("length", "parity", "count"),
    [
        (96, "odd", 9),
        (96, "even", 10),
        (104, "odd", 11),
        (3, "odd", 1),
        (3, "even", 2),
        (3, "any", 1),
        (100, "odd", 11),
    ],
)
def test_parity_takes_the_nearest(length, parity, count):
    assert fit_repeats(length, 10, parity).count == count


sizes = st.floats(0.5, 5000)


@given(sizes, sizes, st.sampled_from(["any", "odd", "even"]), st.booleans())
def test_repeats_close(length, nominal, parity, closed):
    r = fit_repeats(length, nominal, parity, closed)
    assert r.count * r.pitch == pytest.approx(length, rel=1e-12)
    assert r.pitch == pytest.approx(nominal * (1 + r.stretch), rel=1e-9)
    assert parity == "any" or r.count % 2 == (parity == "odd")
    allowed = 0.5 if parity == "any" else 1.0
    assert abs(r.count - length / nominal) <= allowed + 1e-6 or r.count == (2 if parity == "even" else 1)
    assert len(r.marks) == r.count + (not closed)
    assert r.marks[-1] + closed * r.pitch == pytest.approx(length)


@pytest.mark.parametrize(("length", "nominal"), [(0, 5), (-3, 5), (5, 0), (5, -1), (math.nan, 5), (5, math.inf)])
def test_mistakes_are_told(length, nominal):
    with pytest.raises(PieceError):
        fit_repeats(length, nominal)
