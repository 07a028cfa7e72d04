"""What the stage beside the machine is told and what it may ask, typed."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from festoon.web.answers import At, Spot, ThreadTold, Told

FARTHEST = 1000.0
"""mm beyond which no reading can be meant: larger than any hoop (own choice)."""

MOST_MARKS, MOST_STEPS = 100, 1000
"""Of one request (own choice)."""

Judged = Literal["sound", "look again", "will not work"]
Off = Annotated[float, Field(ge=-FARTHEST, le=FARTHEST, allow_inf_nan=False)]
Name = Annotated[str, Field(max_length=20)]


class CautionTold(Told):
    """What can hurt, and where that comes from."""

    text: str
    source: str


class StepTold(Told):
    """A step; done: when it was ticked, null where it is not. thread: the one that it is about."""

    name: str
    kind: Literal["care", "mark", "hoop", "thread", "check", "sew", "out"]
    do: str
    told: list[str]
    minutes: float
    thread: ThreadTold | None
    cautions: list[CautionTold]
    done: str | None


class CrossTold(Told):
    """A cross, in the order of the needle check: where it stands in the hoop, mm from the middle of the field."""

    name: str
    in_hoop: Spot


class HeldTold(Told):
    """A hoop: its field, and its rings' outer and inner size."""

    name: str
    field: Spot
    outer: Spot
    inner: Spot


class TruedTold(Told):
    """What was read of a hooping before, and the corrected file that lies ready."""

    file: str
    readings: dict[str, Spot]


class BenchHooping(Told):
    """One hooping at the machine.

    holds: what it sews, in words. centre, turn: where the middle of its field lies on the panel, and how it is turned.
    cloth: where there is cloth in the hoop, in the hoop's axes. note: what is to be said of its ticks.
    """

    number: int
    panel: str
    holds: str
    reason: str
    file: str
    hoop: HeldTold
    centre: Spot
    turn: float
    cloth: list[Spot]
    crosses: list[CrossTold]
    needle: str
    threads: list[ThreadTold]
    expected: str
    steps: list[StepTold]
    minutes_left: float
    note: str
    trued: TruedTold | None


class BenchTold(Told):
    """All hoopings; ticks: the name of what is ticked; hooping: the one that the work is at; lost: what is to be said
    of ticked hoopings that are there no more; refused: what will not work by the proof."""

    revision: str
    ticks: str
    hooping: int
    hoopings: list[BenchHooping]
    minutes_left: float
    lost: list[str]
    refused: list[str]


class TickAsked(At):
    """Steps of a hooping that are done, or not done after all; ticks: what was seen to be ticked before."""

    ticks: str = Field(max_length=200)
    hooping: int = Field(ge=1)
    steps: list[Annotated[str, Field(max_length=200)]] = Field(max_length=MOST_STEPS)
    done: bool = True


class ReadingsAsked(At):
    """How far off the crosses of a hooping were seen: right and down, mm, by their names."""

    hooping: int = Field(ge=1)
    readings: dict[Name, tuple[Off, Off]] = Field(max_length=MOST_MARKS)


class VerdictTold(Told):
    """What readings come to; short: the gist of it, told: all of it. judged: how grave it is."""

    verdict: Literal["sound", "stretched", "stretched or misread", "misread", "hoop again"]
    judged: Judged
    usable: bool
    short: str
    told: list[str]


class CorrectedTold(VerdictTold):
    """The same with the corrected file's name, null where it must not be sewn so; made: whether all files had to be
    made first, in a sentence."""

    file: str | None
    made: str
