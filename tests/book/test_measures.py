"""Numbers of pages as people write them."""

from __future__ import annotations

import pytest

from fitter.book.measures import read_range


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
