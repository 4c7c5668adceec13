from pathlib import Path

import pymupdf
import pytest

from fitter.pdf.glance import is_full
from fitter.pdf.pages import trim_of
from tests.drawn import TEXT, Draw, drawn, nothing, raw, said, text, together, words


def full(folder: Path, draw: Draw) -> bool:
    with pymupdf.open(drawn(folder / "book.pdf", draw)) as document:
        return is_full(document[0], trim_of(document[0]))


HALF = "\n".join(TEXT[at : at + 50] for at in range(0, 150, 50)) + "\n"


@pytest.mark.parametrize(
    ("draw", "expected"),
    [
        (text, True),
        (words(60, HALF * 5), True),  # more words than a mark can have
        (words(60, HALF), False),
        (nothing, False),
        (together(words(80, "DO NOT\nTURN\nTHE PAGE", 40)), False),
        (raw(said("seen", "1 g") + "0.9 g 0 0 400 600 re f"), False),
    ],
    ids=["text", "half a page", "three lines", "blank", "large shield", "tint"],
)
def test_a_page_too_full_to_be_taken_for_an_empty_one(
    tmp_path: Path, draw: Draw, expected: bool
) -> None:
    assert full(tmp_path, draw) is expected
