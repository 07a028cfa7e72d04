"""Fetches what the page is built on from the npm registry into the page's own folder: Lit, and two typefaces.

Run as `python tools/vendor_js.py`. Where everything is there already it only checks the sums; with `--anew` it fetches
again. Versions are pinned below with the registry's own integrity figures, so that the same files come every time.

A browser finds a module by its address, not by a package's name, and the page allows no inline script, so no import
map either: names of packages in the modules are written over by relative paths. Only modules that the page can reach
are kept.
"""

from __future__ import annotations

import argparse
import base64
import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
import tarfile
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

VENDOR = Path(__file__).resolve().parent.parent / "src/festoon/web/page/vendor"
SUMS = "SHA256SUMS"


class Package(NamedTuple):
    """A package of the registry: its version, its integrity figure as the registry gives it, and the files wanted.

    For modules `wanted` are those where the page comes in; what they import is found from there.
    """

    version: str
    integrity: str
    wanted: tuple[str, ...] = ()


MODULES = {
    "lit": Package(
        "3.3.3",
        "sha512-fycuvZg/hkpozL00lm1pEJH5nN/lr9ZXd6mJI2HSN4+Bzc+LDNdEApJ6HFbPkdFNHLvOplIIuJvxkS4XUxqirw==",
        ("index.js", "directives/live.js", "directives/repeat.js"),
    ),
    "lit-html": Package(
        "3.3.3",
        "sha512-el8M6jK2o3RXBnrSHX3ZKrsN8zEV63pSExTO1wYJz7QndGYZ8353e2a5PPX+qHe2aGayfnchQmkAojaWAREOIA==",
    ),
    "lit-element": Package(
        "4.2.2",
        "sha512-aFKhNToWxoyhkNDmWZwEva2SlQia+jfG0fjIWV//YeTaWrVnOxD89dPKfigCUspXFmjzOEUQpOkejH5Ly6sG0w==",
    ),
    "@lit/reactive-element": Package(
        "2.1.2",
        "sha512-pbCDiVMnne1lYUIaYNN5wrwQXDtHaYtg7YEFPeW+hws6U47WeFvISGUWekPGKWOP1ygrs0ef0o1VJMk1exos5A==",
    ),
}
FONTS: dict[str, Package] = {
    "@fontsource-variable/literata": Package(
        "5.3.0",
        "sha512-1Jw7xvOcoGyB83lxB2nG4bfNbqtX2/TTbdh9sHAOmU064SvmSdulDtA5RBu5JYWf64fdaKX7xU+z3GO1T2bCHA==",
        (
            "files/literata-latin-opsz-normal.woff2",
            "files/literata-latin-opsz-italic.woff2",
            "files/literata-latin-ext-opsz-normal.woff2",
        ),
    ),
    "@fontsource-variable/source-sans-3": Package(
        "5.3.1",
        "sha512-u0p5Z/PM2e1uxYOMiodLM6NVzxHwULcB6Oi7QSr2WU/sdoLBFP/BeOZ3YYHeJ6rHsjPZA1nZweZVaV7sf2MAyQ==",
        ("files/source-sans-3-latin-wght-normal.woff2", "files/source-sans-3-latin-ext-wght-normal.woff2"),
    ),
}

_IMPORT = re.compile(r"""(\bfrom\s*|\bimport\s*\(?\s*)(["'])([^"'\n]+)\2""")
_MAP = re.compile(r"\n?//# sourceMappingURL=.*\s*$")


def main() -> int:
    """Checks what is there, or fetches it. Returns the status for the shell."""
    parser = argparse.ArgumentParser(description="Fetch Lit and the typefaces into the page's folder, or check them.")
    parser.add_argument("--anew", action="store_true", help="fetch again even where all is there")
    if (VENDOR / SUMS).exists() and not parser.parse_args().anew:
        return _report(wrong(VENDOR))
    with tempfile.TemporaryDirectory() as folder:
        store, fresh = Path(folder) / "packages", Path(folder) / "vendor"
        for name, package in {**MODULES, **FONTS}.items():
            _fetch(name, package, store / _folder(name))
        _modules(store, fresh)
        _fonts(store, fresh)
        _write_sums(fresh)
        shutil.rmtree(VENDOR, ignore_errors=True)
        shutil.copytree(fresh, VENDOR)
    return _report(wrong(VENDOR))


def wrong(vendor: Path) -> list[str]:
    """The files whose sum is not the one written down, that are missing, or that nobody wrote down."""
    told = {name: digest for digest, name in (line.split("  ", 1) for line in (vendor / SUMS).read_text().splitlines())}
    there = {name: _digest(vendor / name) for name in _files(vendor)}
    return sorted(name for name in told.keys() | there.keys() if told.get(name) != there.get(name))


def relative(text: str, here: str, place: dict[str, str]) -> str:
    """The module's text with packages' names written over by paths; `place` maps each specifier to its file."""

    def path(found: re.Match[str]) -> str:
        lead, quote, name = found.groups()
        if name not in place:
            return found[0]
        way = os.path.relpath(place[name], os.path.dirname(here)).replace(os.sep, "/")
        return f"{lead}{quote}{way if way.startswith('.') else './' + way}{quote}"

    return _MAP.sub("\n", _IMPORT.sub(path, text))


def _modules(store: Path, fresh: Path) -> None:
    place = dict(_specifiers(store))
    waiting = [f"{_folder(name)}/{file}" for name, package in MODULES.items() for file in package.wanted]
    done: set[str] = set()
    while waiting:
        here = waiting.pop()
        if here in done or not (store / here).is_file():
            continue
        done.add(here)
        text = relative((store / here).read_text(encoding="utf-8"), here, place)
        _put(fresh / here, text)
        ways = (m[3] for m in _IMPORT.finditer(text) if m[3].startswith("."))
        waiting.extend(os.path.normpath(os.path.join(os.path.dirname(here), way)) for way in ways)
        if here.endswith(".js"):
            waiting.append(here.removesuffix(".js") + ".d.ts")
    for name in MODULES:
        _put(fresh / _folder(name) / "LICENSE", (store / _folder(name) / "LICENSE").read_text(encoding="utf-8"))


def _specifiers(store: Path) -> Iterator[tuple[str, str]]:
    """Every name by which a package may be imported, and its file."""
    for name in MODULES:
        exports: dict[str, Any] = json.loads((store / _folder(name) / "package.json").read_text())["exports"]
        for way, kinds in exports.items():
            yield name + way[1:], f"{_folder(name)}/{kinds['default'].removeprefix('./')}"


def _fonts(store: Path, fresh: Path) -> None:
    for name, package in FONTS.items():
        for file in (*package.wanted, "LICENSE"):
            to = fresh / _folder(name) / Path(file).name
            to.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(store / _folder(name) / file, to)


def _fetch(name: str, package: Package, to: Path) -> None:
    """Packs one package, holds it against its integrity figure and unpacks it."""
    to.mkdir(parents=True)
    npm = shutil.which("npm")
    if npm is None:
        raise SystemExit("There is no npm here. Install Node.js, which brings it.")
    order = [npm, "pack", f"{name}@{package.version}", "--silent", "--pack-destination", str(to)]
    subprocess.run(order, check=True, stdout=subprocess.DEVNULL)
    (archive,) = to.glob("*.tgz")
    digest = "sha512-" + base64.b64encode(hashlib.sha512(archive.read_bytes()).digest()).decode()
    if digest != package.integrity:
        raise SystemExit(f"{name} {package.version} is not the package that was pinned: its integrity is {digest}.")
    with tarfile.open(archive) as tar:
        tar.extractall(to, filter="data")
    for part in (to / "package").iterdir():
        part.rename(to / part.name)


def _folder(name: str) -> str:
    return name.removeprefix("@").replace("/", "-")


def _put(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")


def _files(vendor: Path) -> list[str]:
    return sorted(p.relative_to(vendor).as_posix() for p in vendor.rglob("*") if p.is_file() and p.name != SUMS)


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _write_sums(vendor: Path) -> None:
    _put(vendor / SUMS, "".join(f"{_digest(vendor / name)}  {name}\n" for name in _files(vendor)))


def _report(names: list[str]) -> int:
    for name in names:
        print(f"{name} is not as it was fetched. Run this again with --anew.", file=sys.stderr)
    if not names:
        print(f"{len(_files(VENDOR))} files in {VENDOR.name}, all as they were fetched.")
    return 1 if names else 0


if __name__ == "__main__":
    raise SystemExit(main())
