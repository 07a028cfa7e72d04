"""What the page is built on lies in its own folder: as it was fetched, with its licences, whole without a network."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from tools import vendor_js as tool

VENDOR, SUMS, PAGE = tool.VENDOR, tool.SUMS, tool.VENDOR.parent
TEXT = (".js", ".css", ".html")
IMPORT = re.compile(r"""(?:\bfrom|\bimport)\s*\(?\s*["']([^"'\n]+)["']""")


@pytest.fixture
def vendor(tmp_path: Path) -> Path:
    """A copy, to be spoilt."""
    return shutil.copytree(VENDOR, tmp_path / "vendor")


def test_everything_is_as_it_was_fetched(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.argv", ["vendor_js.py"])
    monkeypatch.setenv("PATH", "")  # no npm, so nothing is fetched
    assert tool.main() == 0
    assert "all as they were fetched" in capsys.readouterr().out


def test_a_file_that_was_altered_added_or_taken_away_is_found(vendor: Path) -> None:
    assert tool.wrong(vendor) == []
    names = [line.split("  ", 1)[1] for line in (vendor / SUMS).read_text("utf-8").splitlines()]
    altered, taken = names[0], names[-1]
    data = bytearray((vendor / altered).read_bytes())
    data[-1] ^= 1
    (vendor / altered).write_bytes(data)
    (vendor / taken).unlink()
    (vendor / "more.js").write_text("export {};", "utf-8")
    assert tool.wrong(vendor) == sorted([altered, taken, "more.js"])


def test_a_folder_that_was_altered_is_refused(
    vendor: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (vendor / "more.js").write_text("export {};", "utf-8")
    monkeypatch.setattr(tool, "VENDOR", vendor)
    monkeypatch.setattr("sys.argv", ["vendor_js.py"])
    assert tool.main() == 1
    assert "more.js is not as it was fetched" in capsys.readouterr().err


@pytest.mark.parametrize("name", [*tool.MODULES, *tool.FONTS])
def test_every_package_has_its_licence_beside_it(name: str) -> None:
    (package,) = [folder for folder in VENDOR.iterdir() if folder.name == name.removeprefix("@").replace("/", "-")]
    licence = (package / "LICENSE").read_text("utf-8")
    assert "Copyright" in licence
    assert ("SIL Open Font License" in licence) == (name in tool.FONTS)
    assert ("BSD 3-Clause" in licence) == (name in tool.MODULES)


def test_every_module_that_is_asked_for_is_there() -> None:
    modules = list(PAGE.rglob("*.js"))
    asked = [(path, way) for path in modules for way in IMPORT.findall(_code(path))]
    assert len(asked) > len(modules)
    assert [f"{path.name}: {way}" for path, way in asked if not (path.parent / way).resolve().is_file()] == []
    assert all((path.parent / way).resolve().is_relative_to(PAGE) for path, way in asked)


def test_nothing_is_asked_of_another_machine() -> None:
    """The addresses that stand in the page's files are those of XML namespaces and of words to a reader."""
    loads = re.compile(r"""(?:url\(|src=|href=|fetch\(|import\(?|from)\s*["'`]?(?:https?:)?//""")
    files = [path for path in PAGE.rglob("*") if path.suffix in TEXT]
    assert len(files) > 20
    assert [path.name for path in files if loads.search(_code(path))] == []


def test_names_of_packages_become_paths() -> None:
    place = {"lit": "lit/index.js", "lit-html/x.js": "lit-html/x.js"}
    text = 'import{a}from"lit";import "lit-html/x.js";const from = "lit-other";\n//# sourceMappingURL=a.js.map\n'
    told = tool.relative(text, "lit/directives/live.js", place)
    assert told == 'import{a}from"../index.js";import "../../lit-html/x.js";const from = "lit-other";\n'


def test_the_sums_hold_what_is_shipped() -> None:
    shipped = {path.relative_to(VENDOR).as_posix() for path in VENDOR.rglob("*") if path.is_file()}
    told = {line.split("  ", 1)[1] for line in (VENDOR / SUMS).read_text("utf-8").splitlines()}
    assert shipped == told | {SUMS}


def test_the_lock_file_names_no_registry_and_pins_everything() -> None:
    here = Path(__file__).parent / "page"
    wanted = json.loads((here / "package.json").read_text("utf-8"))["devDependencies"]
    lock = (here / "package-lock.json").read_text("utf-8")
    held = {name.removeprefix("node_modules/"): entry for name, entry in json.loads(lock)["packages"].items() if name}
    assert "://" not in lock
    assert {name: entry["version"] for name, entry in held.items()} == wanted
    assert all(entry["integrity"].startswith("sha512-") for entry in held.values())


def _code(path: Path) -> str:
    """A file without its comments."""
    return re.sub(r"/\*.*?\*/|^\s*//.*$", "", path.read_text("utf-8"), flags=re.DOTALL | re.MULTILINE)
