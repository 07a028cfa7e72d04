"""Beside the machine: steps, ticks, readings, the corrected file.

`festoon.web.bench` is read at the first request only: the other stages need none of the libraries that correct.
"""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from festoon.web.answers_bench import BenchTold, CorrectedTold, ReadingsAsked, TickAsked, VerdictTold
from festoon.web.routes.here import BYTES, OPAQUE, PNG, Here, saved

router = APIRouter(prefix="/bench")


@router.get("")
def hoopings(here: Here) -> BenchTold:
    """Every hooping with its steps, and how far the work is."""
    from festoon.web import bench

    return bench.told(here)


@router.post("/tick")
def tick(here: Here, asked: TickAsked) -> BenchTold:
    """Tick steps, or take ticks back."""
    from festoon.web import bench

    return bench.tick(here, asked)


@router.post("/judge")
def judge(here: Here, asked: ReadingsAsked) -> VerdictTold:
    """What readings come to; nothing is written."""
    from festoon.web import bench

    return bench.judge(here, asked)


@router.post("/true")
def true(here: Here, asked: ReadingsAsked) -> CorrectedTold:
    """Write the corrected file, as `festoon true` does."""
    from festoon.web import bench

    return bench.true(here, asked)


@router.get("/{number}/corrected", response_class=Response, responses={200: BYTES})
def corrected(here: Here, number: int) -> Response:
    """The corrected file of a hooping."""
    from festoon.web import bench

    name, data = bench.corrected(here, number)
    return saved(name, data, OPAQUE)


@router.get("/{number}/sewing.png", response_class=Response, responses={200: PNG})
def sewing(here: Here, number: int) -> Response:
    """What a hooping sews, as it lies in the hoop."""
    from festoon.web import bench

    return Response(bench.picture(here, number, earlier=False), media_type="image/png")


@router.get("/{number}/sewn.png", response_class=Response, responses={200: PNG})
def sewn(here: Here, number: int) -> Response:
    """What lies in the hoop already, sewn by earlier hoopings."""
    from festoon.web import bench

    return Response(bench.picture(here, number, earlier=True), media_type="image/png")
