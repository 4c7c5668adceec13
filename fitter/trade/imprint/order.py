"""What stands on the imprint page, in the order of a published style."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from fitter.trade.printing.printings import Printing

ORDERS: dict[str, tuple[str, ...]] = {
    "american": (
        "publisher",
        "copyright",
        "rights",
        "history",
        "printed",
        "key",
        "isbn",
        "doi",
        "cataloguing",
        "paper",
        "credits",
        "disclaimer",
    ),
    "european": (
        "disclaimer",
        "cataloguing",
        "publisher",
        "isbn",
        "doi",
        "copyright",
        "rights",
        "history",
        "printed",
        "paper",
        "credits",
        "key",
    ),
}
"""Two orders. American: The Chicago Manual of Style, 17th ed., its own copyright page (publisher,
copyright, rights, edition history, "Printed in", impression line, ISBN, DOI, cataloguing block).
European: European Union, Interinstitutional Style Guide, 5.3.1 (disclaimer, cataloguing note,
place, publisher and year, identifiers, copyright, "Printed in", paper, picture credits). Where a
style says nothing of a line it comes last, or with its kin: common practice, no source. The
standard for title leaves, ISO 1086:1991, was not read."""

KINDS = frozenset(ORDERS["american"])
ORDINALS = ("", "First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth")

# Common practice, no source. {n} is the number of the printing, {ordinal} the English word.
WORDING: dict[str, dict[str, str]] = {
    "en": {"published": "First published {year}", "printing": "{ordinal} printing {year}"},
    "de": {"published": "Zuerst erschienen {year}", "printing": "{n}. Druck {year}"},
    "fr": {"published": "Première publication {year}", "printing": "{n}e tirage {year}"},
    "es": {"published": "Primera publicación {year}", "printing": "{n}.ª impresión {year}"},
    "it": {"published": "Prima pubblicazione {year}", "printing": "{n}ª tiratura {year}"},
    "pt": {"published": "Primeira publicação {year}", "printing": "{n}.ª impressão {year}"},
    "nl": {"published": "Eerste uitgave {year}", "printing": "{n}e druk {year}"},
    "sv": {"published": "Först utgiven {year}", "printing": "{n}:a tryckningen {year}"},
}


@dataclass(frozen=True, slots=True)
class Imprint:
    """What a book says of itself; empty is what it does not say.

    `said` has free lines by kind: publisher, rights, printed, doi, cataloguing, paper, credits,
    disclaimer. `wording` replaces the words of the language. `key_words` are the words that stand
    over the key of a first printing, and nowhere from the second on. A `dated` imprint has the year
    of publication with the publisher, apart from the year of copyright.
    """

    year: int | None = None
    holder: str = ""
    edition: str = ""
    isbn: str = ""
    key: str = ""
    key_words: str = ""
    language: str = "en"
    said: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    wording: Mapping[str, str] = field(default_factory=dict)
    record: tuple[Printing, ...] = ()
    dated: bool = False


def lines_in_order(
    imprint: Imprint, order: Sequence[str]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The kinds that have something to say, in order, each with its lines; the rest is left out."""
    said = {**imprint.said, **dict(_made(imprint))}
    return tuple((kind, said[kind]) for kind in order if said.get(kind))


def history(imprint: Imprint) -> tuple[str, ...]:
    """The edition and its year, then each printing from the second on, in the book's language."""
    record, year = imprint.record, _year(imprint)
    if year is None:
        return ()
    later = [_worded(imprint, "printing", one.printing, one.year) for one in record[1:]]
    first = f"{imprint.edition} {year}" if imprint.edition else ""
    if later and imprint.edition.casefold() == imprint.key_words.casefold():
        first = ""  # the house rule takes these words off from the second printing on
    return (first or _worded(imprint, "published", 1, year), *later)


def _year(imprint: Imprint) -> int | None:
    """The year in which the edition came out."""
    return imprint.record[0].year if imprint.record else imprint.year


def _made(imprint: Imprint) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The lines that are not free."""
    yield "history", history(imprint)
    yield "isbn", (f"ISBN {imprint.isbn}",) if imprint.isbn else ()
    yield "key", tuple(imprint.key.splitlines())
    if imprint.year and imprint.holder:
        yield "copyright", (f"© {imprint.year} {imprint.holder}",)
    publisher, year = imprint.said.get("publisher", ()), _year(imprint)
    if imprint.dated and publisher and year:
        yield "publisher", (*publisher[:-1], f"{publisher[-1]}, {year}")


def language_of(imprint: Imprint) -> str:
    """The language without its country: `en` of `en-GB`."""
    return imprint.language.replace("_", "-").split("-")[0].lower()


def _worded(imprint: Imprint, kind: str, number: int, year: int) -> str:
    words = imprint.wording.get(kind) or WORDING.get(language_of(imprint), WORDING["en"])[kind]
    for name, value in (("n", number), ("ordinal", _ordinal(number)), ("year", year)):
        words = words.replace(f"{{{name}}}", str(value))
    return words


def _ordinal(number: int) -> str:
    if number < len(ORDINALS):
        return ORDINALS[number]
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10 if number % 100 not in (11, 12, 13) else 0)
    return f"{number}{ending or 'th'}"
