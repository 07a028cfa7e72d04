"""What the worker lets be is marked and nothing else; it lapses where things get worse; it hides no 'will not work'."""

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.piece.model import Accepted
from festoon.proof.accepting import amount_told, key_of, unneeded_told, with_accepted
from festoon.proof.values import Proof
from festoon.proof.words import alike, sentence
from festoon.work import Amount, Finding
from festoon.work.findings import findings_json

NOTE = "The heart is meant to stand out."
THICK = Finding(
    "look again",
    "sprig-3 and stem-2 on front",
    "It goes stiff.",
    figure="3.2 layers of thread",
    limit="3",
    panel="front",
    at=(10.0, 20.0),
    elements=("sprig-3", "stem-2"),
    hooping=4,
    rule="too thick",
    amount=Amount(3.2, "layers"),
)
EDGE = Finding(
    "look again",
    "hooping 2",
    "It sews near the edge.",
    panel="front",
    hooping=2,
    rule="near the field's edge",
    about=("sprig-1", "stem/2"),
    amount=Amount(0.4, "mm", least=True),
)


def acceptance(finding=THICK, amount=None, note=NOTE):
    return Accepted(
        rule=finding.rule,
        panel=finding.panel,
        about=finding.concerns,
        amount=finding.amount.value if amount is None else amount,
        note=note,
    )


def proof(*findings):
    return Proof(findings, (), ())


def marked(finding, accepted, units="mm"):
    return with_accepted(proof(finding), [accepted], units).findings[0]


def bare(finding):
    return replace(finding, accepted="", lapsed="")


VERDICTS = st.sampled_from(["will not work", "look again", "sound"])
NAMES = st.sampled_from([("a",), ("a", "b"), ("b", "a"), ("sprig-1",), ()])
FINDINGS = st.builds(
    lambda verdict, rule, names, value, least: Finding(
        verdict, "there", "So it is.", panel="front", elements=names, rule=rule, amount=Amount(value, "mm", least)
    ),
    VERDICTS,
    st.sampled_from(["", "gap", "too thick"]),
    NAMES,
    st.integers(0, 5).map(float),
    st.booleans(),
)
ACCEPTED = st.builds(
    lambda rule, names, amount: Accepted(rule=rule, panel="front", about=names, amount=amount, note=NOTE),
    st.sampled_from(["gap", "too thick", "else"]),
    NAMES,
    st.integers(0, 5),
)


@given(st.lists(FINDINGS, max_size=8), st.lists(ACCEPTED, max_size=6))
def test_accepting_marks_and_changes_nothing_else(findings, accepted):
    before = proof(*findings)
    after = with_accepted(before, accepted, "mm")
    assert after.verdict == before.verdict
    assert sorted(map(repr, map(bare, after.findings))) == sorted(map(repr, findings))
    for f in after.findings:
        assert not (f.accepted and f.lapsed)
        if f.accepted:
            assert f.verdict == "look again"
            assert f.rule
            assert f.accepted == NOTE
    verdicts = [f.verdict for f in after.findings]
    assert verdicts == sorted(verdicts, key=["will not work", "look again", "sound"].index)
    looks = [bool(f.accepted) for f in after.findings if f.verdict == "look again"]
    assert looks == sorted(looks)


@given(st.lists(FINDINGS, max_size=8))
def test_without_acceptances_nothing_changes(findings):
    (after,) = [with_accepted(proof(*findings), [], "mm")]
    assert sorted(map(repr, after.findings)) == sorted(map(repr, findings))
    assert after.unneeded == ()


@given(FINDINGS, st.integers(0, 5))
def test_it_holds_exactly_where_it_is_no_worse_and_may_work(finding, amount):
    if key_of(finding) is None:
        return
    after = marked(finding, acceptance(finding, float(amount)))
    less = finding.amount.value >= amount if finding.amount.least else finding.amount.value <= amount
    assert bool(after.accepted) == (less and finding.verdict == "look again")
    assert bool(after.lapsed) == (not after.accepted)


def test_it_is_told_with_its_note():
    after = marked(THICK, acceptance())
    assert sentence((after,)).endswith(f"Accepted by you: {NOTE}")
    assert json.loads(findings_json([after]))[0]["accepted"] == NOTE


def test_better_stays_accepted_and_another_number_of_the_hooping_does_too():
    assert marked(replace(THICK, amount=Amount(3.1, "layers"), hooping=9, at=(99.0, 1.0)), acceptance()).accepted
    assert marked(replace(EDGE, hooping=7), acceptance(EDGE)).accepted


def test_it_lapses_where_the_figure_got_worse_and_says_so():
    worse = replace(THICK, amount=Amount(3.6, "layers"), figure="3.6 layers of thread")
    after = marked(worse, acceptance())
    assert not after.accepted
    assert after.lapsed == "You accepted 3.2 layers here; now it is 3.6."
    assert sentence((after,)).endswith("You accepted 3.2 layers here; now it is 3.6.")
    nearer = marked(replace(EDGE, amount=Amount(0.2, "mm", least=True)), acceptance(EDGE))
    assert nearer.lapsed == "You accepted 0.4 mm here; now it is 0.2 mm."
    inches = marked(replace(EDGE, amount=Amount(0.2, "mm", least=True)), acceptance(EDGE), "inch")
    assert inches.lapsed == "You accepted 0.016 in here; now it is 0.008 in."


def test_it_never_hides_what_will_not_work():
    stops = replace(THICK, verdict="will not work", amount=Amount(6.4, "layers"))
    after = marked(stops, acceptance())
    assert after.accepted == ""
    assert after.lapsed == "You accepted 3.2 layers here; now it is 6.4, and that will not work."
    stiffer_cloth = marked(replace(THICK, verdict="will not work"), acceptance())
    assert stiffer_cloth.accepted == ""
    assert stiffer_cloth.lapsed == "You accepted this once; as things are now it will not work."


@pytest.mark.parametrize(
    "other",
    [
        replace(THICK, rule="gap"),
        replace(THICK, panel="back"),
        replace(THICK, elements=("sprig-3",)),
        replace(THICK, rule=""),
    ],
)
def test_another_rule_panel_or_part_is_not_meant(other):
    after = with_accepted(proof(other), [acceptance()], "mm")
    assert after.findings == (other,)
    assert [a.note for a in after.unneeded] == [NOTE]
    (told,) = unneeded_told(after.unneeded)
    assert told == (
        f"Not needed now: you accepted “too thick” of sprig-3 and stem-2 on front ({NOTE}), and nothing of the kind is "
        "found there any more. It is kept in the piece file in case it comes back."
    )


def test_the_order_of_the_parts_is_all_the_same():
    turned = replace(THICK, elements=("stem-2", "sprig-3"))
    assert marked(turned, acceptance()).accepted


def test_accepted_ones_are_told_apart_from_their_like():
    accepted = marked(THICK, acceptance())
    lapsed = marked(replace(THICK, amount=Amount(3.6, "layers")), acceptance())
    assert len(alike([THICK, accepted, lapsed])) == 3


def test_counts_have_their_thousands():
    assert amount_told(Amount(1200, "stitches"), "mm") == "1,200 stitches"
