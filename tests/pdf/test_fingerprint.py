from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pymupdf
import pytest

from fitter.errors import BadInput
from fitter.pdf.fingerprint import fingerprint
from fitter.trade.size import Size

MM = 72 / 25.4


def book(path: Path, bodies: Sequence[str], slug: str = "") -> Path:
    """Pages of 100 × 160 mm with a running head and folio, in a larger sheet with a slug line."""
    document = pymupdf.open()
    for number, body in enumerate(bodies, 1):
        page = document.new_page(width=120 * MM, height=180 * MM)
        document.xref_set_key(page.xref, "TrimBox", f"[{10 * MM} {10 * MM} {110 * MM} {170 * MM}]")
        page.insert_text((30 * MM, 20 * MM), f"{number} The Far End")
        for line, words in enumerate(body.splitlines()):
            page.insert_text((30 * MM, (40 + 6 * line) * MM), words)
        page.insert_text((12 * MM, 177 * MM), slug)
    document.save(path)
    return path


BODIES = [
    "It rained on the first day.\nNobody minded.",
    "It rained on the second day.\nThe walk was roofed.",
    "It rained on the third day.\nSo it went on.",
]


def test_pages_have_a_trim_words_and_lines(tmp_path: Path) -> None:
    taken = fingerprint(book(tmp_path / "a.pdf", BODIES))
    assert taken.trim == Size(100, 160)
    assert [(len(page.words), page.lines) for page in taken.pages] == [
        (8, 2),
        (10, 2),
        (10, 2),
    ]


def test_what_stands_outside_the_trim_does_not_count(tmp_path: Path) -> None:
    one = fingerprint(book(tmp_path / "a.pdf", BODIES, "book.pdf, Tuesday"))
    other = fingerprint(book(tmp_path / "b.pdf", BODIES, "book.pdf, Friday"))
    assert one == other


def test_folios_and_running_heads_do_not_count(tmp_path: Path) -> None:
    whole = fingerprint(book(tmp_path / "a.pdf", [*BODIES, "The end."]))
    without_first = fingerprint(book(tmp_path / "b.pdf", [*BODIES[1:], "The end."]))
    assert whole.pages[1:] == without_first.pages


def test_a_picture_is_marked_and_a_blank_page_is_not(tmp_path: Path) -> None:
    path = book(tmp_path / "a.pdf", [*BODIES, *BODIES])
    with pymupdf.open(path) as document:
        document.new_page(width=283, height=454).draw_circle((140, 200), 60, fill=(0, 0, 0))
        document.new_page(width=283, height=454)
        document.saveIncr()
    drawn, blank = fingerprint(path).pages[-2:]
    assert (bool(drawn.picture), blank.picture) == (True, "")
    assert blank.empty


def test_another_picture_has_another_mark(tmp_path: Path) -> None:
    def picture(name: str, left: float) -> str:
        path = book(tmp_path / name, [*BODIES, *BODIES])
        with pymupdf.open(path) as document:
            page = document.new_page(width=283, height=454)
            for top in range(50, 400, 50):
                page.draw_rect((left, top, left + 60, top + 25), fill=(0, 0, 0))
            document.saveIncr()
        return fingerprint(path).pages[-1].picture

    same = int(picture("a.pdf", 40), 16) ^ int(picture("b.pdf", 40), 16)
    other = int(picture("c.pdf", 40), 16) ^ int(picture("d.pdf", 160), 16)
    assert same.bit_count() == 0
    assert other.bit_count() > 12


def test_the_imprint_page_and_fillers_have_their_roles(tmp_path: Path) -> None:
    imprint = "First published 2026\nISBN 978-1-234-56789-7\n1 2 3 4 5"
    path = book(tmp_path / "a.pdf", [BODIES[0], imprint, *BODIES[1:], "Notes on rope"])
    taken = fingerprint(path, fillers=frozenset({5}))
    assert [page.role for page in taken.pages] == ["text", "imprint", "text", "text", "filler"]


def test_a_scan_is_refused(tmp_path: Path) -> None:
    document = pymupdf.open()
    for number in range(3):
        shade = pymupdf.Pixmap(pymupdf.csGRAY, pymupdf.IRect(0, 0, 60, 90), False)
        shade.clear_with(255)
        shade.set_rect(pymupdf.IRect(10, 10 + 9 * number, 50, 15 + 9 * number), (0,))
        document.new_page().insert_image((0, 0, 595, 842), pixmap=shade)
    document.save(tmp_path / "scan.pdf")
    with pytest.raises(BadInput, match="3 of 3 pages are pictures without text, as in a scan"):
        fingerprint(tmp_path / "scan.pdf")
