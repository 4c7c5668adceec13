from pathlib import Path

import pymupdf
import pytest

from fitter.pdf.pages import trim_of
from fitter.pdf.plain import is_plainly_full
from tests.drawn import HEIGHT, WIDTH, Draw, drawn, raw

LINE = "The harbour lay quiet that morning, and three of the boats had not come home."


def lines(count: int = 40, first: int = 520, before: str = "", words: str = LINE) -> str:
    """The operators of so many lines of text."""
    return (
        f"{before} BT /F1 8 Tf 12 TL 60 {first} Td "
        + " ".join(f"({words}) Tj T*" for _ in range(count))
        + " ET\n"
    )


def plainly_full(folder: Path, draw: Draw) -> bool:
    with pymupdf.open(drawn(folder / "book.pdf", draw)) as document:
        return is_plainly_full(document[0], trim_of(document[0]))


PLAIN = {
    "black text": lines(),
    "dark blue": lines(before="0 0 0.5 rg"),
    "text on a light ground": f"0.9 g 0 0 {WIDTH} {HEIGHT} re f 0 g" + lines(),
    "rules between": lines() + "60 100 200 0.4 re f 0.4 w 60 90 m 200 90 l S",
    "a moved page": "q 1 0 0 1 10 10 cm" + lines() + "Q",
    "brackets in strings": lines(words=LINE + r" [12] \(sic\)"),
    "arrays": "BT /F1 8 Tf 12 TL 60 520 Td " + f"[({LINE})-30(])] TJ T* " * 40 + "ET",
}
LEFT_TO_A_CLOSER_LOOK = {
    "few lines": lines(8),
    "white": lines(before="1 g"),
    "light": lines(before="0 0 1 0 k"),
    "invisible": lines(before="3 Tr"),
    "transparent": lines(before="/G gs"),
    "clipped": lines(before="0 0 9 9 re W n"),
    "covered": lines() + f"1 g 0 0 {WIDTH} {HEIGHT} re f",
    "swallowed": f"0 g 0 0 {WIDTH} {HEIGHT} re f" + lines(),
    "beyond the foot": lines(first=-10),
    "beyond the right edge": lines(before="1 0 0 1 900 0 cm"),
    "tiny": lines(before="0.1 0 0 0.1 0 0 cm"),
    "on a layer": lines(before="/OC /L BDC") + "EMC",
    "a drawing called up": lines() + "/X Do",
    "a strange operator": lines() + "7 what",
    "operands missing": lines() + "12 Td",
    "restored too often": lines() + "Q",
}


@pytest.mark.parametrize("content", PLAIN.values(), ids=PLAIN.keys())
def test_plain_pages_of_text(tmp_path: Path, content: str) -> None:
    assert plainly_full(tmp_path, raw(content))


@pytest.mark.parametrize("content", LEFT_TO_A_CLOSER_LOOK.values(), ids=LEFT_TO_A_CLOSER_LOOK)
def test_what_could_be_hidden_is_left_to_a_closer_look(tmp_path: Path, content: str) -> None:
    assert not plainly_full(tmp_path, raw(content))


def test_text_outside_the_trim_does_not_count(tmp_path: Path) -> None:
    assert not plainly_full(tmp_path, raw(lines(), TrimBox="[0 0 50 50]"))


@pytest.mark.parametrize("rotation", ["90", "180", "270"])
def test_turned_pages_are_as_plain(tmp_path: Path, rotation: str) -> None:
    assert plainly_full(tmp_path, raw(lines(), Rotate=rotation))
