"""The command line: the same functions as everywhere, told in plain sentences."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console
from rich.table import Table

from festoon.errors import FestoonError

STOPPED = 130
"""The exit status of a command that the user stopped (128 + the number of SIGINT), as shells have it."""

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    help="Plan decorated sewing larger than the hoop: hoopings, marks, machine files, templates and work sheets.",
)
out, err = Console(highlight=False), Console(stderr=True, highlight=False)


@app.command()
def make(
    piece: Annotated[Path, typer.Argument(help="The piece's folder, or its piece.toml.", show_default=False)],
    into: Annotated[
        Path | None, typer.Option("-o", "--out", help="Where results go. [default: 'made' in the piece's folder]")
    ] = None,
) -> None:
    """Divide a piece into hoopings and write everything needed to sew it."""
    from festoon.make import make as make_piece
    from festoon.report import told

    with err.status("starting") as status:
        made, folder = make_piece(piece, into, lambda doing: status.update(f"{doing} ..."))
    out.print(told(made, folder))


@app.command()
def motif(
    files: Annotated[list[Path], typer.Argument(help="Stitch files of any kind that can be read.", show_default=False)],
    units: Annotated[str, typer.Option(help="'mm' or 'inch'.")] = "mm",
) -> None:
    """Describe stitch files: size, stitches, threads, longest stitch, and a small picture."""
    from festoon.report import described
    from festoon.stitches import read_stitches

    if units not in ("mm", "inch"):
        raise FestoonError(f'there are no units called "{units}".', remedy='Say "mm" or "inch".')
    failed = False
    for file in files:
        try:
            stitching = read_stitches(file)
        except FestoonError as error:
            err.print(f"[bold red]![/] {_plain(error)}")
            failed = True
            continue
        out.print(described(file.name, stitching, units, out.width))
    if failed:
        raise typer.Exit(1)


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(help="The folder to start the piece in.", show_default=False)],
) -> None:
    """Start a piece: a small one that can be made at once, to be changed as you like."""
    from festoon.piece.start import new_piece

    written = new_piece(folder)
    table = Table.grid(padding=(0, 2))
    for path in written:
        table.add_row("", str(path))
    out.print("A new piece:")
    out.print(table)
    out.print(f"Change piece.toml as you like, then: festoon make {folder}")


def _plain(error: FestoonError) -> str:
    from rich.markup import escape

    return escape(str(error))


def main() -> None:
    """Run the command line; every mistake of the worker's ends in a sentence and a status, never in a traceback."""
    try:
        app()
    except FestoonError as error:
        err.print(f"[bold red]![/] {_plain(error)}")
        sys.exit(1)
    except KeyboardInterrupt:
        err.print("Stopped. Nothing was left half-written.")
        sys.exit(STOPPED)
