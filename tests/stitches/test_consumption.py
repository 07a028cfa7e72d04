"""The lockstitch's rectangle against the figures of textile calculation pages."""

import pytest

from festoon.stitches.consumption import sewn


@pytest.mark.parametrize(
    ("pitch", "thickness", "each"),
    [
        (2.54, 0.254, 2.20),  # a calculation page's example: 10 stitches/in, 0.01 in thick
        (2.5, 0.6, 2.48),  # computed
        (2.5, 0.4, 2.32),  # computed
        (1.5, 0.3, 2.40),  # computed
    ],
)
def test_thread_to_a_length_of_lockstitch(pitch, thickness, each):
    assert sewn(pitch, thickness) / pitch == pytest.approx(each, abs=0.005)
