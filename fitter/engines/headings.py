"""Which line of which Markdown file holds each heading that pandoc saw."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

Place = tuple[str, int]

_ATX = re.compile(r"^[ >]*#{1,6}\s+(?P<words>.+)$")
_UNDERLINE = re.compile(r"^(=+|-+)\s*$")
_LINK = re.compile(r"\[([^\]]*)\]\([^)]*\)")
_ATTRIBUTES = re.compile(r"\s*#*\s*(\{[^}]*\})?\s*$")


def heading_places(seen: Sequence[str], sources: Mapping[str, str]) -> list[Place | None]:
    """The place of each heading, in order; None for one that no line says in the same words.

    `seen` are the headings' words as pandoc gives them, `sources` the texts by file name in
    reading order.
    """
    lines = list(_heading_lines(sources))
    places: list[Place | None] = []
    start = 0
    for words in seen:
        wanted = _letters(words)
        at = next((i for i in range(start, len(lines)) if lines[i][1] == wanted), None)
        places.append(None if at is None else lines[at][0])
        start = start if at is None else at + 1
    return places


def _heading_lines(sources: Mapping[str, str]) -> Iterator[tuple[Place, str]]:
    for name, text in sources.items():
        lines = text.splitlines()
        for number, line in enumerate(lines, 1):
            after = lines[number] if number < len(lines) else ""
            if match := _ATX.match(line):
                yield (name, number), _letters(match["words"])
            elif line.strip() and _UNDERLINE.match(after):
                yield (name, number), _letters(line)


def _letters(words: str) -> str:
    """Letters and digits alone, so that quotes, dashes and emphasis make no difference."""
    plain = _LINK.sub(r"\1", _ATTRIBUTES.sub("", words))
    return "".join(char for char in plain.casefold() if char.isalnum())
