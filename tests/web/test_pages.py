"""Pages as pictures: sizes against the paper standards, and the ink where the PDF has it."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from festoon.web.pages import WIDEST, page_picture, page_sizes
from tests.web.conftest import Done

SQUARE = b"50 50 100 100 re f"
"""100 points each way, 50 points from the left lower corner."""


def pdf(width: float, height: float, content: bytes = SQUARE) -> bytes:
    """One page with that drawn on it, written by hand (ISO 32000-1)."""
    objects = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %g %g] /Contents 4 0 R >>" % (width, height),
        b"<< /Length %d >>\nstream\n%s\nendstream" % (len(content), content),
    ]
    out, places = b"%PDF-1.4\n", []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    end = b"trailer << /Size 5 /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % len(out)
    return out + b"xref\n0 5\n0000000000 65535 f \n" + table + end


@pytest.mark.parametrize(
    ("points", "mm"),
    [
        ((595.276, 841.89), (210.0, 297.0)),  # A4, ISO 216
        ((612, 792), (215.9, 279.4)),  # Letter, ANSI/ASME Y14.1 size A: 8 1/2 by 11 inches
    ],
)
def test_a_pages_size_is_that_of_its_paper(points: tuple[float, float], mm: tuple[float, float]) -> None:
    assert page_sizes(pdf(*points)) == [pytest.approx(mm, abs=0.01)]


def test_a_page_is_drawn_as_it_lies_on_the_paper() -> None:
    picture = cv2.imdecode(np.frombuffer(page_picture(pdf(400, 300), 1, 800), np.uint8), cv2.IMREAD_GRAYSCALE)
    assert picture is not None
    assert picture.shape == (600, 800)
    rows, columns = np.nonzero(picture < 128)
    assert (columns.min(), columns.max() + 1) == (100, 300)
    assert (rows.min(), rows.max() + 1) == (600 - 300, 600 - 100)


def test_colours_are_not_exchanged() -> None:
    red = pdf(400, 300, b"1 0 0 rg 0 0 9 9 re f")
    picture = cv2.imdecode(np.frombuffer(page_picture(red, 1, 400), np.uint8), cv2.IMREAD_COLOR)
    assert picture is not None
    blue, green, red_ink = picture[295, 4]
    assert (blue, green, red_ink) == (0, 0, 255)


def test_no_picture_is_larger_than_a_screen_can_use() -> None:
    picture = cv2.imdecode(np.frombuffer(page_picture(pdf(40, 30), 1, 10**6), np.uint8), cv2.IMREAD_GRAYSCALE)
    assert picture is not None
    assert picture.shape[1] == WIDEST


@pytest.mark.parametrize("number", [0, 2, -1])
def test_there_is_no_page_beyond_the_last(number: int) -> None:
    with pytest.raises(IndexError):
        page_picture(pdf(400, 300), number, 100)


def test_the_server_shows_every_page_of_every_sheet(done: Done) -> None:
    files = done.client.get(f"{done.client.here}/files").json()["files"]
    pages = {f["name"]: f["pages"] for f in files if f["pages"]}
    assert set(pages) == {"templates.pdf", "work-sheet.pdf", "proof.pdf"}
    for name, sizes in pages.items():
        for size in sizes:
            assert sorted(size) == pytest.approx([210, 297], abs=0.1)  # A4, ISO 216, upright or lying
        address = f"{done.client.here}/files/{name}/pages"
        answer = done.client.get(f"{address}/{len(sizes)}.png?across=120")
        assert answer.headers["content-type"] == "image/png"
        assert answer.content == page_picture(done.made.files[name], len(sizes), 120)
        assert done.client.get(f"{address}/{len(sizes) + 1}.png").status_code == 404
    assert done.client.get(f"{done.client.here}/files/hoopings.json/pages/1.png").status_code == 404
