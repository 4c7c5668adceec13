"""What is said to a person while the work goes on: standard error, and nothing else."""

from __future__ import annotations

import io
import os
import shutil
import sys
from collections.abc import Callable
from dataclasses import dataclass
from typing import IO

from fitter.reports.harmless import harmless

PAGES_A_LINE = 100
_LINE_ABOVE = "\x1b[1A\r\x1b[K"


@dataclass(frozen=True, slots=True)
class Voice:
    """`level` 0 is silent but for faults, 1 is normal, 2 tells more."""

    level: int = 1

    def step(self, text: str) -> None:
        """A step of the work."""
        if self.level >= 1:
            _print(text)

    def detail(self, text: str) -> None:
        """Something only the curious want."""
        if self.level >= 2:
            _print(text)

    def warn(self, text: str) -> None:
        """Something to know even when all else is silent."""
        _print(f"warning: {text}")

    def progress(self, text: str, page: int = 0) -> None:
        """How far a step has come: page 0 begins a line, later pages are told in the same line.

        Where nobody watches (a file, CI), one line is added each hundred pages.
        """
        if self.level < 1:
            return
        told = f"{text}, page {page}"
        if page == 0:
            _print(text)
        elif is_watched():
            columns = shutil.get_terminal_size().columns
            _print(told[: columns - 1], above=_LINE_ABOVE)
        elif page % PAGES_A_LINE == 0:
            _print(told)


@dataclass(frozen=True, slots=True)
class Progress:
    """The progress of one step, told in its name."""

    voice: Voice
    step: str

    def __call__(self, text: str, page: int = 0, /) -> None:
        """Tell how far it has come."""
        self.voice.progress(f"{self.step}: {text}", page)


def is_styled() -> bool:
    """Whether standard output is a terminal that wants weights and colours."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")


def is_watched() -> bool:
    """Whether standard error is a terminal that can go back to an earlier line."""
    return sys.stderr.isatty() and not os.environ.get("CI") and os.environ.get("TERM") != "dumb"


def fault(sentences: tuple[str, ...]) -> None:
    """Tell a person what went wrong, a line a sentence."""
    for sentence in sentences:
        _print(f"fitter: {sentence}")


def usage(show: Callable[[IO[str]], None]) -> None:
    """Tell what click shows of a wrong command line."""
    shown = io.StringIO()
    show(shown)
    _print(shown.getvalue().rstrip("\n"))


def _print(text: str, above: str = "") -> None:
    print(above + harmless(text), file=sys.stderr, flush=True)
