"""Every mistake in a piece or bench file is told in one whole plain sentence with file, line, element and remedy."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from festoon.errors import PieceError
from festoon.piece import read_piece
from festoon.piece.near import listed
from festoon.piece.words import words_of
from festoon.techniques import TECHNIQUES
from festoon.work.fields import quoted
from tests.piece.conftest import BENCH, HEAD, MOTIF

Write = Callable[..., Path]

JOIN = '[[element]]\nkind = "join"\nname = "stem"\npath = "M 10 10 H 50"\n'


def words(kind: str) -> str:
    """The words of a technique."""
    return ", ".join(words_of(TECHNIQUES[kind].model))


ONE_MISTAKE = {
    "misspelt word": (
        HEAD + JOIN + "widht = 3\n",
        'piece.toml, line 12, join "stem": there is no word "widht" here. Did you mean "width"?',
    ),
    "spacing finer than the machine sews": (
        HEAD + JOIN + 'spacing = "0.0001 mm"\n',
        'piece.toml, line 12, join "stem": "spacing" is "0.0001 mm", but it must be a length of 0.1 mm or more.',
    ),
    "stitches shorter than the machine sews": (
        HEAD + JOIN + 'stitch = "running"\nlength = 0.25\n',
        'piece.toml, line 13, join "stem": "length" is 0.25, but it must be a length of 0.3 mm or more.',
    ),
    "line of a panel that cannot be read": (
        HEAD + 'lines = { hem = "M 0 0 H 50", edge = "to the left" }\n',
        'piece.toml, line 8, panel "front": "lines.edge": The path data cannot be read at "t" at character 1. '
        "Path data begins with M and two numbers, then has commands out of M L H V C S Q T A Z with theirs.",
    ),
    "line of a panel that is two lines": (
        HEAD + '[panel.lines]\nhem = "M 0 0 H 50 M 0 10 H 50"\n',
        'piece.toml, line 9, panel "front": "lines.hem": The path data draws 2 separate lines. '
        "Give the data of one line: one M at its start and no other.",
    ),
    "misspelt word that must be there is told once": (
        HEAD.replace("size", "szie"),
        'piece.toml, line 6, panel "front": there is no word "szie" here. Did you mean "size"?',
    ),
    "unknown word": (
        HEAD + "zzz = 3\n",
        'piece.toml, line 8, panel "front": there is no word "zzz" here. '
        "The words are: name, size, cloth, grain, flared, circle, ring, cut, file, at, seam, hem_allowance, "
        "centre_front, fold, closes, lines.",
    ),
    "word that is the name of its own technique": (
        HEAD + JOIN + "join = 3\n",
        f'piece.toml, line 12, join "stem": there is no word "join" here. The words are: {words("join")}.',
    ),
    "unknown word in an inner table": (
        HEAD + MOTIF + "row = { count = 3, spacing = 9, step = 2 }\n",
        'piece.toml, line 12, motif "sprig": there is no word "step" in "row". '
        "The words are: count, spacing, direction.",
    ),
    "unknown table": (
        HEAD + '[[elment]]\nname = "a"\n',
        'piece.toml, line 8: there is no table "elment". Did you mean "element"?',
    ),
    "unknown table like no other": (
        HEAD + "[zzz]\n",
        'piece.toml, line 8: there is no table "zzz". The tables are [piece], [[panel]], [hooping], [[element]] and '
        "[[accepted]].",
    ),
    "word before every table": (
        'name = "x"\n' + HEAD,
        'piece.toml, line 1: the word "name" stands before every table. '
        "Put it below the table it belongs to: [piece], [[panel]], [hooping], [[element]] and [[accepted]].",
    ),
    "misspelt technique": (
        HEAD + '[[element]]\nname = "a"\nkind = "motiv"\n',
        'piece.toml, line 10, element "a": there is no technique "motiv". Did you mean "motif"?',
    ),
    "technique that is a number": (
        HEAD + "[[element]]\nkind = 3\n",
        'piece.toml, line 9, element 1: "kind" is 3, but it must be the name of a technique. '
        f"Write {listed(map(quoted, TECHNIQUES))}.",
    ),
    "technique like no other": (
        HEAD + '[[element]]\nkind = "zzz"\n',
        'piece.toml, line 9, element 1: there is no technique "zzz". '
        f"The techniques are {listed(map(quoted, TECHNIQUES), 'and')}.",
    ),
    "no technique": (
        HEAD + '[[element]]\nname = "a"\n',
        'piece.toml, line 8, element "a": "kind" is missing. '
        f"It says which technique this is, {listed(map(quoted, TECHNIQUES))}.",
    ),
    "missing word": (
        HEAD + MOTIF.replace('file = "motifs/sprig.vp3"\n', ""),
        'piece.toml, line 8, motif "sprig": "file" is missing: '
        "the stitch file, seen from the piece's folder: 'motifs/sprig.vp3'.",
    ),
    "missing name": (
        HEAD + MOTIF.replace('name = "sprig"\n', ""),
        'piece.toml, line 8, element 1: "name" is missing: what you call it; no two elements share a name.',
    ),
    "missing word of an inner table": (
        HEAD + MOTIF + "[element.row]\ncount = 3\n",
        'piece.toml, line 12, motif "sprig": "row.spacing" is missing: from one to the next.',
    ),
    "missing table": (
        HEAD.partition("[[panel]]")[0],
        "piece.toml, line 1: there is no [[panel]] in it: the panels of cloth. Add a line [[panel]].",
    ),
    "one bracket where there may be several": (
        HEAD.replace("[[panel]]", "[panel]"),
        "piece.toml, line 4: [panel] has one pair of brackets, but there may be several. Write [[panel]].",
    ),
    "two brackets where there is one": (
        HEAD.replace("[piece]", "[[piece]]"),
        "piece.toml, line 1: [[piece]] has two pairs of brackets, but there is only one. Write [piece].",
    ),
    "number for a table": (
        "hooping = 3\n" + HEAD,
        'piece.toml, line 1: "hooping" is 3, but it must be a table.',
    ),
    "number for a list of tables": (
        "element = 3\n" + HEAD,
        'piece.toml, line 1: "element" is 3, but it must be tables. Begin each with a line [[element]].',
    ),
    "list of numbers for a list of tables": (
        "element = [3]\n" + HEAD,
        "piece.toml, line 1, element 1: this is 3, but it must be a table.",
    ),
    "no panels": (
        'panel = []\n[piece]\nname = "x"\n',
        'piece.toml, line 1: "panel" is [], but it must be tables. Begin each with a line [[panel]].',
    ),
    "one number for two": (
        HEAD.replace('["40 cm", 300]', "40"),
        'piece.toml, line 6, panel "front": "size" is 40, but it must be two lengths above 0. '
        "Write both in brackets: [120, 80].",
    ),
    "one number in brackets for two": (
        HEAD.replace('["40 cm", 300]', "[40]"),
        'piece.toml, line 6, panel "front": "size" is [40], but it must be two lengths above 0.',
    ),
    "three numbers for two": (
        HEAD.replace('["40 cm", 300]', "[1, 2, 3]"),
        'piece.toml, line 6, panel "front": "size" is [1, 2, 3], but it must be two lengths above 0.',
    ),
    "negative size": (
        HEAD.replace('["40 cm", 300]', '[\n  "40 cm",\n  "-3 mm",\n]'),
        'piece.toml, line 8, panel "front": the second value of "size" is "-3 mm", but it must be a length above 0.',
    ),
    "no number": (
        HEAD.replace("300", "nan"),
        'piece.toml, line 6, panel "front": the second value of "size": the length is not a finite number. '
        "Write it in plain digits.",
    ),
    "infinite": (
        HEAD + "[hooping]\nmargin = inf\n",
        'piece.toml, line 9, [hooping]: "margin": the length is not a finite number. Write it in plain digits.',
    ),
    "strange unit": (
        HEAD + JOIN + 'width = "3 furlongs"\n',
        'piece.toml, line 12, join "stem": "width": "furlongs" in "3 furlongs" is not a unit known here. '
        "The units are mm, cm, m, in, ft and yd.",
    ),
    "far too long": (
        HEAD + JOIN + "width = 1e9\n",
        'piece.toml, line 12, join "stem": "width": 1000000000.0 is longer than 100 m. Look at its unit.',
    ),
    "true for a length": (
        HEAD + JOIN + "width = true\n",
        'piece.toml, line 12, join "stem": "width" is true, but it must be a length above 0.',
    ),
    "list for a length": (
        HEAD + JOIN + "width = [1, 2]\n",
        'piece.toml, line 12, join "stem": "width" is [1, 2], but it must be a length above 0.',
    ),
    "date for a text": (
        HEAD.replace('"Wreath"', "1979-05-27"),
        'piece.toml, line 2, [piece]: "name" is 1979-05-27, but it must be text in quotes, not empty.',
    ),
    "empty name": (
        HEAD.replace('"Wreath"', '""'),
        'piece.toml, line 2, [piece]: "name" is "", but it must be text in quotes, not empty.',
    ),
    "out of range": (
        HEAD + "[hooping]\nmarks = 7\n",
        'piece.toml, line 9, [hooping]: "marks" is 7, but it must be a whole number from 2 to 4.',
    ),
    "length out of range": (
        HEAD + '[hooping]\noverlap = "1 in"\n',
        'piece.toml, line 9, [hooping]: "overlap" is "1 in", but it must be a length from 0 to 20 mm.',
    ),
    "broken number": (
        HEAD + "[hooping]\nmarks = 2.5\n",
        'piece.toml, line 9, [hooping]: "marks" is 2.5, but it must be a whole number from 2 to 4.',
    ),
    "text for yes or no": (
        HEAD + MOTIF + 'mirror = "left"\n',
        'piece.toml, line 12, motif "sprig": "mirror" is "left", but it must be true or false.',
    ),
    "misspelt choice": (
        HEAD + JOIN + 'stitch = "sattin"\n',
        'piece.toml, line 12, join "stem": "stitch" is "sattin", but it must be "satin", "zigzag" or "running". '
        'Did you mean "satin"?',
    ),
    "misspelt choice beside a list": (
        HEAD + '[hooping]\nturn = "sqare"\n',
        'piece.toml, line 9, [hooping]: "turn" is "sqare", but it must be "square", "quarter", "free" or a list of '
        'angles. Did you mean "square"?',
    ),
    "number where a choice or a list may stand": (
        HEAD + "[hooping]\nturn = 45\n",
        'piece.toml, line 9, [hooping]: "turn" is 45, but it must be "square", "quarter", "free" or a list of angles.',
    ),
    "wrong item in a list that a choice may stand for": (
        HEAD + '[hooping]\nturn = [\n  0,\n  "north",\n]\n',
        'piece.toml, line 11, [hooping]: the second value of "turn": "north" is not an angle. '
        'Write it as "30°", "30 deg" or "1/8 turn".',
    ),
    "one number where a choice or two may stand": (
        HEAD + MOTIF + "by = [1]\n",
        'piece.toml, line 12, motif "sprig": "by" is [1], but it must be "centre", "start" or two lengths.',
    ),
    "list within a list": (
        HEAD + JOIN + "via = [[1, 2], [3]]\n",
        'piece.toml, line 12, join "stem": the second value of "via" is [3], but it must be two lengths.',
    ),
    "number within lists": (
        HEAD + JOIN + 'via = [[1, 2],\n [3, "x"]]\n',
        'piece.toml, line 13, join "stem": the second value of the second value of "via": "x" is not a length. '
        'Write it as "42 mm" or "1 5/8 in"; units are mm, cm, m, in, ft and yd.',
    ),
    "named line that is no text": (
        HEAD + "lines.hem = 3\n",
        'piece.toml, line 8, panel "front": "lines.hem" is 3, but it must be text in quotes.',
    ),
    "words that contradict each other": (
        HEAD + JOIN + 'from = "a"\nto = "b"\n',
        'piece.toml, line 8, join "stem": say where it runs in one way: "from" and "to", or "through", or "path".',
    ),
    "absolute motif file": (
        HEAD + MOTIF.replace("motifs/", "C:\\\\motifs\\\\"),
        'piece.toml, line 11, motif "sprig": "file": "C:\\motifs\\sprig.vp3" lies outside the piece\'s folder. '
        'Copy it into motifs and write "motifs/...".',
    ),
    "motif file by a way out": (
        HEAD + MOTIF.replace("motifs/", "motifs/../../"),
        'piece.toml, line 11, motif "sprig": "file": "motifs/../../sprig.vp3" leads out of the piece\'s folder. '
        'Copy it into motifs and write "motifs/...".',
    ),
    "empty motif file": (
        HEAD + MOTIF.replace("motifs/sprig.vp3", ""),
        'piece.toml, line 11, motif "sprig": "file": "" names no file. Write it as "motifs/sprig.vp3".',
    ),
    "strange signs are not repeated": (
        HEAD + MOTIF.replace("motifs/sprig.vp3", "a\\u001b\\nb") + '"x\\ny" = 1\n',
        'piece.toml, line 11, motif "sprig": "file": "a b" names no file. Write it as "motifs/sprig.vp3".\n'
        f'piece.toml, line 12, motif "sprig": there is no word "x y" here. The words are: {words("motif")}.',
    ),
    "two panels of one name": (
        HEAD + '[[panel]]\nname = "Front"\nsize = [1, 2]\n',
        'piece.toml, line 8, panel "Front": the panel at line 4 is called "front" too. Give each a name of its own.',
    ),
    "two elements of one name": (
        HEAD + MOTIF + MOTIF,
        'piece.toml, line 12, motif "sprig": the element at line 8 is called "sprig" too. Give each a name of its own.',
    ),
    "element named as a repeat of another": (
        HEAD + MOTIF.replace('"sprig"', '"sprig-2"') + MOTIF,
        'piece.toml, line 8, motif "sprig-2": "sprig-2" is what a repeat of "sprig" at line 12 would be called. '
        "Give it another name.",
    ),
    "name with a stroke": (
        HEAD.replace('"front"', '"front/back"'),
        'piece.toml, line 5: the name "front/back" cannot be used. A name is made of letters, digits, spaces, - and _, '
        "begins with a letter or digit, and has at most 60 characters.",
    ),
    "name of two lines": (
        HEAD.replace("Wreath", "Wreath\\nof sprigs"),
        'piece.toml, line 2: the name "Wreath of sprigs" cannot be printed on one line. '
        "Use letters, digits, spaces and signs only.",
    ),
    "panel that is not there": (
        HEAD + MOTIF + 'panel = "frnot"\n',
        'piece.toml, line 12, motif "sprig": there is no panel "frnot". Did you mean "front"?',
    ),
    "panel that is nothing like those there": (
        HEAD + MOTIF + 'panel = "zzz"\n',
        'piece.toml, line 12, motif "sprig": there is no panel "zzz". There is "front".',
    ),
    "no panel named where there are two": (
        HEAD + '[[panel]]\nname = "back"\nsize = [1, 2]\n' + MOTIF,
        'piece.toml, line 11, motif "sprig": it does not say on which of the 2 panels it stands. '
        'Add panel = "front" or "back".',
    ),
    "hoop that is not on the bench": (
        HEAD + '[hooping]\nhoop = "smal"\n',
        'piece.toml, line 9, [hooping]: there is no hoop "smal" on the bench. Did you mean "small"?',
    ),
    "hoop like none on the bench": (
        HEAD + '[hooping]\nhoop = "round"\n',
        'piece.toml, line 9, [hooping]: there is no hoop "round" on the bench. The bench has "small" and "large".',
    ),
}


@pytest.mark.parametrize("case", ONE_MISTAKE)
def test_one_mistake_one_sentence(case: str, piece_folder: Write) -> None:
    text, told = ONE_MISTAKE[case]
    with pytest.raises(PieceError) as error:
        read_piece(piece_folder(text))
    assert str(error.value) == told


NOT_TOML = {
    "no equals sign": (
        "[piece]\nname\n",
        'line 2: a word here has no = and value behind it. Write it as: word = "value".',
    ),
    "unit without quotes": (
        "a = 40 mm\n",
        "line 1: there is more on the line than one value. A length with its unit "
        'stands in quotes ("40 mm"), and every word has a line of its own.',
    ),
    "open table": ("[piece\n", "line 1: the table's name is not closed. Write it as [piece]."),
    "half closed table": (
        "[[panel]\n",
        "line 1: the table's name is not closed. Write it with two brackets: [[panel]].",
    ),
    "text without quotes": (
        "a = linen\n",
        'line 1: this is no value. Text and lengths with a unit stand in quotes: "40 mm".',
    ),
    "nothing behind =": ("a =\n", 'line 1: this is no value. Text and lengths with a unit stand in quotes: "40 mm".'),
    "open list": ("a = [1 2]\n", "line 1: a list is not closed. Put a comma between its values and a ] at its end."),
    "open braces": (
        "\na = {b = 1 c = 2}\n",
        "line 2: a { is not closed. Put a comma between its words and a } at its end, on one line.",
    ),
    "open text": ('a = "x\nb = 1\n', 'line 1: a text is not closed on its own line. Put a " at its end.'),
    "open plain text": ("a = 'x\nb = 'y'\n", "line 1: a text is not closed on its own line. Put a ' at its end."),
    "text open to the end": ('a = """x\n\n', 'line 2: a text is begun and never closed. Put a " at its end.'),
    "plain text open to the end": (
        "a = '''x\n",
        "line 1: a text is begun with ' and never closed. Put a ' at its end.",
    ),
    "strange character": (
        "a = '\x01'\n",
        "line 1: there is a character here that no text file should hold. Delete it.",
    ),
    "strange character in a text": (
        'a = "\x01"\n',
        "line 1: there is a character here that no text file should hold. Delete it.",
    ),
    "backslash": (
        'a = "motifs\\sprig"\n',
        "line 1: a \\ in a text means something else here. "
        "Write / between folder and file, or put the text in single quotes.",
    ),
    "backslash u": (
        'a = "motifs\\upper"\n',
        "line 1: a \\ in a text means something else here. Write / instead of \\.",
    ),
    "no character": ('a = "\\ud800"\n', "line 1: a \\ in a text means something else here. Write / instead of \\."),
    "no date": (
        "a = 2024-02-30\n",
        "line 1: this is no date of the calendar. Put it in quotes if it is meant as text.",
    ),
    "word twice": ("a = 1\na = 2\n", "line 2: this word has been given a value already. Keep one of the two."),
    "word twice in braces": (
        "a = {b = 1, b = 2}\n",
        "line 1: this word has been given a value already. Keep one of the two.",
    ),
    "table twice": (
        "[panel]\n[panel]\n",
        "line 2: this table stands in the file already. Where several are allowed, "
        "write every one with two brackets: [[panel]], [[element]].",
    ),
    "table in two places": (
        "a = {b = 1}\na.c = 2\n",
        "line 2: this table is written in two places. Put all its words in one of them.",
    ),
    "dotted table in two places": (
        "[a.b]\nc = 1\n[a]\nb.d = 1\n",
        "line 4: this table is written in two places. Put all its words in one of them.",
    ),
    "no word": (
        "a = {,}\n",
        "line 1: a word is expected here. A word is made of letters, digits, - and _; anything else stands in quotes.",
    ),
    "no statement": (
        "\n!\n",
        "line 2: this line is neither a word with its value nor a table's name. "
        'Write word = "value", [table], or # before a remark.',
    ),
}


@pytest.mark.parametrize("case", NOT_TOML)
def test_what_is_not_toml(case: str, piece_folder: Write) -> None:
    text, told = NOT_TOML[case]
    with pytest.raises(PieceError) as error:
        read_piece(piece_folder(text))
    assert str(error.value) == f"piece.toml, {told}"


def test_a_number_without_end(piece_folder: Write) -> None:
    with pytest.raises(PieceError) as error:
        read_piece(piece_folder("a = " + "1" * 5000))
    assert str(error.value) == "piece.toml: a number in it has more digits than can be used. Write it shorter."


def test_brackets_without_end(piece_folder: Write) -> None:
    with pytest.raises(PieceError) as error:
        read_piece(piece_folder("a = " + "[" * 5000))
    assert str(error.value) == "piece.toml: brackets stand within brackets too deep to follow."


def test_a_long_number_is_cut_short(piece_folder: Write) -> None:
    with pytest.raises(PieceError) as error:
        read_piece(piece_folder(HEAD.replace('"Wreath"', "1" * 60)))
    assert str(error.value) == (
        'piece.toml, line 2, [piece]: "name" is a number of more digits than can be used, '
        "but it must be text in quotes, not empty."
    )


def test_several_mistakes_stand_on_lines_of_their_own_in_the_order_of_the_file(piece_folder: Write) -> None:
    text = HEAD.replace("300", "-300") + MOTIF + 'mirror = 3\nturn = "x"\n'
    with pytest.raises(PieceError) as error:
        read_piece(piece_folder(text, BENCH + "[nedle]\nsize = 75\n"))
    assert str(error.value).splitlines() == [
        'piece.toml, line 6, panel "front": the second value of "size" is -300, but it must be a length above 0.',
        'piece.toml, line 12, motif "sprig": "mirror" is 3, but it must be true or false.',
        'piece.toml, line 13, motif "sprig": "turn": "x" is not an angle. Write it as "30°", "30 deg" or "1/8 turn".',
        'bench.toml, line 8: there is no table "nedle". Did you mean "needle"?',
    ]
    assert error.value.where == 'piece.toml, line 6, panel "front"'


@pytest.mark.parametrize(("mistakes", "last"), [(8, None), (9, "And 1 more."), (30, "And 22 more.")])
def test_at_most_eight_mistakes_are_told(piece_folder: Write, mistakes: int, last: str | None) -> None:
    text = HEAD + MOTIF + "".join(f"zz{i} = 1\n" for i in range(mistakes))
    with pytest.raises(PieceError) as error:
        read_piece(piece_folder(text))
    lines = str(error.value).splitlines()
    assert sum("there is no word" in line for line in lines) == 8
    assert lines[8:] == ([last] if last else [])


WRONG_BENCH = {
    "misspelt format": (
        BENCH + '[machine]\nformat = "dts"\n',
        'bench.toml, line 9, [machine]: "format" is "dts", but it must be "dst", "exp", "pes", "jef" or "vp3". '
        'Did you mean "dst"?',
    ),
    "speed": (
        BENCH + "[machine]\nspeed = inf\n",
        'bench.toml, line 9, [machine]: "speed" is inf, but it must be a number above 0, at most 5000.',
    ),
    "share": (
        BENCH + "[measured]\ntop_share = 60\n",
        'bench.toml, line 9, [measured]: "top_share" is 60, but it must be a number from 0.4 to 0.95.',
    ),
    "spread below nothing": (
        BENCH + "[measured]\nmarking = -1\n",
        'bench.toml, line 9, [measured]: "marking" is -1, but it must be a length of 0 or more.',
    ),
    "colour": (
        BENCH + '[[thread]]\nname = "leaf"\ncolour = "green"\n',
        'bench.toml, line 10, thread "leaf": "colour": "green" is not a colour. '
        'Write it as # and six hexadecimal digits, "#66845f".',
    ),
    "number for a colour": (
        BENCH + '[[thread]]\nname = "leaf"\ncolour = 3\n',
        'bench.toml, line 10, thread "leaf": "colour" is 3, but it must be a colour.',
    ),
    "no hoop": (
        "",
        "bench.toml, line 1: there is no [[hoop]] in it: the hoops, the usual one first. Add a line [[hoop]].",
    ),
    "two hoops of one name": (
        BENCH.replace("large", "small"),
        'bench.toml, line 5, hoop "small": the hoop at line 1 is called "small" too. Give each a name of its own.',
    ),
    "two threads of one name": (
        BENCH + '[[thread]]\nname = "leaf"\ncolour = "#00ff00"\n' * 2,
        'bench.toml, line 11, thread "leaf": the thread at line 8 is called "leaf" too. Give each a name of its own.',
    ),
}


@pytest.mark.parametrize("case", WRONG_BENCH)
def test_a_wrong_bench(case: str, piece_folder: Write) -> None:
    text, told = WRONG_BENCH[case]
    with pytest.raises(PieceError) as error:
        read_piece(piece_folder(HEAD, text))
    assert str(error.value) == told
