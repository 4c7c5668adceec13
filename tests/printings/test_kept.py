from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from fitter.errors import BadInput
from fitter.printings.kept import Kept, as_text, read_kept
from fitter.trade.printing.fingerprint import BookPrint
from tests.trade.printed import chapter, set_in_type

BOOK = set_in_type([chapter(1, 2000)])
KEPT = Kept(
    2,
    "Erste Auflage – mit Änderungen",
    "978-1-234-56789-7",
    BookPrint(
        BOOK.trim,
        (
            replace(BOOK.pages[0], role="imprint"),
            replace(BOOK.pages[1], picture="ff"),
            *BOOK.pages[2:],
        ),
    ),
)


def test_what_is_kept_is_read_again(tmp_path: Path) -> None:
    file = tmp_path / "printings-2.json"
    file.write_text(as_text(KEPT), encoding="utf-8")
    assert read_kept(file) == KEPT


def test_a_page_takes_about_a_kilobyte() -> None:
    size = len(as_text(KEPT))
    words = sum(len(page.words) for page in KEPT.book.pages)
    assert size < 3 * words + 120 * len(KEPT.book.pages) + 300


def test_no_file_is_no_fingerprint(tmp_path: Path) -> None:
    assert read_kept(tmp_path / "printings-1.json") is None


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"trim_mm": [', '"trim_mm": ["x", '),
        ('"words": "', '"words": "*'),
        ('"lines": ', '"lnes": '),
        ('"lines": ', '"lines": 1e999, "was": '),
        ('"role": "imprint"', '"role": "cover"'),
        ('"picture": "ff"', '"picture": "fog"'),
        ('"pages"', '"page"'),
        ("]}", ""),
    ],
)
def test_a_damaged_file_is_told(tmp_path: Path, old: str, new: str) -> None:
    file = tmp_path / "printings-2.json"
    text = as_text(KEPT)
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(BadInput, match=r"printings-2\.json: this is no fingerprint"):
        read_kept(file)
