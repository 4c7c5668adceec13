from __future__ import annotations

import pytest

from fitter.book.braces import groups


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", []),
        ("none", []),
        ("a{b}c{}d", ["b", ""]),
        ("{a{b}{c}}{d}", ["a{b}{c}", "d"]),
        ("{a}{not closed", ["a"]),
        ("{a}} {b}", ["a", "b"]),
    ],
)
def test_the_outermost_pairs(text: str, expected: list[str]) -> None:
    assert list(groups(text)) == expected
