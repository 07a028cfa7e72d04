"""What the page is told and what it may ask, typed; lengths in mm, turns in degrees clockwise."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from festoon.measure import Units
from festoon.web.panel_words import Shape

Spot = tuple[float, float]
Box = tuple[float, float, float, float]


class Told(BaseModel):
    """Any answer; it never changes."""

    model_config = ConfigDict(frozen=True)


class Wrong(Told):
    """What is wrong and what to do about it, for people; where there is a choice, what may be chosen."""

    sentence: str
    choices: tuple[str, ...] = ()


class ThreadTold(Told):
    """A thread: '#rrggbb' and its plain name."""

    colour: str
    name: str


class PartTold(Told):
    """A part where it lies; an element without stitching is one part. at: where its motif's own point stands, null for
    what has none of its own. outline: rings of its stitched area. first, count: its records within the stitches."""

    name: str
    element: str
    panel: str
    turn: float
    mirrored: bool
    at: Spot | None
    bounds: Box
    outline: list[list[Spot]]
    threads: list[ThreadTold]
    first: int
    count: int


BlankKind = Literal[
    "length",
    "place",
    "angle",
    "number",
    "count",
    "choice",
    "yes/no",
    "words",
    "part",
    "line",
    "thread",
    "file",
    "several",
]
"""What stands in a gap; "several" are values that cannot be written into one."""


class GapTold(Told):
    """A gap of a sentence: the word of the piece file that fills it, its value (lengths in mm) and how it is shown.

    choices: what may be chosen, where that can be told. usual: whether it may say nothing, so that what is usual holds.
    """

    gap: str
    word: str
    value: Any
    shown: str
    kind: BlankKind
    choices: list[str]
    usual: bool


class SentenceTold(Told):
    """A sentence with its gaps in braces."""

    text: str
    gaps: list[GapTold]


class PanelTold(Told):
    """A panel of cloth; lines: its named lines as points.

    size: of the block. shaped: whether another shape than the block is cut from it. outline: the rings of the cut edge.
    finished: the seam and hem lines, where they lie apart from the cut edge. folds: the edge that is placed on a fold.
    loops: the names of lines that close in a seam. own: the names of lines that are not edges. sentences and edges:
    what is said of its shape and of its edges, with gaps that name words of the panel.
    """

    name: str
    size: Spot
    cloth: str
    seam: float
    lines: dict[str, list[Spot]]
    shaped: bool
    outline: list[list[Spot]]
    finished: list[list[Spot]]
    folds: list[list[Spot]]
    loops: list[str]
    own: list[str]
    shape: Shape
    sentences: list[SentenceTold]
    edges: list[SentenceTold]


class LineTold(Told):
    """A line to draw."""

    role: str
    points: list[Spot]
    closed: bool
    label: str


class AreaTold(Told):
    """Lace, ribbon or cloth as rings."""

    material: Literal["lace", "ribbon", "cloth"]
    rings: list[list[Spot]]
    label: str


class HandleTold(Told):
    """A point that may be dragged, and the word of the piece file that it moves.

    Without `along` the word is a place. With it the word is a length, now `value`, to which a move by d mm adds
    d . along.
    """

    name: str
    at: Spot
    word: str
    along: Spot | None
    value: float | None


class ElementTold(Told):
    """An element. told: what it is, 'a join'. may: the words that its technique has of at, turn, mirror, row, ring,
    pair and along. needs: the elements and parts that it leans on. words: as they stand in the piece file."""

    name: str
    kind: str
    told: str
    panel: str
    may: list[str]
    needs: list[str]
    words: dict[str, Any]
    sentences: list[SentenceTold]
    lines: list[LineTold]
    areas: list[AreaTold]
    pins: list[Spot]
    handles: list[HandleTold]


class HoopTold(Told):
    """A hoop of the bench: its field, and its rings' outer and inner size."""

    name: str
    field: Spot
    outer: Spot
    inner: Spot
    magnetic: bool


class FindingPlace(Told):
    """Where a finding lies."""

    panel: str
    at: Spot | None
    elements: list[str]
    hooping: int
    told: str


class AmountTold(Told):
    """The figure to compare by; least: less of it is worse."""

    value: float
    unit: str
    least: bool


class MendTold(Told):
    """A change of the piece file that helps: of an element's word, or of [hooping] where element is empty."""

    told: str
    element: str
    word: str
    value: float | Spot


class FindingTold(Told):
    """A finding, in the words of docs/records.md. key: the same for all that are accepted by one acceptance; empty
    for what cannot be accepted. group: the same for all that say the same."""

    verdict: Literal["sound", "look again", "will not work"]
    where: FindingPlace
    figure: str
    limit: str
    reason: str
    remedy: str
    source: str
    rule: str
    about: list[str]
    amount: AmountTold | None
    mends: list[MendTold]
    accepted: str
    lapsed: str
    key: str = ""
    group: int = 0


class DividingTold(Told):
    """The worker's own say in how the work is divided: how the hoop may be turned, the hoopings that she laid and her
    order of work, as they stand in the piece file."""

    turn: str | list[float]
    laid: list[dict[str, Any]]
    order: list[str]


class PieceTold(Told):
    """The piece laid out. elements and parts: bottom first. hoop: the one that the division uses. wearer: who
    wears it, where that is said. undo, redo: what would be undone or done again; null where there is nothing."""

    revision: str
    name: str
    units: Units
    paper: Literal["A4", "Letter"]
    wearer: Literal["infant", "child", "grown"] | None
    hoop: str
    panels: list[PanelTold]
    parts: list[PartTold]
    elements: list[ElementTold]
    hoops: list[HoopTold]
    dividing: DividingTold
    undo: str | None
    redo: str | None
    findings: list[FindingTold]


class ImportTold(Told):
    """The name of a motif's file within the piece."""

    file: str


class BlockTold(Told):
    """A block of a hooping; told: its name to people."""

    name: str
    part: str
    told: str


class HoopingTold(Told):
    """One hooping: its entry of the record, its blocks, the reason for its place, and minutes at the machine. laid: its
    place among the hoopings that the worker laid herself; null where the division chose it."""

    record: dict[str, Any]
    blocks: list[BlockTold]
    float_sides: list[str]
    reason: str
    minutes: float
    laid: int | None


class OwnSayTold(Told):
    """What the worker's own hoopings and order cost: how much more there is of each than without them (below zero:
    less), the placing error at the worst stitch with them and without, mm; and all of it in a sentence."""

    sentence: str
    kept: int
    hoopings: int
    changes: int
    minutes: float
    worst: float
    worst_free: float


class HoopingsTold(Told):
    """The division: the record as in hoopings.json, and what a worker wants to know of it. own_say: null where nothing
    of her own is kept; findings: what of it cannot be, `at` the nearest place that will do."""

    revision: str
    headline: str
    reasons: list[str]
    notes: list[str]
    record: dict[str, Any]
    hoopings: list[HoopingTold]
    own_say: OwnSayTold | None
    findings: list[FindingTold]
    minutes: float


class MeetingTold(Told):
    """A place where hoopings meet; see festoon.proof.values.Meeting. told: the same in sentences; within: how far they
    may miss across, in short."""

    panel: str
    first: int
    second: int
    parts: tuple[str, str]
    at: Spot
    across: Spot
    covariance: tuple[Spot, Spot]
    across_sd: float
    along_sd: float
    lap: float
    gap_chance: float
    pile_chance: float
    lap_wanted: float
    kind: str
    learned: bool
    told: str
    within: str


class ThicknessTold(Told):
    """The picture of how thick a panel's stitching gets: where its left upper corner lies, and its size, mm.
    picture: its address below the piece's own; its tone divided by `shades` is the number of layers."""

    panel: str
    origin: Spot
    size: Spot
    picture: str
    shades: int


class LevelTold(Told):
    """A step of the scale of thickness: layers of thread, the colour that stands for them, and its words."""

    layers: float
    colour: str
    told: str


class UnneededTold(Told):
    """What was accepted and is found no longer."""

    rule: str
    panel: str
    about: list[str]
    told: str


class ProofTold(Told):
    """The proof. told: on meetings, marking and thickness, in sentences. levels: the legend of all thicknesses."""

    revision: str
    verdict: Literal["sound", "look again", "will not work"]
    findings: list[FindingTold]
    told: list[str]
    meetings: list[MeetingTold]
    thickness: list[ThicknessTold]
    levels: list[LevelTold]
    unneeded: list[UnneededTold]


class FileTold(Told):
    """A file that the piece comes to; pages: width and height of each that a sheet has, mm."""

    name: str
    size: int
    pages: list[Spot]


class FilesTold(Told):
    """All of them; refused: what `festoon make` would refuse to make them for."""

    revision: str
    files: list[FileTold]
    refused: list[str]


class WorkTold(Told):
    """Work that was begun."""

    id: str


class At(BaseModel):
    """A request that holds for one revision of the piece."""

    model_config = ConfigDict(extra="forbid")
    revision: str = Field(max_length=200)


class WorkAsked(At):
    """Long work: the hoopings alone; these and the proof; or everything, with files and sheets."""

    what: Literal["hoopings", "proof", "sheets"]
