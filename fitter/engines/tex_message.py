"""TeX's own complaint, found in what it printed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

_AT = re.compile(r"^(?P<file>[^:\n]+):(?P<line>\d+): (?P<message>.+)$")
_BANG = re.compile(r"^! ?(?P<message>.+)$")
_CONTEXT = re.compile(r"^l\.(?P<line>\d+) (?P<context>.*)$")


@dataclass(frozen=True, slots=True)
class TexMessage:
    """The first error: file and line are None where TeX gave none."""

    message: str
    file: str | None = None
    line: int | None = None
    context: str = ""

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}: " if self.file else ""
        context = f" (at: {self.context.strip()})" if self.context.strip() else ""
        return f"{place}{self.message}{context}"


def first_error(lines: Sequence[str]) -> TexMessage | None:
    """The first error in the output of a TeX engine run with -file-line-error."""
    for i, text in enumerate(lines):
        if (match := _AT.match(text)) and match["file"].strip():
            file, line = match["file"].removeprefix("./"), int(match["line"])
            return TexMessage(match["message"], file, line, _context(lines[i + 1 : i + 12]))
        if match := _BANG.match(text):
            return TexMessage(match["message"], context=_context(lines[i + 1 : i + 12]))
    return None


def _context(lines: Sequence[str]) -> str:
    for text in lines:
        if match := _CONTEXT.match(text):
            return match["context"]
    return ""
