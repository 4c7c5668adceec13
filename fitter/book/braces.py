"""Groups in braces, as TeX and the record have them."""

from __future__ import annotations

from collections.abc import Iterator


def groups(text: str) -> Iterator[str]:
    """What stands in each outermost pair of braces; a group that is not closed is none."""
    depth, start = 0, 0
    for i, char in enumerate(text):
        if char == "{":
            depth += 1
            start = i + 1 if depth == 1 else start
        elif char == "}" and depth:
            depth -= 1
            if depth == 0:
                yield text[start:i]
