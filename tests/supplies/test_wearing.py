"""Cautions for babies' and children's clothes: who gets which, by which figures, and where local rules are named."""

import pytest
from shapely import box

from festoon.layout import Layout
from festoon.make import planned, proved
from festoon.piece import read_piece
from festoon.piece.start import new_piece
from festoon.steps import steps_of
from festoon.supplies import count, wearing_cautions
from festoon.supplies.minutes import minutes
from festoon.supplies.wearing import cautions_for
from festoon.work import Work
from festoon.work.values import Area, Supply
from tests.hooping.pieces import piece

ALL = ("Cords and ribbons", "Small parts", "Ribbon roses", "Pins", "Skin side", "Sleep", "Candles")


def heads(*words, **ribbon):
    return [c.text.partition(":")[0] for c in cautions_for(*words, **{"has_ribbon": False, **ribbon})]


def test_an_infants_clothes_have_all_of_them():
    assert [any(head.startswith(one) for head in heads("infant")) for one in ALL] == [True] * len(ALL)
    assert len(heads("infant")) == len(ALL)


def test_a_childs_have_those_that_hold_up_to_14():
    """16 CFR 1501 is for children under 3; EN 14682 and 16 CFR 1615/1616 go on to 14."""
    assert not any(head.startswith(("Small parts", "Skin side")) for head in heads("child"))
    assert heads("child")[0].startswith("Cords and ribbons")
    assert any(head.startswith("Ribbon roses") for head in heads("child", has_ribbon=True))


def test_a_grown_persons_have_none_and_unsaid_has_that_on_cords_where_there_is_ribbon():
    assert heads("grown", has_ribbon=True) == []
    assert heads(None) == []
    assert heads(None, has_ribbon=True) == ["Cords and ribbons on clothes for children"]


@pytest.mark.parametrize(
    ("head", "figures", "source"),
    [
        ("Cords", ("140 mm", "280 mm", "75 mm", "7 years", "134 cm", "ceremony"), "EN 14682:2014"),
        ("Small parts", ("31.7 mm", "25.4 mm", "57.1 mm", "50 N", "90 N", "3 years"), "16 CFR 1501.4"),
        ("Sleep", ("648 mm", "9 months"), "16 CFR 1615"),
        ("Candles", ("88.2 g/m²",), "16 CFR 1610"),
        ("Skin side", ("soft mesh",), "a stabiliser page"),
    ],
)
def test_each_says_its_figures_and_its_source(head, figures, source):
    """Figures as the standards' scopes, summaries and texts give them (published in part, in part from memory)."""
    told = next(c for c in cautions_for("infant", has_ribbon=True) if c.text.startswith(head))
    assert [figure for figure in figures if figure not in told.text] == []
    assert source in told.source


def test_whatever_rests_on_a_law_defers_to_the_local_one():
    for caution in cautions_for("infant", has_ribbon=True):
        ruled = "CFR" in caution.source or "EN " in caution.source
        assert ruled == ("come first" in caution.text)


def test_lengths_are_told_in_the_pieces_units():
    told = " ".join(c.text for c in cautions_for("infant", has_ribbon=True, units="inch"))
    assert "1 1/4 in across" in told
    assert "5 1/2 in with the garment open" in told
    assert " mm " not in told.replace("over 6 mm", "")


def laid(*works, **about):
    one = piece()
    file = one.file.model_copy(update={"piece": one.file.piece.model_copy(update=about)})
    return Layout(type(one)(one.folder, file, one.bench, one.lines), works)


@pytest.mark.parametrize(
    ("work", "told"),
    [
        (Work("it", "front", areas=(Area("ribbon", box(0, 0, 9, 9)),)), 1),
        (Work("it", "front", supplies=(Supply("ribbon, 7 mm", 300, "mm", "computed"),)), 1),
        (Work("it", "front", areas=(Area("lace", box(0, 0, 9, 9)),)), 0),
    ],
)
def test_ribbon_is_known_by_what_is_laid_or_bought(work, told):
    assert len(wearing_cautions(laid(work))) == told
    assert wearing_cautions(laid(work, wearer="grown")) == ()
    assert len(wearing_cautions(laid(work, wearer="infant"))) == len(ALL)


def test_they_stand_with_what_is_bought_and_with_the_first_hoopings_steps(tmp_path):
    new_piece(tmp_path / "gown")
    file = tmp_path / "gown" / "piece.toml"
    file.write_text(file.read_text("utf-8").replace("[piece]\n", '[piece]\nwearer = "infant"\n', 1), "utf-8")
    made = planned(proved(read_piece(tmp_path / "gown")))
    wearing = wearing_cautions(made.layout)
    assert made.supplies.cautions[-len(ALL) :] == wearing
    assert count(made.division, made.layout.piece.bench).cautions + wearing == made.supplies.cautions
    each = minutes([(h.number, h.stitching) for h in made.division.hoopings], made.layout.piece.bench.machine)
    files = {h.number: "file" for h in made.division.hoopings}
    steps = steps_of(made.division, each, made.layout.piece.bench, "mm", files, wearing=wearing)
    assert steps[1][0].cautions[-len(ALL) :] == wearing
    assert not any(c in wearing for number in steps if number > 1 for s in steps[number] for c in s.cautions)
