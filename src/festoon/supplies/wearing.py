"""What to mind in clothes for babies and children, each with the standard that says so. The rules of the place where
they are worn or sold come first."""

from __future__ import annotations

from festoon.layout import Layout
from festoon.measure import Units, show_length
from festoon.piece.model import Wearer
from festoon.work import Caution, Work

FREE_END, FREE_DRAWN, LOOP = 140.0, 280.0, 75.0
"""mm at most of a cord's free end with the garment open and drawn up, and round a loop. Source: test houses' summaries
of EN 14682 (2007 and 2014)."""

CYLINDER = (31.7, 25.4, 57.1)
"""mm across, and deep at its shallowest and deepest, of the small parts cylinder. Source: 16 CFR 1501.4, the shallowest
depth from memory."""

PULL = (50.0, 90.0)
"""N with which a part is pulled, up to 6 mm in size and larger. Source: EN 71-1, from memory."""

ONE_PIECE = 648.0
"""mm; an infant's garment no longer than this may be excepted as sleepwear. Source: 16 CFR 1615.1."""

LIGHT_CLOTH = 88.2
"""g/m²; plain cloth of this weight or more need not be tried for burning. Source: 16 CFR 1610.1, from memory."""

LOCAL = "Local rules come first."


def wearing_cautions(layout: Layout) -> tuple[Caution, ...]:
    """The cautions for who wears the piece, as far as that is said; where it is not, that on cords if there is ribbon.

    Infants are under 3 years, children under 14. Lengths are told in the piece's units.
    """
    about = layout.piece.file.piece
    return cautions_for(about.wearer, has_ribbon=any(map(_has_ribbon, layout.works)), units=about.units)


def cautions_for(wearer: Wearer | None, *, has_ribbon: bool, units: Units = "mm") -> tuple[Caution, ...]:
    """The cautions for one wearer; None: it is not said who."""
    match wearer:
        case "infant":
            return _cords(units), _small_parts(units), _ROSES, _PINS, _SKIN, _sleep(units), _FLAMES
        case "child":
            return _cords(units), *((_ROSES,) if has_ribbon else ()), _PINS, _sleep(units), _FLAMES
        case "grown":
            return ()
        case None:
            return (_cords(units),) if has_ribbon else ()


def _has_ribbon(work: Work) -> bool:
    return any(a.material == "ribbon" for a in work.areas) or any("ribbon" in s.what for s in work.supplies)


def _cords(units: Units) -> Caution:
    free, drawn, loop = (show_length(mm, units) for mm in (FREE_END, FREE_DRAWN, LOOP))
    return Caution(
        "Cords and ribbons on clothes for children: under 7 years (or up to 134 cm tall) no drawstring and no cord "
        "that ties at head or neck, and none tied behind the neck. At waist and hem a free end is at most "
        f"{free} with the garment open and {drawn} drawn up, a loop at most about {loop} round; the cord is sewn fast "
        "at its middle, none hangs below a hem that lies lower than the crotch, and none is seen at the back. Clothes "
        "for a ceremony, worn for a short time with someone by, are outside that standard; look at every cord all the "
        f"same. {LOCAL}",
        "EN 14682:2014, as an authority's guidance and test houses' summaries give it; for outer wear in the USA ASTM "
        "F1816 and 16 CFR 1120, from memory",
    )


def _small_parts(units: Units) -> Caution:
    across, shallow, deep = (show_length(mm, units) for mm in CYLINDER)
    small, large = PULL
    return Caution(
        "Small parts: nothing on clothes for a child under 3 years that is loose, or comes off by pulling or chewing "
        f"(buttons, pearls, beads, bow centres), may go into a cylinder {across} across and {shallow} to {deep} deep, "
        f"whichever way it is held. Sew it through several times and pull hard (they are tried with {small:g} N, those "
        f"over 6 mm with {large:g} N), or do without. {LOCAL}",
        "16 CFR 1501.4 (its least depth from memory); EN 71-1, its pull from memory",
    )


_ROSES = Caution(
    "Ribbon roses, bows and bonnet ties: sew each through several times and pull at it before every wearing, or do "
    "without. Tie a bonnet only with someone by, and take it off for sleep.",
)
_PINS = Caution(
    "Pins: none stays in a child's garment, not as a fastener either. Count them in and out, and feel every seam and "
    "lace heading before it is worn.",
)
_SKIN = Caution(
    "Skin side: trim cut-away stabiliser and thread ends, and cover the back of embroidery with soft mesh where it "
    "lies on the skin; it can rub.",
    "a stabiliser page",
)
_FLAMES = Caution(
    f"Candles and fires: fine cotton, lace and ribbon catch quickly. Plain cloth lighter than {LIGHT_CLOTH:g} g/m², as "
    "lawn and batiste are, is not excepted from the test of burning for clothes sold in the USA. Keep the child away "
    f"from candles. {LOCAL}",
    "16 CFR 1610, from memory",
)


def _sleep(units: Units) -> Caution:
    return Caution(
        "Sleep: a gown or dress for a ceremony is not sleepwear; take it off for sleep. Children's sleepwear sold in "
        "the USA must pass a burning test; of infants' only garments for 9 months or less, "
        f"{show_length(ONE_PIECE, units)} long at most in one piece, and close-fitting ones are excepted. {LOCAL}",
        "16 CFR 1615 and 1616",
    )
