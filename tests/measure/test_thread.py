"""Thread numbers and diameters against published and computed figures."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import MeasureError
from festoon.measure import FIBRE_DENSITY, PACKING, SYSTEMS, System, parse_thread, tex_from, tex_to, thread_diameter
from festoon.measure.thread import NE_TEX


@pytest.mark.parametrize(
    ("label", "tex", "nm"),
    [
        ("120/2 den", 26.667, 37.50),
        ("75/2 den", 16.667, 60.00),
        ("108/2 den", 24.000, 41.67),
        ("150/2 den", 33.333, 30.00),
        ("70/2 den", 15.556, 64.29),
    ],
)
def test_plied_denier(label: str, tex: float, nm: float) -> None:
    """Computed from the published conversions of textile tables (ASTM D2260)."""
    assert parse_thread(label) == pytest.approx(tex, abs=5e-4)
    assert tex_to(parse_thread(label), "Nm") == pytest.approx(nm, abs=5e-3)


def test_two_plies_of_120_denier_in_every_system() -> None:
    """Computed: 240 den = 26.667 tex = 266.67 dtex = Nm 37.50."""
    tex = tex_from(240, "den")
    assert tex == pytest.approx(26.667, abs=5e-4)
    assert tex_to(tex, "dtex") == pytest.approx(266.67, abs=5e-3)
    assert tex_to(tex, "Nm") == tex_to(tex, "wt") == pytest.approx(37.50)


@pytest.mark.parametrize(
    ("wt", "tex", "den"),
    [
        (12, 83.333, 750),
        (30, 33.333, 300),
        (40, 25.000, 225),
        (50, 20.000, 180),
        (60, 16.667, 150),
        (80, 12.500, 112.5),
        (100, 10.000, 90),
    ],
)
def test_weights(wt: float, tex: float, den: float) -> None:
    """Computed: wt is metres per gram of the finished thread (a needle maker's thread-weight page)."""
    assert parse_thread(f"{wt} wt") == pytest.approx(tex, abs=5e-4)
    assert tex_to(tex_from(wt, "wt"), "den") == pytest.approx(den)


@pytest.mark.parametrize(("label", "tex"), [("Ne 50/2", 23.622), ("Ne 60/2", 19.685), ("Ne 80/2", 14.764)])
def test_cotton_numbers(label: str, tex: float) -> None:
    """Computed from 590.5412/Ne."""
    assert parse_thread(label) == pytest.approx(tex, abs=5e-4)


def test_the_cotton_number_constant() -> None:
    """590.5412 computed from the pound and the yard; 590.5 and den = 5315/Ne printed in conversion tables."""
    assert pytest.approx(590.5412, abs=5e-5) == NE_TEX
    assert tex_to(tex_from(1, "Ne"), "den") == pytest.approx(5315, abs=0.5)
    assert tex_to(tex_from(1, "Nm"), "den") == pytest.approx(9000)


def test_forty_weight_is_not_240_denier() -> None:
    """Printed as equal on two pages, refuted by computing: 6.7 % apart."""
    assert parse_thread("120/2 den") / parse_thread("40 wt") == pytest.approx(1.067, abs=5e-4)
    assert tex_to(parse_thread("tex 25"), "den") == 225


def test_cotton_fifty_is_two_threads() -> None:
    """Computed: Nm 50 is 20.0 tex and Ne 50/2 is 23.6 tex, 18 % apart."""
    metric, cotton = parse_thread("Nm 50"), parse_thread("Ne 50/2")
    assert metric == pytest.approx(20.0)
    assert cotton == pytest.approx(23.6, abs=0.05)
    assert cotton / metric == pytest.approx(1.18, abs=5e-3)


@pytest.mark.parametrize(("label", "resultant"), [("Nm 80/2", 40), ("Nm 60/2", 30), ("Nm 60/4", 15)])
def test_resultant_metric_number(label: str, resultant: float) -> None:
    """Published table of a merchandiser's article: 80/2 -> 40, 60/2 -> 30, 60/4 -> 15."""
    assert tex_to(parse_thread(label), "Nm") == pytest.approx(resultant)


@pytest.mark.parametrize(("den", "dtex"), [(20, 22), (30, 33), (40, 44), (70, 78), (100, 110), (120, 133), (150, 167)])
def test_rounded_numbers_stay_within_two_per_cent(den: float, dtex: float) -> None:
    """The rounded dtex printed on packages (from memory); ISO 2947's scope rounds within 2 % (published)."""
    assert tex_to(tex_from(den, "den"), "dtex") == pytest.approx(dtex, rel=0.02)


@pytest.mark.parametrize(
    ("label", "tex"),
    [
        ("40 wt", 25.0),
        ("40wt.", 25.0),
        ("40 WT", 25.0),
        ("tex 25", 25.0),
        ("25 tex", 25.0),
        ("Nm 60", 1000 / 60),
        ("nm 60", 1000 / 60),
        ("267 dtex", 26.7),
        ("26,7 tex", 26.7),
        ("120 den/2", 240 / 9),
        ("den 120x2", 240 / 9),
        ("120/2 denier", 240 / 9),
    ],
)
def test_reads_labels(label: str, tex: float) -> None:
    assert parse_thread(label) == pytest.approx(tex, rel=1e-12)


@pytest.mark.parametrize(
    ("label", "sentence"),
    [
        ("60", 'does not say by which system the thread is numbered. Write "60 wt", "Nm 60", "Ne 60", "60 den"'),
        (60, 'Write "60 wt", "Nm 60"'),
        ("60/2", 'Write "Nm 60/2", "Ne 60/2", "60/2 den"'),
        ("40/2 wt", 'wt already counts the finished thread. Write "40 wt".'),
        ("40 wr", 'Did you mean "wt"? They are tex, dtex, den, Nm, wt, Ne.'),
        ("40 stone", '"stone" in "40 stone" is not a thread numbering known here.'),
        ("0 wt", "must be above zero"),
        ("120/0 den", "has no plies"),
        ("-40 wt", "is not a thread number"),
        ("", "the thread number is empty."),
        ("thick", "is not a thread number"),
        (None, "None is not a thread number."),
    ],
)
def test_says_what_it_cannot_read(label: object, sentence: str) -> None:
    with pytest.raises(MeasureError, match=re.escape(sentence)):
        parse_thread(label)


@pytest.mark.parametrize("number", [0.0, -1.0, math.inf, math.nan, 5e-324])
def test_impossible_numbers_are_refused(number: float) -> None:
    with pytest.raises(MeasureError):
        tex_from(number, "Nm")
    with pytest.raises(MeasureError):
        tex_to(number, "Nm")


@given(st.floats(1e-3, 1e5), st.sampled_from(SYSTEMS))
def test_there_and_back_in_every_system(number: float, system: System) -> None:
    assert tex_to(tex_from(number, system), system) == pytest.approx(number, rel=1e-12)


@given(st.integers(1, 500), st.integers(1, 9), st.sampled_from(["tex", "dtex", "den", "Nm", "Ne"]))
def test_plies_multiply(number: int, plies: int, system: System) -> None:
    assert parse_thread(f"{number}/{plies} {system}") == pytest.approx(plies * tex_from(number, system))


@pytest.mark.parametrize(
    ("tex", "fibre", "packing", "mm"),
    [
        (26.667, "viscose", 1.0, 0.1510),
        (26.667, "viscose", 0.75, 0.1743),
        (26.667, "viscose", 0.60, 0.1949),
        (16.667, "polyester", 0.75, 0.1427),
        (16.667, "polyester", 0.60, 0.1595),
        (33.333, "cotton", 0.60, 0.2157),
        (83.333, "cotton", 0.60, 0.3411),
    ],
)
def test_diameters(tex: float, fibre: str, packing: float, mm: float) -> None:
    """Computed; densities from Morton & Hearle, Table 5.1 (published)."""
    assert thread_diameter(tex, FIBRE_DENSITY[fibre], packing) == pytest.approx(mm, abs=5e-5)


def test_diameter_constant() -> None:
    """Computed: 0.035682, and with packing 1 the published fibre formula 11.3·√(dtex/ρ) µm."""
    assert thread_diameter(1.0, 1.0, 1.0) == pytest.approx(0.035682, abs=1e-6)
    assert 1000 * thread_diameter(0.1, 1.0, PACKING["solid"]) == pytest.approx(11.3, abs=0.05)


def test_diameter_agrees_with_the_cotton_rule() -> None:
    """Computed: d = 25.4/(28·√40) = 0.1434 mm (the 1/28 from memory); 1.1 cm³/g (Peirce 1937) is 0.598."""
    packing = 1 / (1.1 * FIBRE_DENSITY["cotton"])
    assert packing == pytest.approx(0.598, abs=5e-4)
    assert 25.4 / (28 * math.sqrt(40)) == pytest.approx(0.1434, abs=5e-5)
    assert thread_diameter(tex_from(40, "Ne"), FIBRE_DENSITY["cotton"], packing) == pytest.approx(0.1434, rel=0.005)


def test_diameter_of_the_examination_problem() -> None:
    """20 tex, 10 turns/cm, helix 32°: 0.1989 mm, 1.554 cm³/g (published; printed 1.57 after rounding)."""
    d = math.tan(math.radians(32)) / (math.pi * 10) * 10
    assert d == pytest.approx(0.1989, abs=5e-5)
    assert thread_diameter(20, 1 / 1.554, PACKING["solid"]) == pytest.approx(d, abs=5e-5)


def test_packing_by_geometry() -> None:
    """Computed: 0.9069 hexagonal, 0.7854 square."""
    assert PACKING["hexagonal"] == pytest.approx(0.9069, abs=5e-5)
    assert PACKING["square"] == pytest.approx(0.7854, abs=5e-5)


@pytest.mark.parametrize(("wt", "spacing"), [(12, 0.730), (30, 0.462), (50, 0.358), (60, 0.327), (80, 0.283)])
def test_spacing_scales_as_the_diameter(wt: float, spacing: float) -> None:
    """Computed: 0.40 mm for 40 wt (a trade magazine, published), as the diameter for other threads."""
    scale = thread_diameter(tex_from(wt, "wt")) / thread_diameter(tex_from(40, "wt"))
    assert 0.40 * scale == pytest.approx(spacing, abs=5e-4)


def test_closed_cover() -> None:
    """Computed: thread diameter / line pitch 0.2 mm is 0.975 for 120/2 rayon, all but closed."""
    assert thread_diameter(parse_thread("120/2 den")) / 0.2 == pytest.approx(0.975, abs=1e-3)
