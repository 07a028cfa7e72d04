"""`festoon open` as its user meets it: one line, a page, Ctrl-C."""

from __future__ import annotations

import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import httpx2
import pytest
from typer.testing import CliRunner

from festoon.cli import app


@pytest.fixture
def server(folder: Path) -> Iterator[subprocess.Popen[str]]:
    run = "from festoon.cli import main; main()"
    words = [sys.executable, "-c", run, "open", str(folder), "--no-browser"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        yield process
        process.kill()


def test_it_prints_one_line_serves_and_ends_with_ctrl_c(server: subprocess.Popen[str]) -> None:
    assert server.stdout is not None
    assert server.stderr is not None
    address = server.stdout.readline().strip()
    assert address.startswith("http://127.0.0.1:")
    assert "?token=" in address
    here = f"api/pieces/{address.rpartition('&piece=')[2]}"
    with httpx2.Client(base_url=address.partition("?")[0], timeout=60, trust_env=False) as browser:
        assert browser.get(f"{here}/piece").status_code == 401
        assert browser.get(address).status_code == 303
        piece = browser.get(f"{here}/piece").json()
        asked = {"what": "sheets", "revision": piece["revision"]}
        id = browser.post(f"{here}/work", json=asked).json()["id"]
        with browser.stream("GET", f"{here}/work/{id}/events") as events:
            assert next(events.iter_lines()) == "event: progress"
            server.send_signal(signal.SIGINT)
            assert server.wait(30) == 0
    assert server.stdout.read() == ""
    assert server.stderr.read() == ""


def test_a_port_that_is_taken_is_told(folder: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = str(other.getsockname()[1])
        told = CliRunner().invoke(app, ["open", str(folder), "--port", port, "--no-browser"])
    assert told.exit_code == 1
    assert f"port {port} cannot be opened" in " ".join(told.output.split())


def test_a_folder_without_a_piece_is_told(tmp_path: Path) -> None:
    told = CliRunner().invoke(app, ["open", str(tmp_path), "--no-browser"])
    assert told.exit_code == 1
    assert "holds no piece" in " ".join(told.output.split())
