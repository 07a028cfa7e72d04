"""The browser's files from memory: each as it lies in its folder, and nothing beside the folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from festoon.web.app import PAGE
from tests.web.conftest import client_of


def test_every_file_of_the_page_is_given_as_it_lies(folder: Path) -> None:
    with client_of(folder, PAGE) as client:
        files = [p for p in PAGE.rglob("*") if p.is_file()]
        assert len(files) > 50
        for path in files:
            answer = client.get(f"/{path.relative_to(PAGE).as_posix()}")
            assert answer.status_code == 200
            assert answer.content == path.read_bytes()
        assert client.get("/app.js").headers["content-type"].startswith("text/javascript")
        assert client.get("/style.css").headers["content-type"].startswith("text/css")
        assert client.get("/share/").content == (PAGE / "share" / "index.html").read_bytes()


def test_a_file_that_the_browser_has_is_not_sent_again(folder: Path) -> None:
    with client_of(folder, PAGE) as client:
        tag = client.get("/app.js").headers["etag"]
        again = client.get("/app.js", headers={"if-none-match": tag})
        assert (again.status_code, again.content) == (304, b"")
        assert client.get("/style.css", headers={"if-none-match": tag}).status_code == 200


@pytest.mark.parametrize("path", ["/app.py", "/../app.py", "/%2e%2e/app.py", "/stages"])
def test_nothing_else_is_given(folder: Path, path: str) -> None:
    with client_of(folder, PAGE) as client:
        assert client.get(path).status_code == 404


def test_files_are_only_read(folder: Path) -> None:
    with client_of(folder, PAGE) as client:
        assert client.post("/app.js").status_code == 405
        assert client.head("/app.js").status_code == 200
