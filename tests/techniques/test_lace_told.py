"""A lace band told: steps in order, cautions, sentences."""

from dataclasses import replace

import pytest

from festoon.techniques.lace_band import work

from .lace_toy import BIG, HEM, lace, on
from .toy import setting


@pytest.mark.parametrize(
    "shape", ["along", "scallops", "pointed ovals", "vees", "diamonds", "squares", "rings", "loops"]
)
def test_every_shape_is_told_whole(shape):
    done = on(lace(shape=shape, width=6, rise=30, across=22), "M 50 200 H 300 A 400 400 0 0 1 900 200")
    lace_ = next(s for s in done.supplies if s.what == "lace insertion, 6 mm")
    assert lace_.unit == "mm"
    assert lace_.quantity > 850
    assert [s.stage for s in done.steps][:2] == ["prepare", "prepare"]
    assert [s.stage for s in done.steps][-1] == "trim"
    assert any("blunt-tipped" in c.text for c in done.cautions)
    assert any("Count the pins" in c.text for c in done.cautions)
    assert {line.role for line in done.lines} >= {"trace", "trim", "placement"}


def test_lengths_are_told_in_the_workers_units():

    inches = work(lace(), replace(setting(hem=HEM, size=BIG), units="inch"))
    assert any("43 5/16 in" in s.text for s in inches.sentences)
    assert not any("mm" in s.text for s in inches.sentences)


def test_straight_lace_is_laid_on_the_cloth_at_once():
    names = [s.name for s in on(lace()).steps]
    assert names == ["ready the lace of lace", "lay lace on the cloth", "sew lace on", "trim behind lace"]
    assert any("side by side" in s.text for s in on(lace(strips=2)).steps)


def test_shaped_lace_is_made_on_stabiliser_first():
    done = on(lace(shape="pointed ovals", width=8, behind=True))
    assert [s.stage for s in done.steps] == ["prepare", "prepare", "shape", "shape", "set", "set", "trim"]
    assert "straight strip on the cloth first" in done.steps[4].text
    assert any("infant" in c.text for c in done.cautions), "pull threads are sewn in"
    assert not any("infant" in c.text for c in on(lace(shape="vees", width=8)).cautions), "no thread is pulled there"
