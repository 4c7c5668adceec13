from pathlib import Path

import pymupdf
import pytest

from fitter.pdf.pages import page_count, page_sizes, text_of_pages
from fitter.trade.size import Size


def book(path: Path, rotation: int = 0, unit: int = 1) -> Path:
    """Three pages of 100 × 160 mm in a larger sheet, with a slug line outside the trim."""
    mm = 72 / 25.4
    document = pymupdf.open()
    for number in range(1, 4):
        page = document.new_page(width=130 * mm, height=200 * mm)
        page.insert_text((30 * mm, 50 * mm), f"Page number {number}")
        page.insert_text((20 * mm, 197 * mm), "Slug line")
        for name, box in (("CropBox", (5, 0, 130, 190)), ("TrimBox", (15, 20, 115, 180))):
            corners = " ".join(f"{corner * mm:.3f}" for corner in box)
            document.xref_set_key(page.xref, name, f"[{corners}]")
        page.set_rotation(rotation)
        if unit > 1:
            document.xref_set_key(page.xref, "UserUnit", str(unit))
    document.save(path)
    return path


def test_page_count(tmp_path: Path) -> None:
    assert page_count(book(tmp_path / "book.pdf")) == 3


@pytest.mark.parametrize(
    ("rotation", "unit", "size"),
    [
        (0, 1, Size(100, 160)),
        (90, 1, Size(160, 100)),
        (180, 1, Size(100, 160)),
        (270, 2, Size(320, 200)),  # ISO 32000-1, 14.11.2 and table 30: UserUnit
    ],
)
def test_sizes_are_those_of_the_trimmed_and_turned_page(
    tmp_path: Path, rotation: int, unit: int, size: Size
) -> None:
    assert page_sizes(book(tmp_path / "book.pdf", rotation, unit)) == (size,) * 3


@pytest.mark.parametrize("rotation", [0, 90, 180, 270])
@pytest.mark.parametrize("unit", [1, 3])
def test_text_is_that_inside_the_trim(tmp_path: Path, rotation: int, unit: int) -> None:
    texts = text_of_pages(
        book(tmp_path / "book.pdf", rotation, unit), lambda extent: [extent, 2, 7]
    )
    assert {page: text.strip() for page, text in texts.items()} == {
        2: "Page number 2",
        3: "Page number 3",
    }
