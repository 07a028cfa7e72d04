"""Seams that run along inside a fold, and those that only cross it."""

from __future__ import annotations

import pytest
from shapely import Polygon

from festoon.techniques.tuck_plan import planned
from festoon.techniques.tuck_seam import caught
from festoon.techniques.tuck_words import Tucks

from .toy import setting


def found(place, **words):
    tucks = Tucks(kind="tucks", name="t", **words)
    return caught(planned(tucks, place), tucks.run, place)


def test_a_side_seam_inside_a_wide_tuck_s_fold() -> None:
    place = setting(size=(400.0, 300.0), **{"left seam": "M 160 0 L 165 300"})
    caught_there = found(place, sort="wide", count=1, first=150)
    assert caught_there is not None
    assert (caught_there.name, caught_there.at) == ("left seam", 150)
    assert caught_there.along == pytest.approx(300, abs=0.2)


def test_only_the_stretch_within_the_fold_counts() -> None:
    # computed: the line leaves the fold 150..175 at x = 175, after 200 of its 300 mm
    place = setting(size=(400.0, 300.0), **{"left seam": "M 165 0 L 180 300"})
    assert found(place, sort="wide", count=1, first=150).along == pytest.approx(200, abs=2)


@pytest.mark.parametrize(
    "lines",
    [
        {"waist seam": "M 0 100 H 400"},
        {"side seam": "M 100 300 L 250 150"},
        {"left seam": "M 176 0 V 300"},
        {"hem": "M 160 0 L 165 300"},
    ],
    ids=["crosses squarely", "crosses at half a right angle", "lies beside", "is no seam"],
)
def test_what_crosses_or_lies_beside_is_no_matter(lines) -> None:
    assert found(setting(size=(400.0, 300.0), **lines), sort="wide", count=1, first=150) is None


def test_a_cut_edge_inside_a_fold_and_tucks_across() -> None:
    place = setting(size=(400.0, 300.0))
    waist = Polygon([(50, 160), (350, 165), (350, 300), (50, 300)])
    shaped = type(place)(**{**{f: getattr(place, f) for f in place.__dataclass_fields__}, "outline": waist})
    there = found(shaped, sort="wide", run="across", count=1, first=150)
    assert there.name == "cut edge"
    assert there.along == pytest.approx(300, abs=0.2)
    assert found(place, sort="wide", run="across", count=1, first=150) is None
