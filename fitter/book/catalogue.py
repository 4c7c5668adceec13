"""From the catalogue's entries to what the choice needs: how many pages each may take."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from fitter.book.kinds import names_pdf
from fitter.book.loader import Book
from fitter.book.models import FillerEntry
from fitter.errors import BadInput
from fitter.trade.fill.choose import Filler
from fitter.trade.words import count


def needs_measuring(entry: FillerEntry) -> bool:
    """Whether only typesetting tells how many pages the filler takes."""
    return bool(entry.source) and not names_pdf(entry.source)


def fillers_of(book: Book, takes: Mapping[str, int]) -> list[Filler]:
    """The catalogue with its page counts; `takes` has the measured and counted ones by id.

    Entries whose length is unknown are left out. Raises BadInput for a count that contradicts
    the catalogue, all told.
    """
    faults = [
        fault
        for index, entry in enumerate(book.catalogue)
        if (fault := _count_fault(book.fillers_doc.at(("fillers", index, "pages")), entry, takes))
    ]
    if faults:
        raise BadInput(*faults)
    counts = {entry.id: _counts(entry, takes) for entry in book.catalogue}
    known = _with_their_needs([entry for entry in book.catalogue if counts[entry.id]])
    ids = {entry.id for entry in known}
    return [_filler(entry, counts[entry.id], ids) for entry in known]


def _with_their_needs(entries: list[FillerEntry]) -> list[FillerEntry]:
    """Leave out what needs an entry that is left out, until nothing more goes."""
    ids = {entry.id for entry in entries}
    kept = [entry for entry in entries if ids.issuperset(entry.needs)]
    return kept if len(kept) == len(entries) else _with_their_needs(kept)


def _counts(entry: FillerEntry, takes: Mapping[str, int]) -> tuple[int, ...]:
    if entry.id in takes:
        return (takes[entry.id],)
    if entry.pages:
        return tuple(range(entry.pages[0], entry.pages[1] + 1))
    return (1,) if entry.page else ()


def _count_fault(at: str, entry: FillerEntry, takes: Mapping[str, int]) -> str | None:
    if entry.id not in takes:
        return None
    takes_now = takes[entry.id]
    if takes_now == 0:
        return f"{at}: the filler '{entry.id}' typesets no page. Put something in its source."
    if entry.pages and not entry.pages[0] <= takes_now <= entry.pages[1]:
        low, high = entry.pages
        said = count(low, "page") if low == high else f"{low}..{high} pages"
        return (
            f"{at}: '{entry.id}' says {said}, and typeset it takes {takes_now}. "
            "Mend 'pages' or leave it out: it is measured."
        )
    return None


def _filler(entry: FillerEntry, counts: tuple[int, ...], ids: set[str]) -> Filler:
    excludes = tuple(other for other in entry.excludes if other in ids)
    return replace(entry.filler, counts=counts, excludes=excludes)


def pdf_fillers(book: Book) -> list[FillerEntry]:
    """The ready-made PDF fillers of the catalogue."""
    return [entry for entry in book.catalogue if names_pdf(entry.source)]
