"""What the worker's own hoopings cost: computed from both divisions, and told."""

import pytest

from festoon.hooping import divide
from festoon.piece import Machine
from festoon.supplies import OwnSay, own_say, own_say_told
from tests.hooping.pieces import laid_out, motif

MACHINE = Machine(speed=600, change_minutes=1.5, hooping_minutes=8)


def test_without_a_say_nothing_is_told():
    division = divide(laid_out(motif("leaf", "20x20")))
    assert own_say(division, MACHINE) is None
    assert own_say_told(None, "mm") == ""


def test_a_hooping_more_costs_its_minutes_and_its_thread():
    """Red, blue, red in a row fit one field. The blue one held apart takes a hooping more: 8 minutes (arithmetic)."""
    row = [motif("a", "20x20", (170, 200)), motif("b", "20x20-blue", (200, 200)), motif("c", "20x20", (230, 200))]
    division = divide(laid_out(*row, laid=[{"holds": ["b"]}, {"holds": ["a"]}]))
    say = own_say(division, MACHINE)
    assert say is not None
    assert (say.kept, say.hoopings, say.changes) == (2, 1, 0)
    assert say.minutes == pytest.approx(8.0)
    assert division.free is not None
    assert say.worst == max(h.expected.mm for h in division.hoopings)
    assert say.worst_free == division.free.hoopings[0].expected.mm
    assert own_say_told(say, "mm").startswith("Your own say costs one hooping and about 8 minutes")


@pytest.mark.parametrize(
    ("say", "told"),
    [
        (OwnSay(1, 0, 0, 0.0, 0.9, 0.9), "Your own say costs nothing."),
        (
            OwnSay(1, 2, 1, 17.5, 0.9, 0.9),
            "Your own say costs two hoopings, one change of thread and about 18 minutes.",
        ),
        (OwnSay(1, 0, -1, -1.5, 0.9, 0.9), "Your own say saves one change of thread and about 2 minutes."),
        (
            OwnSay(1, 1, -1, 6.5, 0.81, 1.02),
            "Your own say costs one hooping and about 7 minutes, and saves one change of thread; the worst stitch is "
            "predicted within 0.9 mm of its place rather than 1.1 mm.",
        ),
    ],
)
def test_it_is_told_in_a_sentence(say, told):
    assert own_say_told(say, "mm") == told
