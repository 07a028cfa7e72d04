"""Truing a hooping: the move against published and other fits, theory by simulation, and each verdict's limits."""

import math

import numpy as np
import pyembroidery
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from festoon.errors import HoopingError
from festoon.hooping import check_order, machine_stitching
from festoon.plane.pose import Pose
from festoon.registration import fit_rigid
from festoon.stitches import FORMATS, encode
from festoon.truing import true_hooping
from festoon.truing.true import SHIFT_MOST, TURN_MOST
from tests.registration.published import target_error
from tests.truing.toy import CORNERS, FIELD, FLE, model, moved, toy

SQUARE = np.array(list(CORNERS.values()))


def trued(readings, hooping=None, fle=FLE, **words):
    return true_hooping(hooping or toy(), readings, model=model(fle), **words)


def test_umeyama():
    """His example, in tens of mm: its x as marks, its y as where they were seen (published; without his scale)."""
    corners = {"A": (0.0, 0.0), "B": (10.0, 0.0), "C": (0.0, 20.0)}
    found = trued({"A": (0, 0), "B": (-20, 0), "C": (0, 0)}, toy(corners))
    assert found.pose.turn == pytest.approx(-33.690, abs=5e-4)
    assert found.pose.shift / 10 == pytest.approx([-0.980484, 0.296867], abs=1e-6)
    assert found.fit.rms**2 / 100 == pytest.approx(0.619755, abs=5e-7)
    assert found.scale == pytest.approx(0.721110, abs=5e-7)
    assert not found.usable


def test_scipy_agrees():
    """SciPy's alignment of vectors (Kabsch) gives the same turn for readings that disagree."""
    readings = {"A": (0.9, -0.4), "B": (1.3, 0.2), "C": (0.5, 0.7), "D": (0.6, 0.1)}
    seen = SQUARE + np.array(list(readings.values()))
    flat = [np.hstack([p - p.mean(axis=0), np.zeros((4, 1))]) for p in (seen, SQUARE)]
    turn, _ = Rotation.align_vectors(*(np.vstack([p, [[0, 0, 1000.0]]]) for p in flat))
    assert trued(readings).pose.matrix == pytest.approx(turn.as_matrix()[:2, :2], abs=1e-9)


@given(st.floats(-3.5, 3.5), st.floats(-3.5, 3.5), st.floats(-2.9, 2.9), st.sets(st.sampled_from("ABCD"), min_size=2))
def test_a_rigid_move_is_recovered_exactly(x, y, turn, names):
    """And every stitch comes to lie, in the hoop, where the cloth that it belongs on lies."""
    pose, hooping = Pose(x, y, turn), toy()
    found = trued({n: r for n, r in moved(pose).items() if n in names}, hooping)
    assert found.verdict == "sound"
    assert (found.pose.x, found.pose.y, found.pose.turn) == pytest.approx((x, y, turn), abs=1e-9)
    assert (found.fit.rms, found.scale) == pytest.approx((0.0, 1.0), abs=1e-9)
    now, before = (h.field.inverse().apply(h.stitching.points) for h in (found.hooping, hooping))
    assert now == pytest.approx(pose.apply(before), abs=1e-9)
    assert found.hooping.stitching is hooping.stitching


def simulated(count, trials, fle=0.5):
    """(trials,) residuals' rms and (trials, targets) errors of stitching trued by noisy readings of `count` marks."""
    rng = np.random.default_rng(1125)
    at, cloth = SQUARE[:count], Pose(1.5, -0.8, 1.2)
    seen = cloth.apply(at) + rng.normal(0, fle / math.sqrt(2), (trials, count, 2))
    fits = [fit_rigid(at, s) for s in seen]
    errors = np.array([np.hypot(*(f.pose.apply(TARGETS) - cloth.apply(TARGETS)).T) for f in fits])
    return np.array([f.rms for f in fits]), errors


TARGETS = np.array([(0.0, 0.0), (45.0, 0.0), (45.0, 45.0), (-10.0, 30.0)])


@pytest.mark.parametrize(("count", "trials", "near"), [(2, 4000, 0.04), (3, 20_000, 0.02), (4, 4000, 0.04)])
def test_the_error_follows_the_prediction(count, trials, near):
    """Noisy readings, seeded: the trued stitching errs as `target_error` says, to 2 % by 20,000 of them."""
    _, errors = simulated(count, trials)
    assert np.sqrt((errors**2).mean(axis=0)) == pytest.approx(target_error(SQUARE[:count], TARGETS, 0.5), rel=near)


def test_small_residuals_promise_nothing():
    """How well readings agree tells nothing of how near the stitching comes: no correlation to speak of."""
    rms, errors = simulated(4, 5000)
    for k in range(len(TARGETS)):
        assert abs(np.corrcoef(rms, errors[:, k])[0, 1]) < 0.05
    close = trued(moved()).hooping.expected.mm
    loose = trued(moved(A=(0.3, 0.0), C=(0.3, 0.0))).hooping.expected.mm
    assert close == pytest.approx(loose)


def test_fewer_marks_place_it_worse():
    errors = [trued({n: r for n, r in moved().items() if n in names}).hooping.expected.rms for names in ("ABCD", "AB")]
    assert errors[0] < errors[1]


@pytest.mark.parametrize(
    ("pose", "verdict"),
    [
        (Pose(SHIFT_MOST - 0.01, 0), "sound"),
        (Pose(SHIFT_MOST + 0.01, 0), "hoop again"),
        (Pose(3, 3.99), "sound"),
        (Pose(3, 4.01), "hoop again"),
        (Pose(0, 0, TURN_MOST - 0.01), "sound"),
        (Pose(0, 0, -TURN_MOST - 0.01), "hoop again"),
    ],
)
def test_how_far_the_cloth_may_lie_off(pose, verdict):
    assert trued(moved(pose)).verdict == verdict


def test_hooping_again_is_told_the_other_way_round():
    """The cloth lies 7.2 mm right, 1.1 mm down, 0.9° clockwise: it goes left, up, and back."""
    found = trued(moved(Pose(7.2, 1.1, 0.9)))
    assert (
        "Too far off: hoop again, moving the cloth 7.2 mm left and 1.1 mm up and then turning it 0.9° anticlockwise "
        "about the middle of the field." in found.sentences
    )
    assert "Up to 5 mm and 3° the sewing can follow the cloth; this is more." in found.sentences


def test_what_it_says_to_do_brings_it_right():
    """Moved back first, then turned back about the middle of the field."""
    pose = Pose(7.2, 1.1, 0.9)
    back = Pose(turn=-0.9).after(Pose(-7.2, -1.1))
    assert back.after(pose).apply(SQUARE) == pytest.approx(SQUARE, abs=1e-9)


@pytest.mark.parametrize(("right", "fits"), [(1.94, True), (2.04, True), (2.06, False)])
def test_stitching_that_leaves_the_field(right, fits):
    """It reaches 48 of 50 mm, and the formats' grid forgives 0.05."""
    hooping = toy(first=[(-30.0, 10.0), (30.0, 10.0), (48.0, -10.0)])
    found = trued(moved(Pose(right, 0)), hooping)
    assert found.usable == fits
    told = "Following the cloth, the stitching would leave the field: 0.1 mm past its right edge."
    assert (told in found.sentences) == (not fits)
    assert any(t.startswith("Hoop again, moving the cloth 2.1 mm left") for t in found.sentences) != fits, (
        "not too far off"
    )
    if fits:
        machine_stitching(found.hooping, found.hooping.marks)


def test_marks_that_the_needle_no_longer_reaches_are_passed_over():
    far = CORNERS | {"B": (49.0, -40.0)}
    hooping = toy(far)
    found = trued(moved(Pose(2, 0), corners=far), hooping)
    assert [m.name for m in found.hooping.marks] == [m.name for m in check_order(hooping) if m.name != "B"]
    assert found.sentences[-1].startswith("Mark B lies outside the field as the cloth is hooped")


def test_nothing_left_to_check_is_not_sewn():
    """Both marks near the edge: 3 mm to the right, none is reached."""
    edge = {"A": (49.0, -40.0), "B": (49.0, 40.0)}
    found = trued(moved(Pose(3, 0), corners=edge), toy(edge))
    assert found.verdict == "hoop again"
    assert any(s.startswith("No mark lies inside the field any more") for s in found.sentences)


def test_stretched_cloth():
    found = trued(moved(Pose(1, 0), 1.02))
    assert (found.verdict, found.usable) == ("stretched", True)
    assert found.scale == pytest.approx(1.02)
    assert (
        "The cloth is stretched by 2.0 %. Ease it in the hoop if you can, and read the marks again." in found.sentences
    )
    assert "At the middle of the field the cloth lies 1 mm right." in found.sentences
    assert "drawn together by 1.5 %" in " ".join(trued(moved(scale=0.985)).sentences)
    away = np.hypot(*(toy().stitching.holes - FIELD.shift).T).max()
    assert f"the farthest will lie up to {0.02 * away:.1f} mm off" in " ".join(found.sentences)


def test_a_misread_mark():
    found = trued(moved(Pose(1, 0), C=(6.0, -4.0)))
    assert (found.verdict, found.usable) == ("misread", False)
    assert "Mark C was probably misread: without it the others agree." in found.sentences


def test_readings_that_no_mark_explains():
    found = trued(moved(A=(3, 0), B=(0, 3), C=(3, 0), D=(0, 3)))
    assert found.verdict == "misread"
    assert "No single mark is the cause. Read all of them again." in found.sentences


def test_what_two_marks_cannot_know():
    pair = {n: CORNERS[n] for n in "AB"}
    sound = trued(moved(Pose(1, 0), corners=pair))
    assert sound.verdict == "sound"
    assert "By marks A and B alone, one misread across the line" in sound.sentences[-1]
    apart = trued(moved(scale=1.025, corners=pair))
    assert apart.verdict == "stretched or misread"
    assert "Marks A and B lie 2.5 % farther apart than they should" in " ".join(apart.sentences)
    far = trued(moved(scale=0.96, corners=pair))
    assert far.verdict == "misread"
    assert "they lie 4.0 % nearer together than they should, more than cloth stretches" in " ".join(far.sentences)


def test_it_is_told_how_the_readings_were_understood():
    told = trued({"B": (0.5, -0.3), "A": (0.0, 0.04)}).sentences[0]
    assert (
        told == "Read, facing the machine: cross A lies on its place; B lies 0.5 mm right and 0.3 mm up of its place."
    )


def test_inches():
    told = " ".join(trued(moved(Pose(1.27, 0)), units="inch").sentences)
    assert "the cloth lies 0.05 in right" in told
    assert " mm" not in told


@pytest.mark.parametrize(
    ("readings", "told"),
    [
        ({}, "hooping 3: nothing was read. Read two marks at least, better all: A, B, C and D"),
        ({"A": (0, 0)}, "one reading cannot tell a turn from a shift"),
        ({"A": (0, 0), "Q": (0, 0)}, 'no mark called "Q"'),
        ({"A": (0, 0), "B": (math.nan, 0)}, "mark B: its reading is no number"),
        ({"A": (0, 0), "B": (31, 0)}, "mark B: read so, the cross would lie outside the hoop"),
    ],
)
def test_readings_that_cannot_be(readings, told):
    with pytest.raises(HoopingError, match=told):
        trued(readings)


def sewn(data, suffix, path):
    """What the format library reads: the holes (n, 2), and after which of them the thread changes."""
    file = path / f"hooping.{suffix}"
    file.write_bytes(data)
    commands = [(x, y, c & pyembroidery.COMMAND_MASK) for x, y, c in pyembroidery.read(str(file)).stitches]
    holes = [(x / 10, y / 10) for x, y, c in commands if c == pyembroidery.STITCH]
    before = np.cumsum([c == pyembroidery.STITCH for _, _, c in commands])
    stops = (pyembroidery.COLOR_CHANGE, pyembroidery.STOP)
    return np.array(holes), [int(n) for n, (_, _, c) in zip(before, commands, strict=True) if c in stops]


@pytest.mark.parametrize("format", FORMATS)
def test_the_corrected_file_holds_the_same_stitches_moved(format, tmp_path):
    """Within half the format's step along each axis of where the cloth lies, the made file being rounded too."""
    hooping, pose = toy(), Pose(2.3, -1.7, 2.4)
    found = trued(moved(pose), hooping).hooping
    made, made_changes = sewn(encode(machine_stitching(hooping), format), format, tmp_path)
    now, changes = sewn(encode(machine_stitching(found, found.marks), format), format, tmp_path)
    planned = hooping.field.inverse().apply(hooping.stitching.holes)
    assert now.shape == made.shape == planned.shape
    assert changes == made_changes
    assert np.abs(now - pose.apply(planned)).max() <= 0.05 + 1e-6
    turned = abs(math.cos(math.radians(2.4))) + abs(math.sin(math.radians(2.4)))
    assert np.abs(now - pose.apply(made)).max() <= 0.05 * (1 + turned) + 1e-6


def test_the_needle_check_goes_to_the_crosses_in_the_same_order():
    hooping, pose = toy(), Pose(4.0, -2.0, 1.0)
    found = trued(moved(pose), hooping).hooping
    before, now = machine_stitching(hooping), machine_stitching(found, found.marks)
    assert now.points[:8] == pytest.approx(pose.apply(before.points[:8]), abs=1e-9)
    assert now.points[-1].tolist() == [0.0, 0.0]
