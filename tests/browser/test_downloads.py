"""What is downloaded is what `festoon make` writes, byte for byte."""

from __future__ import annotations

import re
import subprocess
import sys
import zipfile
from pathlib import Path

from .conftest import NewServer, NewWindow


def test_downloads_are_the_command_lines_own(
    small: Path, new_server: NewServer, new_window: NewWindow, tmp_path: Path
) -> None:
    server = new_server(small)
    folder = tmp_path / "made"
    run = [sys.executable, "-c", "from festoon.cli import main; main()"]
    made = subprocess.Popen([*run, "make", small, "-o", folder], env=server.settings, stdout=subprocess.DEVNULL)
    window = new_window(server)
    window.stage("sheets")
    assert made.wait() == 0
    written = {path.name: path.read_bytes() for path in folder.glob("[!.]*")}
    page = window.page

    with page.expect_download() as taking:
        page.get_by_role("link", name=re.compile("Download everything")).click()
    with zipfile.ZipFile(taking.value.path()) as archive:
        assert {name: archive.read(name) for name in archive.namelist()} == written

    links = page.locator("a[download]:not([href$='.zip'])")
    names = [str(name) for name in links.evaluate_all("all => all.map((one) => one.getAttribute('download'))")]
    assert sorted(names) == sorted(written)
    for name in {name.rpartition(".")[2]: name for name in names}.values():  # one of each kind, as a browser allows
        with page.expect_download() as taking:
            page.locator(f"a[download='{name}']").click()
        assert taking.value.suggested_filename == name
        assert taking.value.path().read_bytes() == written[name]
    assert {name: window.fetched(f"files/{name}") for name in names} == written
