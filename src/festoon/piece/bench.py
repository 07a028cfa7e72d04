"""The bench: what the worker has (machine, hoops, needle, threads, bobbin, stabiliser) and what she measured."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from festoon.stitches.thread import RAYON_120_2, Thread
from festoon.work.fields import Angle, Colour, Length, NeedleSize, PositiveLength, Table, ThreadWeight

OUTER_RING = 20.0
"""mm from the field to the outside of the outer ring, where a hoop does not say (common practice)."""

INNER_RING = 10.0
"""mm from the field to the inside of the inner ring, where a hoop does not say (common practice)."""


class Machine(Table):
    """The machine."""

    name: str = Field("the machine", description="What you call it.")
    format: Literal["dst", "exp", "pes", "jef", "vp3"] = Field("dst", description="The stitch file that it reads.")
    speed: float = Field(
        600.0, gt=0, le=5000, allow_inf_nan=False, description="Stitches a minute at the speed you sew."
    )
    change_minutes: float = Field(
        1.5, ge=0, le=60, allow_inf_nan=False, description="Minutes for one change of thread."
    )
    hooping_minutes: float = Field(
        8.0, ge=0, le=240, allow_inf_nan=False, description="Minutes to hoop and line up once."
    )
    most_stitches: int | None = Field(None, ge=1, description="The most stitches that it takes in one file.")
    most_stops: int | None = Field(
        None, ge=1, description="The most stops that it takes in one file, changes of thread and crosses together."
    )


class Hoop(Table):
    """A hoop and the field that the machine sews in it."""

    name: str = Field("hoop", min_length=1, description="What you call it.")
    field: tuple[PositiveLength, PositiveLength] = Field(description="The true sewing field, width and height.")
    outer: tuple[PositiveLength, PositiveLength] | None = Field(
        None,
        description="Outside of the outer ring, width and height. "
        f"Left out: the field and {OUTER_RING:g} mm all round.",
    )
    inner: tuple[PositiveLength, PositiveLength] | None = Field(
        None, description=f"Inside of the inner ring. Left out: the field and {INNER_RING:g} mm all round."
    )
    magnetic: bool = Field(False, description="true where strong magnets hold the cloth.")

    @property
    def outer_size(self) -> tuple[float, float]:
        """Outside of the outer ring, mm."""
        return self.outer or (self.field[0] + 2 * OUTER_RING, self.field[1] + 2 * OUTER_RING)

    @property
    def inner_size(self) -> tuple[float, float]:
        """Inside of the inner ring, mm."""
        return self.inner or (self.field[0] + 2 * INNER_RING, self.field[1] + 2 * INNER_RING)


class Needle(Table):
    """The needle in the machine."""

    size: NeedleSize = Field("75/11", description="'75/11', '90' or a size in hundredths of a millimetre.")
    point: str = Field("embroidery", description="Its point: embroidery, sharp, universal, ball, ...")


class BenchThread(Table):
    """A thread on the shelf: used wherever a stitch file has just its colour, and wherever its name is asked for."""

    name: str = Field(min_length=1, description="What you call it; joins ask for it by this name.")
    colour: Colour = Field(description="Its colour, '#66845f'.")
    weight: ThreadWeight = Field(RAYON_120_2, description="'40 wt', '120/2 den', 'tex 25', 'Nm 60', '267 dtex'.")


class Bobbin(Table):
    """The bobbin."""

    metres: float = Field(
        100.0, gt=0, le=100000, allow_inf_nan=False, description="Thread that one bobbin holds, in metres."
    )
    weight: ThreadWeight = Field(140 / 9, description="Its thread's number, as for the top thread.")


class Stabiliser(Table):
    """What lies under the cloth."""

    name: str = Field("tear-away", description="Its kind, in your words.")
    roll_width: PositiveLength = Field(305.0, description="Width of the roll.")
    layers: int = Field(1, ge=1, le=9, description="Layers under every hooping.")


class Measured(Table):
    """What the worker measured on her own machine; each replaces a rule of thumb."""

    marking: Length | None = Field(
        None, ge=0, description="How far off a cross is drawn: the root mean square of its distance from its place."
    )
    reading: Length | None = Field(None, ge=0, description="The same of setting the needle over a cross.")
    seating: Length | None = Field(None, ge=0, description="The same of the hoop's seat in its carrier.")
    shift: Length | None = Field(
        None, ge=0, le=10, description="How far a whole hooping still lies off after lining up, root mean square."
    )
    turn: Angle | None = Field(
        None, ge=0, le=10, description="How far a whole hooping is still turned after lining up, root mean square."
    )
    drawn_along: float | None = Field(
        None, ge=0, le=0.1, description="How much stitching draws the cloth in along its stitches: 0.01 is 1 %."
    )
    drawn_across: float | None = Field(
        None, ge=0, le=0.1, description="How much stitching draws the cloth in across its stitches."
    )
    cloth_thickness: Length | None = Field(None, ge=0, description="Cloth and stabiliser together, under the foot.")
    top_share: float | None = Field(None, ge=0.4, le=0.95, description="Top thread's share of all thread used.")
    cover: Length | None = Field(
        None, gt=0, description="The widest satin spacing, hole to hole on one side, that hides the cloth."
    )
    twin_take_up: float | None = Field(
        None,
        ge=0,
        le=1,
        description="Share of the needles' distance that a row of the twin needle takes up of the cloth: 0.7 is 1.4 mm "
        "of needles 2 mm apart.",
    )
    cloth: str = Field("", description="The cloth that these figures hold for, in your words.")
    stabiliser: str = Field("", description="The stabiliser that they hold for, in your words.")


class Bench(Table):
    """bench.toml as a whole."""

    machine: Machine = Field(Machine(), description="The machine.")
    hoop: tuple[Hoop, ...] = Field(min_length=1, description="The hoops, the usual one first.")
    needle: Needle = Field(Needle(), description="The needle in the machine.")
    thread: tuple[BenchThread, ...] = Field((), description="The threads on the shelf, the usual one first.")
    bobbin: Bobbin = Field(Bobbin(), description="The bobbin.")
    stabiliser: Stabiliser = Field(Stabiliser(), description="What lies under the cloth.")
    measured: Measured = Field(Measured(), description="What you measured yourself, each in place of a rule of thumb.")


def thread_name(thread: Thread, bench: Bench) -> str:
    """The worker's own name for a thread where her shelf holds that colour, else the colour's."""
    return next((t.name for t in bench.thread if t.colour == thread.colour), thread.name)
