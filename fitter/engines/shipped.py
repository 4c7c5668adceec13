"""Which TeX run is on and which page it has reached, from what TeX prints as it works."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Protocol

_BANNER = re.compile(r"^This is (pdfTeX|LuaHBTeX|LuaTeX|XeTeX|LuaJITTeX)")
_PAGE = re.compile(r"(?:^|[\s)\]}>])\[\d+(?:\.\d+)*(?=[\]{<\s]|$)")
_QUOTED_PARAGRAPH = re.compile(r"\\[A-Z]+[0-9]*/")
_WRITTEN = "Output written on "


class Say(Protocol):
    """Told of a step (page 0), and then of the page it has come to."""

    def __call__(self, text: str, page: int = 0, /) -> None: ...


@dataclass(slots=True)
class Shipped:
    """Counts the runs and the pages of each as the lines come in."""

    engine: str
    say: Say
    runs: int = 0
    page: int = 0
    running: bool = False

    def line(self, line: str) -> None:
        """Take one line of output and say what is new in it."""
        if _BANNER.match(line):
            self.runs, self.page, self.running = self.runs + 1, 0, True
            self.say(f"{self.engine}, run {self.runs}")
        elif line.startswith(_WRITTEN):
            self.running = False
        elif self.running and not _QUOTED_PARAGRAPH.search(line):
            for _ in _PAGE.finditer(line):
                self.page += 1
                self.say(f"{self.engine}, run {self.runs}", self.page)
