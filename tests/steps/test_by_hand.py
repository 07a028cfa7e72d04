"""The whole work in one order: nothing lost, nothing twice, what comes before before."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from festoon.steps import STAGES, Deed, in_order
from festoon.work.values import Step, Work

PANELS = ("front", "back", "yoke")


def step(name: str, stage: str, *after: str) -> Step:
    return Step(name, f"Do {name}.", stage, after)  # type: ignore[arg-type]


def work(element: str, panel: str, *steps: Step) -> Work:
    return Work(element, panel, steps=steps)


def names(deeds: tuple[Deed, ...]) -> list[str]:
    return [d.name for d in deeds]


LACE = work(
    "hem lace",
    "front",
    step("trace", "prepare"),
    step("shape", "shape", "trace"),
    step("lay", "set", "shape"),
    step("trim", "trim", "lay"),
)


def test_by_stage_with_the_hoopings_in_their_place() -> None:
    told = in_order([LACE], PANELS, {"front": (1, 2, 3), "back": (4,)})
    assert names(told) == ["trace", "hoopings", "hoopings", "shape", "lay", "trim"]
    assert told[1] == Deed("hoopings", "Sew hoopings 1 to 3 (work sheet).", "embroider", "front")
    assert told[2].text == "Sew hooping 4 (work sheet)."
    assert told[3] == Deed("shape", "Do shape.", "shape", "front", "hem lace")


def test_a_garment_panel_is_cut_out_when_the_work_on_its_block_is_done() -> None:
    """An heirloom sewing magazine: blocks are made oversize, then cut."""
    edged = work("edging", "front", step("gather", "edge"))
    told = in_order([LACE, edged], PANELS, {"front": (1,)}, shaped={"front"})
    assert names(told) == ["trace", "hoopings", "shape", "lay", "trim", "cut out", "gather"]
    assert told[5] == Deed(
        "cut out", "Cut front out of its block, along the cut edge of its template.", "cut out", "front"
    )


def test_within_a_stage_panel_by_panel_then_element_by_element() -> None:
    works = [
        work("b", "yoke", step("set b", "set")),
        work("z", "front", step("set z", "set")),
        work("a", "front", step("set a", "set"), step("ready a", "prepare")),
    ]
    assert names(in_order(works, PANELS, {})) == ["ready a", "set z", "set a", "set b"]


def test_what_must_come_before_is_done_before_even_from_a_later_stage() -> None:
    """Edging may be sewn to lace before the lace is set on the cloth (an heirloom magazine tutorial on shaped lace)."""
    works = [work("lace", "front", step("shape", "shape"), step("edge", "edge", "shape"), step("lay", "set", "edge"))]
    assert names(in_order(works, PANELS, {"back": (1,)})) == ["hoopings", "shape", "edge", "lay"]


def test_tucks_come_before_all_else_on_their_panel() -> None:
    tucks = work("tucks", "front", step("starch", "prepare"), step("stitch", "tuck", "starch"))
    other = work("insertion", "back", step("ready insertion", "prepare"))
    told = names(in_order([LACE, tucks, other], PANELS, {"front": (1,)}))
    assert told == ["starch", "ready insertion", "stitch", "trace", "hoopings", "shape", "lay", "trim"]


def test_hoopings_by_their_numbers() -> None:
    told = [d.text for d in in_order([], PANELS, {"front": (7, 1, 3, 5, 6), "back": (2, 4)})]
    assert told == ["Sew hoopings 1, 3 and 5 to 7 (work sheet).", "Sew hoopings 2 and 4 (work sheet)."]


def test_steps_that_wait_for_each_other_are_not_lost() -> None:
    ring = work("ring", "front", step("a", "set", "b"), step("b", "set", "a"), step("c", "set", "c", "not there"))
    assert sorted(names(in_order([ring], PANELS, {}))) == ["a", "b", "c"]


@st.composite
def works(draw: st.DrawFn) -> list[Work]:
    made = []
    for number in range(draw(st.integers(0, 5))):
        steps: list[Step] = []
        for k in range(draw(st.integers(0, 6))):
            after = draw(st.lists(st.sampled_from([s.name for s in steps]), max_size=3)) if steps else []
            steps.append(step(f"{number}.{k}", draw(st.sampled_from(STAGES)), *after))
        order = draw(st.permutations(steps))
        made.append(work(f"element {number}", draw(st.sampled_from(PANELS)), *order))
    return made


@given(works(), st.dictionaries(st.sampled_from(PANELS), st.just((1, 2))))
def test_nothing_is_lost_and_each_comes_after_what_it_waits_for(
    made: list[Work], hoopings: dict[str, tuple[int]]
) -> None:
    told = in_order(made, PANELS, hoopings)
    by_hand = [(d.element, d.name) for d in told if d.element]
    assert sorted(by_hand) == sorted((w.element, s.name) for w in made for s in w.steps)
    assert sorted(d.panel for d in told if not d.element) == sorted(hoopings)
    place = {name: k for k, name in enumerate(by_hand)}
    for w in made:
        for s in w.steps:
            assert all(place[w.element, name] < place[w.element, s.name] for name in s.after)


@given(works(), st.dictionaries(st.sampled_from(PANELS), st.just((1,))))
def test_where_nothing_waits_the_stages_come_in_their_order(made: list[Work], hoopings: dict[str, tuple[int]]) -> None:
    free = [
        Work(w.element, w.panel, steps=tuple(Step(s.name, s.text, s.stage) for s in w.steps if s.stage != "tuck"))
        for w in made
    ]
    stages = [STAGES.index(d.stage) for d in in_order(free, PANELS, hoopings)]
    assert stages == sorted(stages)


@given(works(), st.dictionaries(st.sampled_from(PANELS), st.just((1,))))
def test_no_hooping_comes_before_the_tucks_of_its_panel(made: list[Work], hoopings: dict[str, tuple[int]]) -> None:
    told = in_order(made, PANELS, hoopings)
    for panel in hoopings:
        here = [d for d in told if d.panel == panel]
        sewn = next(k for k, d in enumerate(here) if not d.element)
        assert not any(d.stage == "tuck" for d in here[sewn:])
