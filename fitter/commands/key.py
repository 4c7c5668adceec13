"""`fitter key`: read, next, make."""

from __future__ import annotations

import sys
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

from fitter.commands.output import put
from fitter.errors import DONE, NOT_PASSED
from fitter.reports.harmless import harmless
from fitter.reports.voice import Voice
from fitter.trade.caution import CAUTION
from fitter.trade.key.key import KeySettings
from fitter.trade.key.make import make as made
from fitter.trade.key.make import words_over
from fitter.trade.key.read import read as readings_of
from fitter.trade.key.strike import strike


def read(line: str, *, words: str | None, since: int, published: int | None, form: str) -> int:
    """Tell every reading of a line, the likeliest first."""
    readings = readings_of(line, words, since, published)
    from fitter.reports.key_report import reading_json, readings_text

    put(
        form,
        lambda: {**reading_json(readings[0]), "readings": [*map(reading_json, readings)]},
        lambda: readings_text(readings, words, since),
    )
    return DONE


def next_(
    line: str, *, voice: Voice, form: str, year: int | None, printer: str, **settling: Any
) -> int:
    """Strike a line; 1 where that cannot give the next printing's."""
    struck = strike(line, year, printer, **settling)
    from fitter.reports.key_report import struck_text

    if struck.line or form == "json":
        put(form, lambda: asdict(struck), lambda: struck.line)
    for sentence in struck_text(struck):
        print(harmless(sentence), file=sys.stderr)
    voice.step(CAUTION)
    return DONE if struck.line else NOT_PASSED


def make(*, book: Path | None, voice: Voice, form: str, **wishes: Any) -> int:
    """Compose a line from a book or from options."""
    words, line = _of_book(book) if book else _of_wishes(wishes)
    put(
        form,
        lambda: {"line": line, "words": words},
        lambda: f"{words}\n{line}" if words else line,
    )
    voice.step(CAUTION)
    return DONE


def _of_book(where: Path) -> tuple[str, str]:
    from fitter.book.loader import load_book
    from fitter.errors import BadInput
    from fitter.steps.imprint import key_line_of, words_of

    book = load_book(where)
    if book.settings.imprint.key is None:
        raise BadInput(f"{book.file}: there is no key in it. Give 'imprint: key:' its scheme.")
    return words_of(book), key_line_of(book)


def _of_wishes(wishes: dict[str, Any]) -> tuple[str, str]:
    printing, year, set_in = (wishes.pop(name) for name in ("printing", "year", "set_in"))
    given = {name: value for name, value in wishes.items() if value is not None}
    if "digits" in given:
        given["digits"] = int(given["digits"])
    settings = replace(KeySettings(), **given)
    line = made(settings, printing, year, set_in=set_in)
    return words_over(settings, printing), line
