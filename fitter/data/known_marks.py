"""The marks that the program knows, and those that a book adds."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from fitter.package import data_file
from fitter.trade.gate.marks import Marks


def known_marks(own: Iterable[str] = ()) -> Marks:
    """Recognise the phrases of marks.yaml and the book's own."""
    return Marks([*_phrases(), *own])


@cache
def _phrases() -> tuple[str, ...]:
    import yaml

    text = data_file("marks.yaml").read_text(encoding="utf-8")
    tables = yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    return tuple(
        phrase for languages in tables.values() for said in languages.values() for phrase in said
    )
