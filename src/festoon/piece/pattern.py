"""Patterns read from SVG files in true units: an outline and the lines on it, in mm.

Coordinates as in SVG 2 (W3C): chapter 8 for the page's size, its viewBox and transforms, chapter 10 for the shapes.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from xml.parsers import expat

from fontTools.misc.transform import Identity, Transform

from festoon.errors import PieceError
from festoon.plane import Path, from_svg
from festoon.plane.affine import carried
from festoon.work.fields import LONGEST, quoted

OUTLINE = "outline"
"""The id of the path that is the finished outline."""

_PX = 25.4 / 96
"""mm of a CSS pixel, SVG's user unit where there is no viewBox (CSS Values and Units, absolute lengths)."""

_MM = {"mm": 1.0, "cm": 10.0, "q": 0.25, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6}
"""mm of the absolute units (CSS Values and Units)."""

_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_LENGTH = re.compile(rf"\s*({_NUMBER})\s*([a-zA-Z%]*)\s*")
_FUNCTION = re.compile(r"\s*,?\s*(matrix|translate|scale|rotate|skewX|skewY)\s*\(([^()]*)\)")
_HIDDEN = re.compile(r"display\s*:\s*none")
_APART = {"defs", "symbol", "clipPath", "mask", "pattern", "marker", "foreignObject", "svg"}
"""What stands in these is not drawn where it stands."""

Attributes = Mapping[str, str]


@dataclass(frozen=True, eq=False)
class Pattern:
    """The finished outline, and every other line by its name, in mm from the page's left upper corner."""

    outline: Path
    lines: Mapping[str, Path]


def pattern_of(data: bytes) -> Pattern:
    """The pattern that the bytes of an SVG file draw.

    The page's width and height must have an absolute unit; with the viewBox they give the scale. Paths and plain shapes
    with an id are lines of that name, _ standing for a space; one that is not one line is passed over. Raises
    PieceError.
    """
    page = _Page()
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler, parser.EndElementHandler = page.begin, page.end
    parser.EntityDeclHandler = _refuse_entities
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        raise PieceError(
            f"it cannot be read as SVG beyond line {error.lineno}.", remedy="Save the pattern as plain SVG again."
        ) from error
    return page.pattern()


def _refuse_entities(*_: object) -> None:
    raise PieceError("it defines words of its own (entities).", remedy="Save the pattern as plain SVG.")


class _Page:
    """Keeps what the elements draw, each carried by all that stand round it. None on the stack: not drawn."""

    def __init__(self) -> None:
        self._stack: list[Transform | None] = []
        self._lines: dict[str, Path] = {}

    def begin(self, name: str, attributes: dict[str, str]) -> None:
        """An element opens."""
        tag = name.rpartition(" ")[2]
        if not self._stack:
            if tag != "svg":
                raise PieceError("it is no SVG file.", remedy="Save the pattern as SVG.")
            self._stack.append(_page_transform(attributes))
            return
        outer = self._stack[-1]
        hidden = attributes.get("display") == "none" or _HIDDEN.search(attributes.get("style", ""))
        if outer is None or tag in _APART or hidden:
            self._stack.append(None)
            return
        inner = outer.transform(_transform(attributes.get("transform", "")))
        self._stack.append(inner)
        if tag in _DATA and attributes.get("id", "").strip():
            self._draw(attributes["id"].replace("_", " ").strip(), tag, attributes, inner)

    def end(self, _: str) -> None:
        """It closes."""
        self._stack.pop()

    def _draw(self, name: str, tag: str, attributes: Attributes, transform: Transform) -> None:
        if name in self._lines:
            raise PieceError(f"two of its paths are called {quoted(name)}.", remedy="Give each an id of its own.")
        try:
            a, b, c, d, e, f = (float(v) for v in transform)
            self._lines[name] = carried(from_svg(_DATA[tag](attributes)), (a, b, c, d, e, f))
        except PieceError as error:
            if name == OUTLINE:
                raise PieceError(f'its path "{OUTLINE}": {error.what}', remedy=error.remedy) from error

    def pattern(self) -> Pattern:
        """All that was drawn. Raises PieceError where there is no outline, or one too large."""
        if OUTLINE not in self._lines:
            raise PieceError(
                f'it has no path with the id "{OUTLINE}".',
                remedy="Give that id to the path that is the finished outline, seam line to seam line.",
            )
        outline = self._lines.pop(OUTLINE)
        if outline.length > LONGEST:
            raise PieceError(
                f"its outline is longer than {LONGEST / 1000:g} m.", remedy="Look at the page's width and its viewBox."
            )
        return Pattern(outline, self._lines)


def _page_transform(attributes: Attributes) -> Transform:
    """User units to mm (SVG 2, 8.2: the equivalent transform of an SVG viewport)."""
    width, height = (_page_size(attributes.get(side, ""), side) for side in ("width", "height"))
    if "viewBox" not in attributes:
        return Transform(_PX, 0, 0, _PX, 0, 0)
    x, y, w, h = _numbers(attributes["viewBox"], (4,), "viewBox")
    if not (w > 0 and h > 0):
        raise PieceError("its viewBox has no width or no height.", remedy="Save the pattern as SVG again.")
    across, down = width / w, height / h
    align, _, meet = attributes.get("preserveAspectRatio", "xMidYMid").strip().partition(" ")
    if align != "none":
        across = down = max(across, down) if meet.strip() == "slice" else min(across, down)
    share = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    left, top = share.get(align[1:4], 0.0) * (width - w * across), share.get(align[5:8], 0.0) * (height - h * down)
    return Identity.translate(left, top).scale(across, down).translate(-x, -y)


def _page_size(text: str, side: str) -> float:
    match = _LENGTH.fullmatch(text)
    unit = match.group(2).lower() if match else ""
    size = float(match.group(1)) * _MM.get(unit, 0.0) if match else 0.0
    if not 0 < size < math.inf:
        told = f"is {quoted(text)}" if text else "is not given"
        raise PieceError(
            f"its page has no true size: {side} {told}.",
            remedy="Save the pattern with the page's width and height in mm, cm or in.",
        )
    return size


def _transform(text: str) -> Transform:
    """A list of transforms, the first the outermost (SVG 2, 8.5; CSS Transforms 1, the functions)."""
    made, at = Identity, 0
    while text[at:].strip(" \t\r\n,"):
        match = _FUNCTION.match(text, at)
        if match is None:
            raise PieceError(f"it has a transform that cannot be read, {quoted(text)}.", remedy="Save it as plain SVG.")
        made = made.transform(_FUNCTIONS[match.group(1)](match.group(2)))
        at = match.end()
    return made


def _translate(text: str) -> Transform:
    x, *y = _numbers(text, (1, 2), "translate")
    return Identity.translate(x, *y)


def _scale(text: str) -> Transform:
    x, *y = _numbers(text, (1, 2), "scale")
    return Identity.scale(x, *(y or [x]))


def _rotate(text: str) -> Transform:
    turn, *about = _numbers(text, (1, 3), "rotate")
    x, y = about or (0.0, 0.0)
    return Identity.translate(x, y).rotate(math.radians(turn)).translate(-x, -y)


_FUNCTIONS: dict[str, Callable[[str], Transform]] = {
    "matrix": lambda text: Transform(*_numbers(text, (6,), "matrix")),
    "translate": _translate,
    "scale": _scale,
    "rotate": _rotate,
    "skewX": lambda text: Identity.skew(math.radians(*_numbers(text, (1,), "skewX")), 0.0),
    "skewY": lambda text: Identity.skew(0.0, math.radians(*_numbers(text, (1,), "skewY"))),
}


def _numbers(text: str, counts: tuple[int, ...], word: str) -> list[float]:
    found = [float(n) for n in re.findall(_NUMBER, text)]
    if len(found) not in counts or not all(map(math.isfinite, found)) or re.sub(_NUMBER, "", text).strip(" \t\r\n,"):
        raise PieceError(f"its {word} cannot be read, {quoted(text)}.", remedy="Save the pattern as plain SVG.")
    return found


def _lengths(attributes: Attributes, *names: str) -> Iterator[float]:
    """Lengths of a plain shape in user units; 0 for one that is not given."""
    for name in names:
        match = _LENGTH.fullmatch(attributes.get(name, "0"))
        unit = match.group(2).lower() if match else "%"
        if match is None or (unit not in _MM and unit not in ("", "px")):
            raise PieceError(f"its {name} cannot be read.", remedy="Turn the shape into a path.")
        yield float(match.group(1)) * (_MM[unit] / _PX if unit in _MM else 1.0)


def _rect(attributes: Attributes) -> str:
    x, y, w, h, rx, ry = _lengths(attributes, "x", "y", "width", "height", "rx", "ry")
    rx, ry = min(rx if "rx" in attributes else ry, w / 2), min(ry if "ry" in attributes else rx, h / 2)
    if not (rx > 0 and ry > 0):
        return f"M {x} {y} h {w} v {h} h {-w} Z"
    turn = f"a {rx} {ry} 0 0 1"
    return (
        f"M {x + rx} {y} h {w - 2 * rx} {turn} {rx} {ry} v {h - 2 * ry} {turn} {-rx} {ry} "
        f"h {2 * rx - w} {turn} {-rx} {-ry} v {2 * ry - h} {turn} {rx} {-ry} Z"
    )


def _ellipse(x: float, y: float, rx: float, ry: float) -> str:
    """From its right end, clockwise."""
    quarters = ((-rx, ry), (-rx, -ry), (rx, -ry), (rx, ry))
    return f"M {x + rx} {y} " + " ".join(f"a {rx} {ry} 0 0 1 {dx} {dy}" for dx, dy in quarters) + " Z"


def _circle(attributes: Attributes) -> str:
    x, y, r = _lengths(attributes, "cx", "cy", "r")
    return _ellipse(x, y, r, r)


def _line(attributes: Attributes) -> str:
    x1, y1, x2, y2 = _lengths(attributes, "x1", "y1", "x2", "y2")
    return f"M {x1} {y1} L {x2} {y2}"


_DATA: dict[str, Callable[[Attributes], str]] = {
    "path": lambda attributes: attributes.get("d", ""),
    "polygon": lambda attributes: f"M {attributes.get('points', '')} Z",
    "polyline": lambda attributes: f"M {attributes.get('points', '')}",
    "line": _line,
    "rect": _rect,
    "circle": _circle,
    "ellipse": lambda attributes: _ellipse(*_lengths(attributes, "cx", "cy", "rx", "ry")),
}
"""What draws a line, and the path data that draws the same."""
