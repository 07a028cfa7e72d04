"""Motif: a stitch file set on the cloth, once or in an arrangement."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from pydantic import Field, model_validator
from shapely.affinity import affine_transform

from festoon.errors import PieceError
from festoon.plane import Pose
from festoon.stitches import Stitching, traced
from festoon.techniques.arrange import ARRANGEMENTS, Along, Pair, Ring, Row, arranged, middle, needs, singly, spread
from festoon.techniques.base import Ask, Beginning, ElementBase, Setting, Technique
from festoon.work.fields import Angle, ElementName, MotifFile, Spot, ThreadName
from festoon.work.values import Handle, Part, Sentence, Work


class Motif(ElementBase):
    """A stitch file set on the cloth, once or several times."""

    kind: Literal["motif"] = Field(description="'motif'.")
    file: MotifFile = Field(description="The stitch file, seen from the piece's folder: 'motifs/sprig.vp3'.")
    at: Spot | None = Field(
        None, description="Where it stands: right and down from the panel's left upper corner. Left out: the middle."
    )
    turn: Angle = Field(0.0, description="Its turn, clockwise.")
    mirror: bool = Field(False, description="true swaps its left and right before it is turned.")
    by: Literal["centre", "start"] | Spot = Field(
        "centre",
        description="The point of the motif that is set on its place: 'centre', 'start' (where the file's own "
        "coordinates begin), or right and down from its centre.",
    )
    threads: tuple[ThreadName, ...] = Field(
        (), description="Threads of the bench for the file's threads, in order. Left out: the colours in the file."
    )
    row: Row | None = Field(None, description="Several in a row.")
    ring: Ring | None = Field(None, description="Several in a ring.")
    pair: Pair | None = Field(None, description="Two that mirror each other.")
    along: Along | None = Field(None, description="Repeated along a line.")
    on: ElementName | None = Field(
        None, description="One in each place that another element leaves for it: in the middle of every pointed oval."
    )

    @model_validator(mode="after")
    def _one_arrangement(self) -> Motif:
        chosen = [word for word in ARRANGEMENTS if getattr(self, word) is not None]
        if len(chosen) > 1:
            raise ValueError(f'"{chosen[0]}" and "{chosen[1]}" both say how it is set out. Keep one of them.')
        settled = next((word for word in ("along", "on") if getattr(self, word) is not None), None)
        if settled and self.at is not None:
            raise ValueError(f'"{settled}" already says where it stands. Take out "at".')
        return self


def work(motif: Motif, setting: Setting) -> Work:
    """Every repeat of the motif as a part; the region is traced once and carried along."""
    own = _about_reference(_threaded(motif, setting), motif.by)
    region, outlines = traced(own)
    at = motif.at or middle(setting)
    poses = arranged(motif, at, setting)
    parts = tuple(
        Part(
            name=motif.name if len(poses) == 1 else f"{motif.name}-{i}",
            element=motif.name,
            panel=setting.panel,
            stitching=own.placed(pose),
            region=affine_transform(region, pose.affine),
            outlines=tuple((k, affine_transform(area, pose.affine)) for k, area in outlines),
            pose=pose,
        )
        for i, pose in enumerate(poses, start=1)
    )
    return Work(
        element=motif.name,
        panel=setting.panel,
        parts=parts,
        handles=(Handle("place", at, "at"), *spread(motif, at)) if motif.along is None and motif.on is None else (),
        sentences=_sentences(motif),
    )


def _threaded(motif: Motif, setting: Setting) -> Stitching:
    """The file's stitching with the threads that the worker named for it, or with its own."""
    stitching = setting.motif(motif.file)
    if not motif.threads:
        return stitching
    if len(motif.threads) != len(stitching.threads):
        raise PieceError(
            f"threads names {len(motif.threads)}, but {motif.file} has {len(stitching.threads)}.",
            remedy="Name one for each, in the file's order; a thread may be named again.",
        )
    return replace(stitching, threads=tuple(setting.thread(name) for name in motif.threads))


def _about_reference(stitching: Stitching, by: str | tuple[float, float]) -> Stitching:
    if by == "start":
        return stitching
    x, y = stitching.centre
    right, down = (0.0, 0.0) if isinstance(by, str) else by
    return stitching.placed(Pose(-x - right, -y - down))


def _sentences(motif: Motif) -> tuple[Sentence, ...]:
    if motif.on is not None:
        each = "One in each place of {on}, its {by} in the middle of it, turned {turn} there. Mirrored: {mirror}."
        return (Sentence(each, tuple((w, w) for w in ("on", "by", "turn", "mirror"))),)
    stands = Sentence(
        "Its {by} stands at {at}, turned {turn}. Mirrored: {mirror}.",
        tuple((w, w) for w in ("by", "at", "turn", "mirror")),
    )
    if motif.row:
        text = "{count} in a row, {spacing} from one to the next, running {direction}."
        return stands, _set_out(text, "row", ("count", "spacing", "direction"))
    if motif.ring:
        text = (
            "{count} in a ring of radius {radius}, the first {start} from the top. Each turned with the ring: {follow}."
        )
        return stands, _set_out(text, "ring", ("count", "radius", "start", "follow"))
    if motif.pair:
        text = "Two that mirror each other, {apart} apart, in a line turned {axis} from upright."
        return stands, _set_out(text, "pair", ("apart", "axis"))
    if motif.along:
        text = (
            "Repeated along {line}, about {spacing} from one to the next and {aside} to the right of it, with {clear} "
            "left free at every corner and end. On the corners, too: {corners}. Each turned with the line: {follow}."
        )
        return (
            _set_out(text, "along", ("line", "spacing", "aside", "clear", "corners", "follow")),
            Sentence("Turned {turn}. Mirrored: {mirror}.", (("turn", "turn"), ("mirror", "mirror"))),
        )
    return (stands,)


def _set_out(text: str, arrangement: str, words: tuple[str, ...]) -> Sentence:
    return Sentence(text, tuple((w, f"{arrangement}.{w}") for w in words))


BEGINNINGS = (
    Beginning(
        told="a motif from a file",
        sentence="Stitching that you have as a file, set down once or in a row, a ring, a pair or along a line.",
        asks=(Ask("file", "Which file?"), Ask("at", "Where shall it stand?")),
        example={"file": "motifs/sprig.vp3", "turn": 50},
    ),
    Beginning(
        told="a motif in each repeat",
        sentence="Stitching that you have as a file, once in each place that lace or another element leaves for it.",
        asks=(Ask("file", "Which file?"), Ask("on", "In whose places shall it stand?")),
        example={"file": "motifs/sprig.vp3", "along": {"line": "M 0 22 H 80", "spacing": 27}},
    ),
)

TECHNIQUE = Technique(
    kind="motif", model=Motif, needs=needs, work=work, told="a motif", begins=BEGINNINGS, singly=singly
)
