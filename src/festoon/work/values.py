"""The plain values in which a technique answers (immutable; mm and degrees on the panel's axes)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from shapely import Geometry

from festoon.plane.path import Path
from festoon.plane.pose import Points, Pose
from festoon.stitches.stitching import Stitching

Role = Literal["trace", "stitching", "fold", "cut", "trim", "placement"]
Verdict = Literal["sound", "look again", "will not work"]
Material = Literal["lace", "ribbon", "cloth"]

Stage = Literal["prepare", "tuck", "embroider", "shape", "set", "trim", "join", "cut out", "seam", "edge", "finish"]
"""When a thing is done, in the order of the work: stabiliser and lace made ready, cloth tucked, hoopings sewn, lace
shaped, set on the cloth, cloth trimmed away behind, bands joined, the garment piece cut from its block, seams, edgings
and hems, the last hand. Source: an heirloom sewing magazine (blocks made oversize, then cut); tucks before what lies
across them, the rest common practice."""


@dataclass(frozen=True, eq=False)
class Part:
    """One thing that is sewn as a whole where it fits a hooping: one motif, one join.

    stitching lies on the panel. region is the stitched area on the panel (Polygon or MultiPolygon, mm), and outlines
    the same divided by thread block, for drawing: (index into stitching.threads, area). pose carries the motif's
    own axes to the panel.
    """

    name: str
    element: str
    panel: str
    stitching: Stitching
    region: Geometry
    outlines: tuple[tuple[int, Geometry], ...] = ()
    pose: Pose = field(default_factory=Pose)


@dataclass(frozen=True, eq=False)
class Line:
    """A line to draw on a template: points (n, 2) on the panel, mm."""

    role: Role
    points: Points
    closed: bool = False
    label: str = ""


@dataclass(frozen=True, eq=False)
class Area:
    """Lace, ribbon or cloth laid on the panel: region (Polygon or MultiPolygon, mm on the panel), and what it is."""

    material: Material
    region: Geometry
    label: str = ""


@dataclass(frozen=True, slots=True)
class Pin:
    """Where a pin goes, mm on the panel. holds: what it holds there, 'outer heading', 'inner heading', 'point'."""

    at: tuple[float, float]
    holds: str


MATCH = "match line"
"""The label of a line where one repeat of a template ends and the next begins."""


@dataclass(frozen=True, eq=False)
class Template:
    """A true-size drawing of its own, in its own axes (mm, y down), for work that is not done on the finished cloth:
    lace traced on stabiliser, cloth marked before it is tucked.

    title: what it is; told: sentences on what is done with it. times: how often it is used; one after the other
    where it has lines labelled MATCH.
    """

    title: str
    told: tuple[str, ...]
    lines: tuple[Line, ...]
    pins: tuple[Pin, ...] = ()
    areas: tuple[Area, ...] = ()
    times: int = 1


@dataclass(frozen=True, slots=True)
class TakeUp:
    """Cloth that a tuck takes: `by` mm more flat cloth than finished, at a place of the finished panel.

    across: 'x' where the tuck runs down the panel and makes it narrower, 'y' where it runs across and makes it shorter;
    at: its stitching line's x (or y), mm on the finished panel.
    """

    across: Literal["x", "y"]
    at: float
    by: float


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that the worker needs, told in her units: what it is, the value, and how it was reckoned."""

    what: str
    value: str
    reckoned: str = "computed"


@dataclass(frozen=True, slots=True)
class Handle:
    """A point that may be dragged: `field` is the word in the piece file that it moves.

    Without `along` the word is a place, and takes the handle's own. With it the word is a length: where the handle is
    moved by d mm (right, down), the length grows by d . along.
    """

    name: str
    at: tuple[float, float]
    field: str
    along: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Supply:
    """Something used up: quantity in `unit`, and how that was reckoned."""

    what: str
    quantity: float
    unit: str
    reckoned: str


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do by hand or on the sewing machine, when, and the names of the element's steps that come before."""

    name: str
    text: str
    stage: Stage
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Caution:
    """What can hurt, how to avoid it, and where that comes from."""

    text: str
    source: str = "common practice"


@dataclass(frozen=True, slots=True)
class Amount:
    """How much was found, rounded as it is told: mm, a "share" from 0 to 1, or so many of what `unit` names.

    least: whether less of it is worse.
    """

    value: float
    unit: str
    least: bool = False

    def worse_than(self, accepted: float) -> bool:
        """Whether this is worse than so much of the same."""
        by = accepted - self.value if self.least else self.value - accepted
        return by > _ALIKE


_ALIKE = 1e-9
"""Amounts are rounded: what differs by less is the same."""


@dataclass(frozen=True, slots=True)
class Mend:
    """One change of the piece file that helps: the value for a word of `element`, or of [hooping] where that is "".

    told: the deed in words, 'Lengthen tuck to 1.4 mm'. value: mm, or a place on the panel.
    """

    told: str
    element: str
    word: str
    value: float | tuple[float, float]


@dataclass(frozen=True, slots=True)
class Finding:
    """A verdict on one place: figure against limit, the reason in a sentence, what to do, and the source.

    where is the place in words; panel, at (mm on the panel), elements (names of parts) and hooping (its number, 0 for
    none) say the same to a machine. rule: the name of what was asked, the same in every piece; a finding without one
    cannot be accepted. about: the names that tell it from others of its rule where elements do not. amount: the figure
    to compare by. mends: changes of the piece file that help. accepted: the note with which the worker accepted it;
    lapsed: why her acceptance holds no longer.
    """

    verdict: Verdict
    where: str
    reason: str
    remedy: str = ""
    figure: str = ""
    limit: str = ""
    source: str = "computed"
    panel: str = ""
    at: tuple[float, float] | None = None
    elements: tuple[str, ...] = ()
    hooping: int = 0
    rule: str = ""
    about: tuple[str, ...] = ()
    amount: Amount | None = None
    mends: tuple[Mend, ...] = ()
    accepted: str = ""
    lapsed: str = ""

    @property
    def concerns(self) -> tuple[str, ...]:
        """The names that tell it from others of its rule on its panel, each once, in alphabetical order."""
        return tuple(sorted(set(self.about or self.elements)))


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence for the ledger. {word} is a gap; `gaps` maps it to a field of the element."""

    text: str
    gaps: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, eq=False)
class Work:
    """Everything that one element of the piece comes to, once it stands at its place.

    areas, pins, templates, taken, figures: see their types. named: lines that other elements may follow, by the name
    that stands after the element's and a stroke: 'hem lace/lower'; closes: whether the ends of those lines meet, on the
    cloth or in a seam. places: where something may stand in each of its
    repeats, in order: the middle of every oval.
    """

    element: str
    panel: str
    parts: tuple[Part, ...] = ()
    lines: tuple[Line, ...] = ()
    areas: tuple[Area, ...] = ()
    pins: tuple[Pin, ...] = ()
    templates: tuple[Template, ...] = ()
    taken: tuple[TakeUp, ...] = ()
    named: Mapping[str, Path] = field(default_factory=dict)
    closes: bool = False
    places: tuple[Pose, ...] = ()
    handles: tuple[Handle, ...] = ()
    figures: tuple[Figure, ...] = ()
    supplies: tuple[Supply, ...] = ()
    steps: tuple[Step, ...] = ()
    cautions: tuple[Caution, ...] = ()
    findings: tuple[Finding, ...] = ()
    sentences: tuple[Sentence, ...] = ()
