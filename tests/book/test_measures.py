"""Numbers of pages, and sizes of a page, as people write them."""

from __future__ import annotations

import pytest

from fitter.book.measures import read_range, read_trim


@pytest.mark.parametrize(
    ("said", "pages"),
    [(4, (4, 4)), ("1..8", (1, 8)), (" 2 .. 3 ", (2, 3)), (99, (99, 99))],
)
def test_a_number_or_a_range(said: object, pages: tuple[int, int]) -> None:
    assert read_range(said) == pages


@pytest.mark.parametrize("said", [0, 10**6, 10**400, True, "8..1", "0..4", "1..9999999", ""])
def test_what_is_no_number_of_pages_is_told_shortly(said: object) -> None:
    with pytest.raises(ValueError, match="pages") as raised:
        read_range(said)
    assert len(str(raised.value)) < 150


@pytest.mark.parametrize(
    ("said", "width", "height"),
    [
        ("129 x 198 mm", 129, 198),
        ("12.9×19.8cm", 129, 198),
        ("6 x 9 in", 152.4, 228.6),
        ("360 x 576 pt", 127, 203.2),
    ],
)
def test_a_size_has_its_unit(said: str, width: float, height: float) -> None:
    # own arithmetic: an inch is 25.4 mm, a point of PDF the 72nd part of one
    size = read_trim(said)
    assert (size.width_mm, size.height_mm) == (width, height)


@pytest.mark.parametrize(
    "said", ["1.2.3 x 198 mm", ". x . mm", "129 x 198", "129 mm", "-1 x 2 cm", "6 x 9 feet", ""]
)
def test_what_is_no_size_is_told_with_one_that_is(said: str) -> None:
    with pytest.raises(ValueError, match="a trim reads like '129 x 198 mm'"):
        read_trim(said)
