"""The page in a real browser, served by a real `festoon open`.

How to use it::

    def test_something(new_server: NewServer, new_window: NewWindow, small: Path) -> None:
        server = new_server(small)              # `festoon open` as its own process; small: a copy of the starting piece
        window = new_window(server)             # a fresh context at desk size, in daylight, on the first stage
        window.stage("hoopings")                # goes there and waits until what it needs is worked out
        window.page.get_by_role(...).click()    # `page` is Playwright's own
        assert window.piece()["revision"]       # what the server tells of the piece now

* `at_table(folder)` in place of `new_server(folder)` opens the piece on a server that all such tests share: sooner, for
  whoever neither stops the server nor looks at its settings.
* `small` and `cushion` are folders to be changed: the starting piece, and a copy of the larger example.
* `looked_at` is a server of the example with everything worked out, shared by all who only look.
* `new_window(server, size="phone", light="dark", ...)` takes any further option of a browser's context as well.
* `new_server(folder)` may be followed by `server.kill()` and `server.start()`: same port, a new token;
  `window.go(server)` opens the new address.
* Any error on the console, any fault of a script, any answer of 400 or more and any request that leaves this machine
  fails the test at its end. What a test means to provoke it announces: `window.expected("422")`.
* Nothing waits for a time: wait for what shows, `window.until("store => store.busy === null")`, or a locator.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Literal, Protocol
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import (
    APIRequestContext,
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    Request,
    Response,
    expect,
    sync_playwright,
)

from festoon.piece.start import new_piece

from .browser import ARGS, NAMED, found

Size = Literal["desk", "phone"]
Light = Literal["light", "dark"]

EXAMPLES = Path(__file__).parents[2] / "examples"
SIZES: dict[Size, tuple[int, int]] = {"desk": (1400, 900), "phone": (390, 844)}
"""Width and height of the window, px."""

PATIENCE = 60_000
"""ms after which what is waited for will not come: no measure of speed, only the end of a test that hangs."""

expect.set_options(timeout=PATIENCE)

STORE = "document.querySelector('festoon-app')?.store"


class Server:
    """`festoon open` on one piece, or at the start, as a process of its own with its own settings."""

    def __init__(self, piece: Path | None, home: Path) -> None:
        self.piece, self._home = piece, home
        self.port = 0
        self.address = ""
        self._process: subprocess.Popen[str] | None = None
        self.start()

    def start(self) -> None:
        """Start it, on the port that it had if it ran before."""
        words = ["open", *([str(self.piece)] if self.piece else []), "--no-browser", "--port", str(self.port)]
        self._process = subprocess.Popen(
            [sys.executable, "-c", "from festoon.cli import main; main()", *words],
            env=self.settings,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self._process.stdout is not None
        self.address = self._process.stdout.readline().strip()
        if not self.address.startswith("http://127.0.0.1:"):
            self.kill()
            pytest.fail("festoon open did not start; what it said stands below.")
        self.port = urlsplit(self.address).port or 0

    @property
    def here(self) -> str:
        """Where everything of its piece lies."""
        key = parse_qs(urlsplit(self.address).query)["piece"][0]
        return f"http://127.0.0.1:{self.port}/api/pieces/{key}"

    @property
    def settings(self) -> dict[str, str]:
        """The environment, with a home of its own."""
        return {**os.environ, "HOME": str(self._home), "XDG_CONFIG_HOME": str(self._home / "settings")}

    def stop(self) -> None:
        """End it as Ctrl-C does."""
        self._end(signal.SIGINT)

    def kill(self) -> None:
        """End it as a power cut does."""
        self._end(signal.SIGKILL)

    def _end(self, way: signal.Signals) -> None:
        if self._process:
            self._process.send_signal(way)
            self._process.wait()
            assert self._process.stdout is not None
            self._process.stdout.close()
        self._process = None


class Lain:
    """A piece that lies on the table of a server which others use as well; it is neither stopped nor killed."""

    def __init__(self, piece: Path, table: Server, client: APIRequestContext) -> None:
        self.piece, self.port = piece, table.port
        self._table = f"http://127.0.0.1:{table.port}"
        client.get(table.address)  # lets it in
        answer = client.post(f"{self._table}/api/start/open", data={"folder": str(piece)})
        assert answer.ok, answer.text()
        self._key = answer.json()["key"]
        self.address = f"{table.address}&piece={self._key}"

    @property
    def here(self) -> str:
        """Where everything of the piece lies."""
        return f"{self._table}/api/pieces/{self._key}"


class Window:
    """One window of the browser at the page, and everything that went wrong in it."""

    def __init__(self, context: BrowserContext, server: Server | Lain, hash: str = "") -> None:
        self.server, self.context = server, context
        self.requests: list[str] = []
        self.wrong: list[str] = []
        self._expected: list[str] = []
        self.page: Page = context.new_page()
        self.page.set_default_timeout(PATIENCE)
        self.page.on("console", self._console)
        self.page.on("pageerror", lambda error: self.wrong.append(f"script: {error}"))
        self.page.on("request", self._request)
        self.page.on("response", self._response)
        self.go(server, hash)

    def go(self, server: Server | Lain, hash: str = "") -> None:
        """Open the server's address, and wait until the page stands."""
        self.server = server
        self.page.goto(server.address + (f"#{hash}" if hash else ""))
        self.page.wait_for_function("() => document.querySelector('festoon-app')?.store !== undefined")
        if server.piece:
            self.until("store => store.laid !== null")

    def stage(self, id: str) -> None:
        """Go to a stage by its link, and wait until it is worked out and drawn."""
        self.page.locator(f'nav.stages a[href="#{id}"]').click()
        self.page.wait_for_function("(id) => document.querySelector('festoon-app').stage.id === id", arg=id)
        self.settled()

    def settled(self) -> None:
        """Wait until what the stage needs is there and everything is drawn."""
        self.page.wait_for_function(
            """() => {
              const { store, stage } = document.querySelector('festoon-app');
              if (!store.piece || !stage.needs) return store.busy === null;
              const have = { hoopings: store.division, proof: store.found, sheets: store.files }[stage.needs];
              return store.busy === null && have !== null;
            }"""
        )
        self.drawn()

    def drawn(self) -> None:
        """Wait until what the store holds is on the screen, all thread painted."""
        self.page.evaluate(
            """async () => {
              const frame = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
              await document.fonts.ready;
              for (const one of document.querySelectorAll('festoon-app, festoon-sheet')) await one.updateComplete;
              await frame();
            }"""
        )
        self.page.wait_for_function(
            """() => {
              const thread = document.querySelector('festoon-sheet')?.thread;
              return !thread || (thread.job === null && thread.frame === 0);
            }"""
        )

    def until(self, told: str, argument: Any = None) -> None:
        """Wait for something of the page's store: a JavaScript function of it (and of one argument)."""
        self.page.wait_for_function(
            f"(argument) => {{ const store = {STORE}; return store && ({told})(store, argument); }}", arg=argument
        )

    def store(self, told: str) -> Any:
        """Something of the page's store, by a JavaScript function of it."""
        return self.page.evaluate(f"() => ({told})({STORE})")

    def revision(self) -> str:
        """Of the piece that the page shows."""
        return str(self.store("store => store.piece.revision"))

    def changed(self, act: Callable[[], object]) -> None:
        """Do something that changes the piece, and wait until the page shows the changed one."""
        before = self.revision()
        act()
        self.until("(store, before) => store.piece.revision !== before", before)
        self.drawn()

    def piece(self) -> Any:
        """What the server tells of the piece now."""
        return json.loads(self.fetched("piece"))

    def fetched(self, path: str) -> bytes:
        """What the server gives for a path of this piece, asked with the window's own cookie."""
        answer = self.context.request.get(f"{self.server.here}/{path}")
        assert answer.ok, answer.text()
        return answer.body()

    def on_sheet(self, x: float, y: float) -> tuple[float, float]:
        """Where a place on the cloth, mm, lies on the screen, px."""
        left, top, view = self.page.evaluate(
            """() => {
              const sheet = document.querySelector('festoon-sheet');
              const frame = sheet.querySelector('.tissue').getBoundingClientRect();
              return [frame.left, frame.top, sheet.view];
            }"""
        )
        return left + view["x"] + view["scale"] * x, top + view["y"] + view["scale"] * y

    def scale(self) -> float:
        """px a mm on the cloth."""
        return float(self.page.evaluate("() => document.querySelector('festoon-sheet').view.scale"))

    def choose(self, part: str) -> None:
        """Choose a part as the keyboard does."""
        self.page.locator(f'[data-part="{part}"]').press("Enter")
        self.until("(store, part) => store.chosen.includes(part)", part)

    def expected(self, *told: str) -> None:
        """What the test means to go wrong: words of the console's, or of an answer's 'status address'."""
        self._expected += told

    def unexpected(self) -> list[str]:
        """What went wrong though nobody meant it to."""
        return [told for told in self.wrong if not any(re.search(words, told) for words in self._expected)]

    def _console(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self.wrong.append(f"console: {message.text}")

    def _request(self, request: Request) -> None:
        self.requests.append(request.url)
        parts = urlsplit(request.url)
        if parts.scheme in ("http", "https", "ws", "wss") and parts.netloc != f"127.0.0.1:{self.server.port}":
            self.wrong.append(f"left the machine: {request.url}")

    def _response(self, response: Response) -> None:
        if response.status >= 400:
            self.wrong.append(f"answer: {response.status} {response.url}")


class NewServer(Protocol):
    """How a test has a server started."""

    def __call__(self, piece: Path | None = None) -> Server: ...


class AtTable(Protocol):
    """How a test has a piece opened on the common table."""

    def __call__(self, piece: Path) -> Lain: ...


class NewWindow(Protocol):
    """How a test opens a window."""

    def __call__(
        self,
        server: Server | Lain,
        hash: str = "",
        *,
        size: Size = "desk",
        light: Light = "light",
        **options: Any,
    ) -> Window: ...


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """All that look at the same server are tried by one process, so that its work is done once."""
    for item in items:
        if "looked_at" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.xdist_group("looked_at"))


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser for all tests of this process."""
    way = found()
    if way is None:
        pytest.fail(f"No Chromium is here. `make test` fetches one; or name one in {NAMED}.")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=way, args=list(ARGS))
        yield browser
        browser.close()


@pytest.fixture
def new_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[NewServer]:
    """Starts servers that end with the test."""
    servers: list[Server] = []

    def new(piece: Path | None = None) -> Server:
        servers.append(Server(piece, tmp_path_factory.mktemp("home")))
        return servers[-1]

    yield new
    for server in servers:
        server.kill()


@pytest.fixture(scope="session")
def table(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """One server for all tests of this process that only need a piece to lie open: starting one takes seconds."""
    server = Server(None, tmp_path_factory.mktemp("home"))
    yield server
    server.kill()


@pytest.fixture
def at_table(table: Server, browser: Browser) -> AtTable:
    """Opens pieces on the common table."""

    def opened(piece: Path) -> Lain:
        with browser.new_context() as context:
            return Lain(piece, table, context.request)

    return opened


@pytest.fixture
def new_window(browser: Browser) -> Iterator[NewWindow]:
    """Opens windows that end with the test, each in a context of its own."""
    windows: list[Window] = []

    def new(
        server: Server | Lain,
        hash: str = "",
        *,
        size: Size = "desk",
        light: Light = "light",
        **options: Any,
    ) -> Window:
        width, height = SIZES[size]
        context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=light, **options)
        windows.append(Window(context, server, hash))
        return windows[-1]

    yield new
    wrong = [told for window in windows for told in window.unexpected()]
    for window in windows:
        window.context.close()
    assert not wrong, "\n".join(wrong)


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """The starting piece, to be changed."""
    new_piece(tmp_path / "piece")
    return tmp_path / "piece"


@pytest.fixture
def cushion(tmp_path: Path) -> Path:
    """A copy of the example, to be changed."""
    return copied(tmp_path)


@pytest.fixture(scope="session")
def looked_at(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server of the example with everything worked out; not to be changed."""
    server = Server(copied(tmp_path_factory.mktemp("example")), tmp_path_factory.mktemp("home"))
    try:
        with browser.new_context() as context:
            work_out(server, context.request, "sheets")
        yield server
    finally:
        server.kill()


def work_out(server: Server, client: APIRequestContext, what: str) -> None:
    """Have the server work something out, and wait for its end."""
    client.get(server.address)
    asked = {"what": what, "revision": client.get(f"{server.here}/piece").json()["revision"]}
    id = client.post(f"{server.here}/work", data=asked).json()["id"]
    course = client.get(f"{server.here}/work/{id}/events", timeout=PATIENCE).text()
    assert "event: done" in course, course


def copied(folder: Path) -> Path:
    """A copy of the example in this folder."""
    ours = folder / "sea-holly-cushion"
    shutil.copytree(EXAMPLES / "sea-holly-cushion", ours, ignore=shutil.ignore_patterns("made", ".*"))
    return ours
