"""Curvature: above 0 to the right, against a handbook's formulas and against the turning of the tangent."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from festoon.plane import Arc, Bezier, Line, from_svg

spots = st.tuples(st.floats(-80, 80), st.floats(-80, 80))


def test_lines_and_arcs():
    assert Line((0, 0), (30, 40)).curvature([0, 0.5]).tolist() == [0, 0]
    assert Arc((3, 4), 25, 10, 90).curvature([0, 1]).tolist() == [0.04, 0.04]
    assert Arc((3, 4), 25, 10, -90).curvature(0.3) == -0.04


def test_the_ends_of_an_ellipses_axes():
    """b/a² at the ends of the short axis, a/b² at those of the long one (any handbook of geometry)."""
    quarter = from_svg("M -120 0 A 120 80 0 0 1 0 -80").segments
    assert quarter[0].curvature(0.0) == pytest.approx(120 / 80**2, rel=1e-3)
    assert quarter[-1].curvature(1.0) == pytest.approx(80 / 120**2, rel=1e-3)


@given(spots, spots, spots, spots, st.floats(0.02, 0.98))
def test_curvature_is_the_tangents_turning_by_length(p0, p1, p2, p3, t):
    curve = Bezier(p0, p1, p2, p3)
    h = 1e-4
    around = np.array([t - h, t + h])
    assume(np.hypot(*curve.derivative(np.linspace(0, 1, 101)).T).min() > 20)
    a, b = curve.tangent(around)
    length = math.hypot(*curve.derivative(t)) * 2 * h
    turned = math.atan2(a[0] * b[1] - a[1] * b[0], a @ b)
    assert float(curve.curvature(t)) == pytest.approx(turned / length, rel=1e-3, abs=1e-6)
