from fitter.pdf.mask import Mask, mask_of
from fitter.pdf.prints import Pixels
from fitter.trade.gate.page import Box


def mask(*rows: str, per_mm: float = 1) -> Mask:
    """A mask from rows of dots and hashes, one millimetre each."""
    ink = bytearray(char == "#" for row in rows for char in row)
    return Mask(len(rows[0]), len(rows), per_mm, ink)


def test_boxes_are_told_apart_by_empty_rows() -> None:
    found = list(mask("....", ".##.", "....", "....", "...#", "#...").boxes(apart_mm=2))
    assert found == [Box(1, 1, 3, 2), Box(0, 4, 4, 6)]


def test_ink_in_a_box_and_ink_cleared_from_it() -> None:
    one = mask("....", ".##.", "....")
    assert one.any_in(Box(2, 0, 9, 9))
    assert not one.any_in(Box(0, 2, 4, 3))
    one.clear(Box(-1, 0, 2, 3))
    assert list(one.boxes(1)) == [Box(2, 1, 3, 2)]
    one.clear(Box(0, 0, 4, 3))
    assert one.is_clear


def test_ink_differs_from_the_commonest_colour_in_any_channel() -> None:
    ground, near, far = b"\x80\x80\x80", b"\x80\x80\x86", b"\x80\x80\x90"
    found = mask_of(Pixels(4, 1, 3, 1, ground + near + far + ground), contrast=8)
    assert bytes(found.ink) == b"\0\0\1\0"


def test_one_colour_is_clear() -> None:
    assert mask_of(Pixels(3, 2, 1, 1, b"\x20" * 6), contrast=8).is_clear
