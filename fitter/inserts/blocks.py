"""The source as blocks of lines between blank lines: a paragraph is known by the block's text."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Block:
    """Lines `first` to `last` of a file, and the MD5 of their text in capitals.

    fitter.sty computes the same: each line without the spaces around it, joined by single spaces.
    """

    first: int
    last: int
    text: bytes

    @property
    def digest(self) -> str:
        """What the text is known by."""
        return hashlib.md5(self.text, usedforsecurity=False).hexdigest().upper()

    @property
    def readable(self) -> bool:
        """Whether TeX reads the same bytes: no tabs or other control characters within."""
        return all(byte >= 32 and byte != 127 for byte in self.text)


def blocks(source: bytes) -> Iterator[Block]:
    """The blocks of a file in order."""
    lines: list[bytes] = []
    for number, line in enumerate([*source.split(b"\n"), b""], 1):
        text = line.rstrip(b" \r").lstrip(b" ")
        if text:
            lines.append(text)
        elif lines:
            yield Block(number - len(lines), number - 1, b" ".join(lines))
            lines = []
