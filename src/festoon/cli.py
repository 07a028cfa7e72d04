"""The command line: the same functions as everywhere, told in plain sentences."""

from __future__ import annotations

import gc
import os
import shlex
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated, Literal

import typer
from rich.console import Console
from rich.table import Table
from rich.text import Text

from festoon.errors import FestoonError

STOPPED = 130
"""The exit status of a command that the user stopped (128 + the number of SIGINT), as shells have it."""

FAULT = 70
"""The exit status of a fault of our own (EX_SOFTWARE of the BSD sysexits list)."""

TRACE = "FESTOON_TRACE"
"""The environment variable that lets a fault of our own show where it lies."""

COLLECTED = 100_000
"""Objects made before garbage is looked for: a command is short, and ends before it pays."""

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    help="Plan decorated sewing larger than the hoop: hoopings, marks, machine files, templates and work sheets.",
)
out, err = Console(highlight=False), Console(stderr=True, highlight=False)


@contextmanager
def _in_sentences() -> Iterator[None]:
    """Every mistake of the worker's ends in a sentence and a status, never in a traceback; so does Ctrl-C."""
    try:
        yield
    except FestoonError as error:
        _complain(error)
        raise typer.Exit(1) from error
    except KeyboardInterrupt as stop:
        err.print("Stopped. Nothing was left half-written.")
        raise typer.Exit(STOPPED) from stop
    except Exception as fault:
        if TRACE in os.environ:
            raise
        err.print(Text.assemble(("! ", "bold red"), f"This is a fault in Festoon, not in your piece: {fault!r}."))
        err.print(f"Nothing was left half-written. Please report it, with what is shown when {TRACE}=1 is set.")
        raise typer.Exit(FAULT) from fault


def _complain(error: FestoonError) -> None:
    err.print(Text.assemble(("! ", "bold red"), str(error)))


Lap = Annotated[
    Literal["drawn", "enough"],
    typer.Option(
        "--lap",
        help="How far join ends and cuts overlap: as drawn, or lengthened where that is not enough to meet surely.",
    ),
]


@app.command()
def make(
    piece: Annotated[Path, typer.Argument(help="The piece's folder, or its piece.toml.", show_default=False)],
    into: Annotated[
        Path | None, typer.Option("-o", "--out", help="Where results go. [default: 'made' in the piece's folder]")
    ] = None,
    anyway: Annotated[
        bool, typer.Option("--anyway", help="Make it even where the proof says it will not work.")
    ] = False,
    lap: Lap = "drawn",
) -> None:
    """Divide a piece into hoopings and write everything needed to sew it."""
    from festoon.make import make as make_piece
    from festoon.report import told

    with _in_sentences():
        with err.status("starting") as status:
            made, folder = make_piece(piece, into, lambda doing: status.update(f"{doing} ..."), anyway=anyway, lap=lap)
        out.print(told(made, folder))


@app.command()
def prove(
    piece: Annotated[Path, typer.Argument(help="The piece's folder, or its piece.toml.", show_default=False)],
    as_json: Annotated[bool, typer.Option("--json", help="The findings as JSON, for other tools.")] = False,
    lap: Lap = "drawn",
) -> None:
    """Say what will not work and where to look again, before the first stitch. Status 1 where anything won't work."""
    from festoon.make import proved
    from festoon.piece import read_piece
    from festoon.report_proof import own_say_lines, proof_told
    from festoon.work.findings import findings_json

    with _in_sentences():
        with err.status("reading the piece") as status:
            found = proved(read_piece(piece), lambda doing: status.update(f"{doing} ..."), lap=lap)
        if as_json:
            typer.echo(findings_json(found.proof.findings))
        else:
            told = proof_told(
                found.layout.piece.name, found.proof, found.layout.piece.file.piece.units, found.lengthened
            )
            out.print(told, *own_say_lines(found.division, found.layout.piece), sep="\n")
    if found.proof.verdict == "will not work":
        raise typer.Exit(1)


@app.command()
def motif(
    files: Annotated[list[Path], typer.Argument(help="Stitch files of any kind that can be read.", show_default=False)],
    units: Annotated[Literal["mm", "inch"], typer.Option(help="How lengths are shown.")] = "mm",
) -> None:
    """Describe stitch files: size, stitches, threads, longest stitch, and a small picture."""
    from festoon.report import described
    from festoon.stitches import read_stitches

    failed = False
    for file in files:
        try:
            stitching = read_stitches(file)
        except FestoonError as error:
            _complain(error)
            failed = True
            continue
        out.print(described(file.name, stitching, units, out.width, out.color_system is not None))
    if failed:
        raise typer.Exit(1)


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(help="The folder to start the piece in.", show_default=False)],
) -> None:
    """Start a piece: a small one that can be made at once, to be changed as you like."""
    from festoon.piece.start import new_piece

    with _in_sentences():
        written = new_piece(folder)
    table = Table.grid(padding=(0, 2))
    for path in written:
        table.add_row("", str(path))
    out.print("A new piece:")
    out.print(table)
    out.print(f"Change piece.toml as you like, then: festoon make {shlex.quote(str(folder))}")


@app.command()
def swatch(
    folder: Annotated[Path, typer.Argument(help="Where the swatch goes; best the piece's folder.", show_default=False)],
    measured: Annotated[
        list[str] | None,
        typer.Option(help="What you measured on the sewn swatch, as a=59.4; several at once, or one each time."),
    ] = None,
    cloth: Annotated[str, typer.Option(help="The cloth that the figures hold for.")] = "",
    stabiliser: Annotated[str, typer.Option(help="The stabiliser that they hold for.")] = "",
    bench: Annotated[
        Path | None, typer.Option(help="The bench file. [default: the folder's, else the shared one]")
    ] = None,
    format: Annotated[
        Literal["dst", "exp", "pes", "jef", "vp3"] | None,
        typer.Option(help="The machine file's kind. [default: the bench's]"),
    ] = None,
    paper: Annotated[Literal["A4", "Letter"], typer.Option(help="The paper that its sheet is printed on.")] = "A4",
) -> None:
    """Try your own cloth: a test square to sew, and what you measured on it taken into the bench file."""
    from festoon.swatch import take_in, write_swatch

    with _in_sentences():
        if measured or cloth or stabiliser:
            path, changes = take_in(folder, measured or [], cloth=cloth, stabiliser=stabiliser, bench=bench)
            out.print(Text("\n".join([*(c.told for c in changes), f"Written to {path}."])))
        else:
            stitches, page = write_swatch(folder, format=format, bench=bench, paper=paper)
            out.print(Text(f"Written: {stitches}, the test square, and {page}, how to sew it and what to measure."))


@app.command(
    help="Correct a hooping by where its crosses lie after hooping, or say why it must be hooped again.\n\n"
    "Move the needle to where a mark should be, and see how far from it the cross on the cloth lies: right or left, up "
    "or down, as you face the machine. Read two crosses at least; three or more show a misread one. Lengths are in mm, "
    "or with a unit. Status 1 where the hooping must not be sewn so."
)
def true(
    piece: Annotated[Path, typer.Argument(help="The piece's folder, or its piece.toml.", show_default=False)],
    hooping: Annotated[int, typer.Argument(help="The number of the hooping.", show_default=False)],
    read: Annotated[
        list[str] | None,
        typer.Option(
            metavar="A=...",
            help="With the needle where mark A should be, the cross lies so far from it: 'A=0.5 right 0.3 up', or "
            "A=0.5,-0.3 (right, then down). Once for each cross.",
        ),
    ] = None,
    place: Annotated[
        list[str] | None,
        typer.Option(
            metavar="A=...",
            help="The same told by where the cross lies from the middle of the field: 'A=31.2 right 40 up', or "
            "A=31.2,-40 (right, then down).",
        ),
    ] = None,
    into: Annotated[
        Path | None, typer.Option("-o", "--out", help="Where the piece was made. [default: 'made' in its folder]")
    ] = None,
) -> None:
    """True a hooping; status 1 where it must not be sewn."""
    from festoon.truing import true_piece

    with _in_sentences():
        done = true_piece(piece, hooping, read or [], place or [], into)
        out.print(Text("\n".join(done.sentences)))
    if done.file is None:
        raise typer.Exit(1)


@app.command("open")
def open_page(
    piece: Annotated[
        Path | None,
        typer.Argument(help="The piece's folder, or its piece.toml. [default: begin at the start]", show_default=False),
    ] = None,
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="The port to serve it on. [default: a free one]", show_default=False)
    ] = 0,
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Only print the address to open.")] = False,
    share: Annotated[
        bool,
        typer.Option(
            "--share",
            help="Let a tablet or phone in the same network in by a code. Nothing is encrypted on the way: only in a "
            "network that you trust.",
        ),
    ] = False,
) -> None:
    """Open the page in the browser, on this machine alone, until Ctrl-C. Prints the address to open."""
    from festoon.web.network import own_addresses
    from festoon.web.serving import serve

    with _in_sentences():
        serve(piece, port, typer.echo, browser=not no_browser, share=own_addresses() if share else ())


def main() -> None:
    """Run the command line."""
    gc.set_threshold(COLLECTED)
    app()
