"""Tucks told: figures, what they use up, the order of the work, what can hurt, and their sentences. Not a technique
itself: festoon.techniques.tucks is."""

from __future__ import annotations

import re

from festoon.measure import Units, fine, needle_nm, show_length, tex_to
from festoon.stitches.consumption import WASTE
from festoon.techniques.fastening import Fastening, thread_use, told
from festoon.techniques.tuck_plan import STRAIGHT, Plan
from festoon.techniques.tuck_words import Tucks
from festoon.work.values import Caution, Figure, Sentence, Step, Supply

TAILS = 100.0
"""mm of both threads left at either end of a row, to be knotted (common practice)."""

HALF = 0.5


def figures(tucks: Tucks, plan: Plan, units: Units) -> tuple[Figure, ...]:
    """What the worker needs to know, each figure once."""

    def row(what: str, value: str, reckoned: str = "computed") -> Figure:
        return Figure(f"{tucks.name}: {what}", value, reckoned)

    known = plan.share.reckoned if tucks.twin else "computed"
    kept = [
        row("tucks", _how_many(tucks, plan)),
        row("taken up", show_length(plan.taken, units), known),
        row(_flat_name(tucks), f"{show_length(plan.flat, units)} for {show_length(plan.breadth, units)}", known),
        row("first line", f"{_from_edge(plan, units)} from the {_edges(tucks)[0]} edge"),
    ]
    if not tucks.twin:
        kept.insert(1, row("depth", _range([t.by / 2 for t in plan.first], units)))
    if plan.gaps:
        kept.insert(2, row("shown between", _range(plan.gaps, units)))
        kept.append(row("first stitching to last", show_length(plan.over, units)))
    if tucks.mirrored:
        kept.append(row("between the groups", show_length(_apart(plan), units)))
    if plan.released or plan.start > STRAIGHT:
        kept.append(row("freed where they end", show_length(plan.taken, units), known))
    return tuple(kept)


def supplies(tucks: Tucks, plan: Plan) -> tuple[Supply, ...]:
    """Thread for their rows, and a twin needle.

    Below a twin needle the bobbin's thread goes to and fro between its two rows, as in a zigzag of that width.
    """
    rows = len(plan.tucks)
    seam = rows * (plan.stop - plan.start)
    needle, bobbin = thread_use(tucks.sewing, seam)
    if tucks.twin:
        across = Fastening(stitch="zigzag", width=tucks.distance, length=tucks.sewing.long, rows=tucks.sewing.rows)
        needle, bobbin = 2 * needle, thread_use(across, seam)[1]
    threads = 3 if tucks.twin else 2
    used = (needle + bobbin) * (1 + WASTE) + rows * tucks.sewing.rows * threads * TAILS
    thread = Supply(
        f"sewing thread, {tex_to(tucks.sewing.thread, 'wt'):.0f} wt",
        used,
        "mm",
        f"computed from the length of every stitch, needle and bobbin together, {WASTE:.0%} waste and ends to knot",
    )
    if not tucks.twin:
        return (thread,)
    label = f"{tucks.distance:.1f}/{100 * needle_nm(tucks.sewing.sewn_with):.0f}"
    return thread, Supply(
        f"twin needle {label}", 1.0, "pieces", "its label: distance and size; some print the size first"
    )


def steps(tucks: Tucks, plan: Plan, units: Units) -> tuple[Step, ...]:
    """Mark, fold and press, stitch, press to the side, check; a twin needle needs no folding."""
    name = tucks.name
    mark = Step(f"mark {name}", " ".join(_marking(tucks, plan, units)), "tuck")
    if tucks.twin:
        sew = Step(f"stitch {name}", " ".join(_twin_sewing(tucks, plan, units)), "tuck", (mark.name,))
        return mark, sew, _checked(tucks, plan, units, sew.name)
    fold = Step(
        f"fold {name}",
        "Fold each tuck on its fold line, wrong sides together, so that its two stitching lines meet, and press the "
        "crease. Baste deep ones.",
        "tuck",
        (mark.name,),
    )
    stitch = Step(f"stitch {name}", " ".join(_sewing(tucks, plan, units)), "tuck", (fold.name,))
    press = Step(
        f"press {name}",
        f"Press each tuck flat as it was sewn, then {_press_told(tucks)}.",
        "tuck",
        (stitch.name,),
    )
    return mark, fold, stitch, press, _checked(tucks, plan, units, press.name)


def _marking(tucks: Tucks, plan: Plan, units: Units) -> list[str]:
    lines = "the rows" if tucks.twin else "fold and stitching lines"
    said = [
        _cut_told(tucks, plan, units),
        f"Mark {lines} on its right side from the template, with a pen that washes out, the first line "
        f"{_from_edge(plan, units)} from the {_edges(tucks)[0]} edge.",
        f"Where other tucks lie nearer to that edge, sew these first: {_from_edge(plan, units)} is measured over them.",
    ]
    if tucks.twin:
        said[-1] += " Try three rows on a scrap: what they take up differs with cloth and tension."
    return said


def _sewing(tucks: Tucks, plan: Plan, units: Units) -> list[str]:
    depth = _range([t.by / 2 for t in plan.first], units)
    said = [
        f"Sew each on its lines, {depth} from the fold, {_way(tucks, plan, units)}: {told(tucks.sewing, units)}.",
        "Keep the side uppermost that will be seen: the needle thread lies neater than the bobbin's.",
    ]
    if plan.released or plan.start > STRAIGHT:
        said.append("Where a tuck is released draw both threads to the wrong side and knot them; do not sew back.")
    return said


def _twin_sewing(tucks: Tucks, plan: Plan, units: Units) -> list[str]:
    return [
        f"Put in a twin needle of {tucks.distance:.1f}, two spools that unwind to opposite sides, and a foot with "
        "grooves. Turn the wheel by hand once round before you sew.",
        f"Sew each row, {_way(tucks, plan, units)}, all in the same direction, the last ridge in a groove of the foot: "
        f"straight stitch {fine(tucks.sewing.long, units)} long.",
    ]


def _checked(tucks: Tucks, plan: Plan, units: Units, after: str) -> Step:
    over = f"From the first stitching to the last must be {show_length(plan.over, units)}. " if plan.gaps else ""
    across = "width" if tucks.run == "down" else "height"
    return Step(
        f"check {tucks.name}",
        f"{over}Measure the panel's {across}: with all its tucks sewn it comes to {show_length(plan.breadth, units)}. "
        "Cut nothing to shape and set nothing across the tucks before it does.",
        "tuck",
        (after,),
    )


def cautions(tucks: Tucks) -> tuple[Caution, ...]:
    """What can hurt at tucks."""
    iron = Caution(
        "The iron: no hotter than the cloth's fibre takes, one dot 110 °C for synthetics, two 150 °C for silk and "
        "wool, three 200 °C for cotton and linen. Try it on the pen's marks first: heat sets some of them.",
        "ISO 3758, from care-label pages; common practice",
    )
    pins = Caution("Count the pins in and out again, and take each out before the foot reaches it.")
    if not tucks.twin:
        return iron, pins
    twin = Caution(
        "Twin needle: straight stitch only, with a plate and foot whose hole is wide enough. Turn the wheel by hand "
        "first to see that both needles pass; a wider stitch or a turn with the needles down breaks them. Find every "
        "piece before you go on. The machine's manual comes first.",
    )
    return twin, iron


def sentences(tucks: Tucks, plan: Plan, units: Units) -> tuple[Sentence, ...]:
    """Their words in sentences with gaps, then what was computed."""
    return (
        *(_said(text) for text in _worded(tucks)),
        Sentence(
            "Stitch length {length}, needle {needle}, thread {thread}.",
            tuple((word, f"sewing.{word}") for word in ("length", "needle", "thread")),
        ),
        *(Sentence(text) for text in computed(tucks, plan, units)),
    )


def computed(tucks: Tucks, plan: Plan, units: Units) -> tuple[str, ...]:
    """What the words come to: how many, how deep, what to cut, where to press."""
    many = _how_many(tucks, plan)
    if tucks.twin:
        row = plan.first[0].by
        told = f"{many}; each row takes up {fine(row, units, 2)} ({plan.share.reckoned})"
    else:
        told = f"{many}, {_range([t.by / 2 for t in plan.first], units)} deep"
    said = [
        f"{told}{_between(plan, units)}.",
        f"They take up {show_length(plan.taken, units)}. {_cut_told(tucks, plan, units)}",
    ]
    if not tucks.twin:
        said.append(f"Press them {_press_way(tucks)}.")
    if plan.released:
        said.append(
            f"They are released {show_length(plan.stop, units)} from the {_edges(tucks)[1]} edge, and free "
            f"{show_length(plan.taken, units)} there."
        )
    return tuple(said)


def _between(plan: Plan, units: Units) -> str:
    """What shows between a fold edge and the next stitching, as the end of a sentence."""
    if not plan.gaps:
        return ""
    if max(abs(gap) for gap in plan.gaps) < STRAIGHT:
        return ", each on the next stitching"
    if min(plan.gaps) < 0:
        return f", up to {fine(-min(plan.gaps), units, 2)} over the next stitching"
    return f", with {_range(plan.gaps, units)} between"


def _worded(tucks: Tucks) -> list[str]:
    said = ["The sort of tuck is {sort}; they run {run} the panel, {count} in a group."]
    if tucks.twin:
        said.append("The needles are {needles} apart, and a row takes up {take_up} of that.")
    elif tucks.sort == "graduated":
        said.append("The first is {depth} deep, each next one {grow} deeper.")
    else:
        said.append("Each is {depth} deep.")
    if tucks.sort != "blind":
        said.append(
            "From one stitching to the next is {apart}." if tucks.apart is not None else "Between two shows {gap}."
        )
    if not (tucks.sort == "blind" and tucks.reduce_by is not None):
        said.append("Wished from the first stitching to the last: {over}.")
    said.append("Cloth to be taken up by all together: {reduce_by}. Flat cloth at hand: {cloth_width}.")
    place = "Their middle lies {middle}" if tucks.middle is not None else "The first lies {first}"
    if tucks.mirrored:
        said.append(f"A second group mirrors them: {{mirrored}}, in the line {{about}}. {place} from it.")
    else:
        said.append(f"{place} from the {_edges(tucks)[0]} edge. A second group mirrors them: {{mirrored}}.")
    press = "" if tucks.twin else ", and pressed {press}"
    said.append(f"They are sewn from {{begin}} inside the edge, for {{sewn}}{press}.")
    return said


def _said(text: str) -> Sentence:
    """A sentence whose gaps are words of the element."""
    return Sentence(text, tuple((word, word) for word in re.findall(r"{(\w+)}", text)))


def _how_many(tucks: Tucks, plan: Plan) -> str:
    count = len(plan.first)
    what = "row" if tucks.twin else "tuck"
    one = f"{count} {what}{'s' * (count != 1)}"
    return f"Two mirrored groups of {one}" if tucks.mirrored else f"{one[0].upper()}{one[1:]}"


def _range(values: list[float] | tuple[float, ...], units: Units) -> str:
    low, high = min(values), max(values)
    if high - low < HALF / 10:
        return fine(low, units, 2)
    return f"{fine(low, units, 2)} to {fine(high, units, 2)}"


def _cut_told(tucks: Tucks, plan: Plan, units: Units) -> str:
    size = "wide" if tucks.run == "down" else "high"
    told = f"{show_length(plan.flat, units)} {size} before tucking; it comes to {show_length(plan.breadth, units)}"
    return f"For these alone cut the cloth {told}."


def _flat_name(tucks: Tucks) -> str:
    return f"cloth {'width' if tucks.run == 'down' else 'height'} before tucking, these alone"


def _from_edge(plan: Plan, units: Units) -> str:
    return show_length(plan.tucks[0].begin, units)


def _apart(plan: Plan) -> float:
    return 2 * (plan.first[0].at - plan.about)


def _edges(tucks: Tucks) -> tuple[str, str]:
    """The edge that tucks are set from, and the one that their stitching begins from."""
    return ("left", "upper") if tucks.run == "down" else ("upper", "left")


def _way(tucks: Tucks, plan: Plan, units: Units) -> str:
    first, last = ("upper", "lower") if tucks.run == "down" else ("left", "right")
    begin = (
        f"{show_length(plan.start, units)} inside the {first} edge" if plan.start > STRAIGHT else f"the {first} edge"
    )
    if not plan.released:
        return f"from {begin} to the {last} edge"
    return f"from {begin} for {show_length(plan.stop - plan.start, units)}"


def _press_way(tucks: Tucks) -> str:
    ways = {
        "left": "to the left",
        "right": "to the right",
        "away": "away from the line between the groups",
        "towards": "towards the line between the groups",
    }
    return ways.get(tucks.pressed, tucks.pressed)


def _press_told(tucks: Tucks) -> str:
    return f"all of them {_press_way(tucks)}, from the right side under a cloth"
