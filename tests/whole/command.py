"""The command line as a test calls it, and what it said with its lines run together."""

from __future__ import annotations

from pathlib import Path

from typer.testing import CliRunner, Result

from festoon.cli import app


def run(*words: str | Path) -> Result:
    """`festoon` with these words."""
    return CliRunner().invoke(app, [str(w) for w in words])


def flat(text: str) -> str:
    """The text with single spaces, wherever it was broken."""
    return " ".join(text.split())
