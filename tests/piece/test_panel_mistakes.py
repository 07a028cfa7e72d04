"""Panels whose words contradict each other: each told in one sentence with file, line and remedy."""

from collections.abc import Callable
from pathlib import Path

import pytest

from festoon.errors import PieceError
from festoon.piece import read_piece

Write = Callable[[str], Path]

HEAD = '[piece]\nname = "Gown"\n\n[[panel]]\nname = "skirt"\n'
FLARED = "flared = { waist_radius = 200, hem_radius = 600, angle = 90 }\n"
SQUARE = 'cut = "M 60 60 H 160 V 160 H 60 Z"\n'

MISTAKES = {
    "neither size nor shape": (
        "",
        'line 4, panel "skirt": "size" is missing: the width and height of the cloth. '
        "Give it, or a shape: flared, circle, ring, cut or file.",
    ),
    "two shapes": (
        FLARED + "circle = { diameter = 90 }\n",
        'line 4, panel "skirt": "flared" and "circle" each give it a shape. Keep one of them.',
    ),
    "place of no shape": (
        "size = [9, 9]\nat = [1, 1]\n",
        'line 4, panel "skirt": "at" says where a shape stands on its block, and this panel has none. Take it out.',
    ),
    "hem inside the waist": (
        "flared = { waist_radius = 600, hem_radius = 200, angle = 90 }\n",
        'line 6, panel "skirt": "flared": hem_radius must be greater than waist_radius by 1 mm at least, and they '
        "are 200 mm and 600 mm. Both are measured from the same centre.",
    ),
    "more than a circle": (
        FLARED.replace("90", "400"),
        'line 6, panel "skirt": "flared.angle" is 400, but it must be an angle from 1 to 360°.',
    ),
    "shape larger than its block": (
        FLARED + 'seam = 12\nsize = ["50 cm", 700]\n',
        'line 8, panel "skirt": it is cut 882.5 mm by 487.5 mm with its allowances, and its block is 500 mm by 700 mm. '
        'Make "size" larger, or leave it out.',
    ),
    "shape off its block": (
        "circle = { diameter = 100 }\nsize = [200, 200]\nat = [100, 30]\n",
        'line 8, panel "skirt": its cut edge reaches 20 mm beyond the upper edge of its block. '
        "Move the shape, or make the block larger.",
    ),
    "path beyond its block": (
        SQUARE + "seam = 70\n",
        'line 6, panel "skirt": its cut edge reaches 10 mm beyond the left edge of its block. Move the shape.',
    ),
    "outline crossing itself": (
        'cut = "M 0 0 L 90 90 L 90 0 L 0 90 Z"\n',
        'line 6, panel "skirt": its outline crosses itself. Take the crossing out.',
    ),
    "outline left open": (
        'cut = "M 60 60 H 160 V 160 H 60"\n',
        'line 6, panel "skirt": its outline does not come back to where it begins. End its path data with "Z".',
    ),
    "outline that is no path": (
        'cut = "60 60"\n',
        'line 6, panel "skirt": "cut": The path data cannot be read at "6" at character 1. Path data begins with M and '
        "two numbers, then has commands out of M L H V C S Q T A Z with theirs.",
    ),
    "allowances that meet": (
        "size = [100, 80]\nseam = 40\n",
        'line 7, panel "skirt": its allowances leave nothing of a panel of 100 mm by 80 mm. '
        "Make them smaller, or the panel larger.",
    ),
    "seams that meet round a wide flare": (
        FLARED.replace("90", "359") + "seam = 12\n",
        'line 7, panel "skirt": its allowances run into each other where an edge is short or turns tightly. '
        "Make them smaller, or smooth the edge.",
    ),
    "seam wider than the waist's radius": (
        FLARED.replace("200", "10") + "seam = 12\n",
        'line 7, panel "skirt": its allowances run into each other where an edge is short or turns tightly. '
        "Make them smaller, or smooth the edge.",
    ),
    "hem allowance of no hem": (
        SQUARE + "hem_allowance = 30\n",
        'line 7, panel "skirt": it has a hem allowance, and no line called "hem". '
        "Name the edge that is the hem among its lines, or leave hem_allowance out.",
    ),
    "hem across the middle": (
        SQUARE + 'hem_allowance = 30\nlines = { hem = "M 60 100 H 160" }\n',
        'line 7, panel "skirt": the line "hem" is no edge of it. '
        "Draw the line along the outline, from corner to corner.",
    ),
    "hem beyond all measure": (
        SQUARE + 'hem_allowance = 30\nlines = { hem = "M 60 160 L 1e9 1e9" }\n',
        'line 7, panel "skirt": the line "hem" is no edge of it. '
        "Draw the line along the outline, from corner to corner.",
    ),
    "outline beyond all measure": (
        'cut = "M 0 0 H 1e300 V 1e300 Z"\n',
        'line 6, panel "skirt": its outline is longer than 100 m. Look at the units of its path data: they are mm.',
    ),
    "fold of no line": (
        FLARED + 'fold = "left saem"\n',
        'line 7, panel "skirt": no line of it is called "left saem". Did you mean "left seam"?',
    ),
    "fold of no line of an outline": (
        SQUARE + 'fold = "middle"\n',
        'line 7, panel "skirt": no line of it is called "middle". Name the edge as a line.',
    ),
    "fold of a curve": (
        FLARED + 'fold = "hem"\n',
        'line 7, panel "skirt": "hem" is no straight edge of it, so it cannot lie on a fold. '
        "Name the straight edge that lies on the fold.",
    ),
    "fold inside": (
        FLARED + 'fold = "centre front"\n',
        'line 7, panel "skirt": "centre front" is no straight edge of it, so it cannot lie on a fold. '
        "Name the straight edge that lies on the fold.",
    ),
    "fold in the closing seam": (
        FLARED + 'closes = true\nfold = "left seam"\n',
        'line 8, panel "skirt": its "left seam" cannot lie on the fold and be sewn in a seam. Take fold or closes out.',
    ),
    "circle that closes": (
        "circle = { diameter = 90 }\ncloses = true\n",
        'line 7, panel "skirt": it closes on itself already and has no left and right seam. Take closes out.',
    ),
    "outline that closes without seams": (
        SQUARE + "closes = true\n",
        'line 7, panel "skirt": it has no lines called "left seam" and "right seam" to be sewn to each other. '
        "Name the two edges among its lines, or take closes out.",
    ),
    "centre front beside the panel": (
        "size = [90, 90]\ncentre_front = 95\n",
        'line 7, panel "skirt": its centre front lies outside of it. Give how far from the block\'s left edge it runs.',
    ),
    "own line of a taken name": (
        FLARED + '\n[panel.lines]\nlace = "M 0 0 H 9"\nhem = "M 0 0 H 9"\n',
        'line 10, panel "skirt": "hem" is a line of this panel already: an edge of the flared panel. '
        "Give your own line another name.",
    ),
    "own line called as an edge of the rectangle": (
        'size = [90, 90]\nlines = { top = "M 0 5 H 90" }\n',
        'line 7, panel "skirt": "top" is a line of this panel already: an edge of the rectangle. '
        "Give your own line another name.",
    ),
    "pattern that is no SVG": (
        'file = "patterns/yoke.pdf"\n',
        'line 6, panel "skirt": "file": "patterns/yoke.pdf" is no SVG file. '
        'Save the pattern as one: "patterns/yoke.svg".',
    ),
    "pattern outside the folder": (
        'file = "../yoke.svg"\n',
        'line 6, panel "skirt": "file": "../yoke.svg" leads out of the piece\'s folder. '
        'Copy it into patterns and write "patterns/...".',
    ),
}


@pytest.mark.parametrize("case", MISTAKES)
def test_one_mistake_one_sentence(case: str, piece_folder: Write) -> None:
    words, told = MISTAKES[case]
    with pytest.raises(PieceError) as error:
        read_piece(piece_folder(HEAD + words))
    assert str(error.value) == f"piece.toml, {told}"


def test_lengths_are_told_in_the_pieces_units(piece_folder: Write) -> None:
    text = HEAD.replace("\n\n", '\nunits = "inch"\n\n', 1) + "circle = { diameter = 254 }\nsize = [127, 127]\n"
    with pytest.raises(PieceError, match="it is cut 10 in by 10 in with its allowances, and its block is 5 in"):
        read_piece(piece_folder(text))


def test_a_line_called_hem_on_a_rectangle_is_the_workers_own(piece_folder: Write) -> None:
    (panel,) = read_piece(piece_folder(HEAD + 'size = [90, 90]\nlines = { hem = "M 0 80 H 90" }\n')).panels
    assert panel.lines == {"hem": "M 0 80 H 90"}
