"""The marks that the program knows, and those that a book adds."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from fitter.package import data_file
from fitter.trade.gate.marks import Marks

Tables = dict[str, dict[str, list[str]]]
BEYOND_LATIN = 0x250  # a font of the book has no others


def known_marks(own: Iterable[str] = ()) -> Marks:
    """Recognise the phrases of marks.yaml and the book's own."""
    return Marks([*_phrases(), *own])


def mark_in(language: str) -> str:
    """The mark for a new book: in its language where that is written in Latin letters, or English.

    `language` is a tag such as "de" or "pt-BR".
    """
    marks = _tables()["marks"]
    phrase = marks.get(language.partition("-")[0].lower(), marks["en"])[0]
    return phrase if all(ord(char) < BEYOND_LATIN for char in phrase) else marks["en"][0]


def _phrases() -> tuple[str, ...]:
    tables = _tables().values()
    return tuple(phrase for languages in tables for said in languages.values() for phrase in said)


@cache
def _tables() -> Tables:
    import yaml

    text = data_file("marks.yaml").read_text(encoding="utf-8")
    tables: Tables = yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    return tables
