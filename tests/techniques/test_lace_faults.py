"""What lace cannot do, and that the nearest thing which is offered works."""

import pytest

from .lace_toy import found, lace, on, rules


def test_lace_wider_than_its_curve():
    done = on(lace(width=25), "M 50 200 H 200 A 20 20 0 0 0 200 160 H 50")
    finding = found(done, "lace wider than its curve")
    assert (finding.verdict, finding.figure, finding.limit) == ("will not work", "20 mm", "25 mm")
    (mend,) = finding.mends
    assert mend.word == "width"
    assert mend.value == pytest.approx(20 / 3, abs=0.2), "R less w is to be two widths, where it is drawn up 1.5 to 1"
    assert rules(on(lace(width=mend.value), "M 50 200 H 200 A 20 20 0 0 0 200 160 H 50")) == set()


def test_lace_drawn_up_too_far():
    ring = "M 150 100 A 50 50 0 0 1 150 200 A 50 50 0 0 1 150 100 Z"
    near = found(on(lace(width=20, lies="below"), ring), "lace drawn up too far")
    assert (near.verdict, near.figure, near.limit) == ("look again", "1.67 : 1", "1.5 : 1")
    far = found(on(lace(width=30, lies="below"), ring), "lace drawn up too far")
    assert (far.verdict, far.figure) == ("will not work", "2.50 : 1")
    (mend,) = far.mends
    assert mend.value == pytest.approx(50 / 3, abs=0.2)
    assert rules(on(lace(width=20, lies="below", gather=1.7), ring)) == set()


def test_lace_without_a_pull_thread():
    done = on(lace(pull_thread=False), "M 50 200 A 400 400 0 0 1 600 200")
    assert found(done, "no pull thread on a curve").verdict == "will not work"
    assert rules(on(lace(pull_thread=False))) == set()
    assert rules(on(lace(pull_thread=False, shape="vees", width=6))) == set(), "mitred, it needs none"


@pytest.mark.parametrize(
    "words",
    [
        {"shape": "scallops", "repeat": 60, "rise": 45, "width": 12},
        {"shape": "scallops", "repeat": 40, "rise": 18, "width": 13},
        {"shape": "pointed ovals", "each": True, "repeat": 60, "rise": 28, "width": 18},
        {"shape": "loops", "repeat": 60, "rise": 80, "across": 76, "width": 7},
    ],
)
def test_the_nearest_that_works_does_work(words):
    done = on(lace(**words))
    finding = next(f for f in done.findings if f.mends)
    for mend in finding.mends:
        assert rules(on(lace(**{**words, mend.word: mend.value}))) == set(), mend.told
        assert mend.value < words[mend.word]


def test_a_rise_that_makes_the_lace_overlap_itself():
    """A scallop past a half circle is wider than its chord, and so lies over its neighbour."""
    done = on(lace(shape="scallops", repeat=100, rise=65, width=8, lies="below"), "M 50 200 h 200")
    finding = found(done, "lace over itself")
    rise = next(m.value for m in finding.mends if m.word == "rise")
    assert 30 < rise < 65


def test_a_repeat_that_closes_only_by_stretching():
    done = on(lace(shape="scallops", repeat=200, centre="point", stretch=0.05, width=8))
    finding = found(done, "repeat stretched")
    assert sorted(m.value for m in finding.mends) == pytest.approx([1100 / 6, 1100 / 4], abs=0.01)


def test_a_loop_wider_than_its_rise():
    done = on(lace(shape="loops", rise=40, across=60, width=4))
    (mend,) = found(done, "loop wider than it is high").mends
    assert (mend.word, mend.value < 40) == ("across", True)


def test_lace_that_leaves_the_cloth_says_how_far_to_move_it():
    done = on(lace(shape="scallops", rounds="below", width=8), "M 50 390 H 1150")
    finding = found(done, "lace off the cloth")
    assert finding.figure == "15 mm"
    (mend,) = finding.mends
    assert (mend.word, mend.value) == ("up", 15)
    assert rules(on(lace(shape="scallops", width=8, up=15), "M 50 390 H 1150")) == set()


def test_a_corner_that_takes_more_than_its_legs():
    done = on(lace(shape="scallops", repeat=40, rise=18, width=13))
    finding = found(done, "no room to mitre")
    assert finding.verdict == "will not work"
    assert float(finding.figure.rstrip("°")) == pytest.approx(168, abs=5)
