"""Cloth that the hoop does not hold: told with the side, how far, and what to do."""

import pytest

from festoon.hooping import divide
from festoon.proof import prove
from festoon.proof.held import held_findings
from festoon.proof.words import alike, sentence
from tests.hooping.pieces import laid_out, motif


def found(*elements, **words):
    layout = laid_out(*elements, **words)
    return held_findings(divide(layout), layout)


def test_a_hoop_on_the_cloth_is_let_pass():
    assert found(motif("leaf", "20x20")) == ()


def test_a_hoop_past_one_edge():
    """The field reaches 5 mm from the edge and the hoop 20 mm beyond the field: 15 mm hang over (computed)."""
    (told,) = found(motif("leaf", "20x20", at=(15, 200)))
    assert (told.verdict, told.figure, told.limit) == ("look again", "15 mm past the edge", "0 mm")
    assert (told.panel, told.hooping, told.where) == ("front", 1, "hooping 1 on front")
    assert told.at == (0.0, 200.0)
    assert told.remedy.startswith("At the left hoop the stabiliser alone, and float the cloth on it")


def test_a_hoop_past_a_corner_in_inches():
    (told,) = found(motif("leaf", "20x20", at=(385, 385)), units="inch")
    assert told.at == (400.0, 400.0)
    assert "At the right and bottom" in told.remedy
    assert (told.figure, told.limit) == ("0.591 in past the edge", "0 in")


@pytest.fixture
def three():
    return [motif(f"leaf {y}", "20x20", at=(x, y)) for x, y in ((15, 80), (12, 200), (15, 320))]


def test_the_worst_first_and_like_ones_in_one_sentence(three):
    findings = found(*three)
    assert [f.figure.split()[0] for f in findings] == ["18", "15", "15"]
    (group,) = alike(findings)
    assert "The same at two more places: hooping " in sentence(group)


def test_the_proof_tells_it(three):
    layout = laid_out(*three)
    proof = prove(layout, divide(layout))
    assert proof.verdict == "look again"
    assert [f for f in proof.findings if f.limit == "0 mm"]
