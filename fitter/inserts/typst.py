"""The generated file for Typst, read by fitter.lua: each line a JSON list of texts, never code."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from fitter.book.kinds import names_pdf
from fitter.book.models import FillerEntry
from fitter.inserts.chosen import Chosen
from fitter.inserts.content import HEAD, Inserts

if TYPE_CHECKING:
    from fitter.trade.fill.choose import Placed

_FOR_PANDOC = ('["candidate"', '["setting"', '["record-text"')
_SETTING = re.compile(r'^\["setting", "([^"\\]+)", "([^"\\]+)"\]$', re.MULTILINE)


def render(inserts: Inserts) -> str:
    """The whole file."""
    return before_choice(inserts) + "".join(map(_line, _placements(inserts)))


def before_choice(inserts: Inserts) -> str:
    """The part that does not depend on what was chosen."""
    lines = [
        ("note", " ".join(HEAD)),
        *_imprint(inserts),
        *_settings(inserts),
        *_trial(inserts),
        *_catalogue(inserts),
    ]
    return "".join(map(_line, lines))


def parse(text: str) -> Chosen:
    """What an earlier file says was chosen to win pages."""
    return Chosen(dict(_SETTING.findall(text)))


def for_pandoc(text: str) -> list[str]:
    """The lines of a file that the filter makes something of: with others, pandoc runs anew."""
    return [line for line in text.splitlines() if line.startswith(_FOR_PANDOC)]


def _line(texts: tuple[str, ...]) -> str:
    return json.dumps(texts, ensure_ascii=False) + "\n"


def _settings(inserts: Inserts) -> Iterator[tuple[str, ...]]:
    for name, value in inserts.values:
        yield ("setting", name, value)


def _trial(inserts: Inserts) -> Iterator[tuple[str, ...]]:
    if inserts.trial:
        yield ("record-text",)
        for number, times in inserts.trial.cuts.items():
            yield ("cut", str(number), f"{times:.3f}")


def _imprint(inserts: Inserts) -> Iterator[tuple[str, ...]]:
    blanks = inserts.book.settings.blanks
    yield ("mark", blanks.mark.fillers)
    if blanks.mark.openers != blanks.mark.fillers:
        yield ("opener-mark", blanks.mark.openers)
    yield ("openers", blanks.openers)
    for line in inserts.key.splitlines():
        yield ("key", line)
    if inserts.isbn:
        yield ("isbn", inserts.isbn)
    for line in inserts.history:
        yield ("history", line)
    for kind, lines in inserts.imprint:
        yield ("imprint", kind, *lines)


def _catalogue(inserts: Inserts) -> Iterator[tuple[str, ...]]:
    for entry in inserts.book.catalogue:
        if entry.source and not names_pdf(entry.source):
            yield ("candidate", entry.id, _path(inserts, entry))


def _placements(inserts: Inserts) -> Iterator[tuple[str, ...]]:
    entries = {entry.id: entry for entry in inserts.book.catalogue}
    for placed in inserts.placement.placed:
        entry = entries[placed.id]
        yield ("place", placed.place, *_shown(inserts, entry, placed))
    if inserts.placement.end_blanks:
        yield ("end-blanks", str(inserts.placement.end_blanks))


def _shown(inserts: Inserts, entry: FillerEntry, placed: Placed) -> tuple[str, ...]:
    pages = str(placed.pages)
    if entry.page == "notes":
        return ("notes", entry.id, pages, entry.lines, entry.title or "Notes")
    if entry.page == "marked-blank":
        return ("marked-blank", entry.id, pages)
    if names_pdf(entry.source):
        return ("pdf", entry.id, pages, f"/{_path(inserts, entry)}")
    return ("text", entry.id)


def _path(inserts: Inserts, entry: FillerEntry) -> str:
    book = inserts.book
    return book.from_source(book.folder / (entry.source or ""))
