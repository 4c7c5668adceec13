"""What the imprint page of a PDF says, beside what the book wants on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from fitter.book.isbn import Isbn, isbns_in, read_isbn
from fitter.book.loader import Book
from fitter.pdf.pages import text_of_pages
from fitter.printings.kept import last_kept
from fitter.steps.imprint import key_line_of, words_of
from fitter.steps.sources import from_here
from fitter.trade.gate.evidence import ImprintSeen, Source
from fitter.trade.imprint.find import candidates, imprint_page, keys_on, says


def imprint_seen(pdf: Path, book: Book | None = None) -> ImprintSeen:
    """The imprint page of a PDF, found by content, beside what the book wants on it."""
    page, text = _found(pdf)
    numbers = [_isbn(found) for found in isbns_in(text)]
    seen = ImprintSeen(
        page=page,
        isbns_found=tuple(n.printed for n in numbers if isinstance(n, Isbn)),
        isbns_wrong=tuple(n for n in numbers if isinstance(n, str)),
    )
    return _beside(seen, text, numbers, book) if book else seen


def _beside(seen: ImprintSeen, text: str, numbers: Sequence[Isbn | str], book: Book) -> ImprintSeen:
    imprint, line = book.settings.imprint, key_line_of(book)
    house = imprint.key.settings.words if imprint.key else ""
    wanted = _isbn(imprint.isbn) if imprint.isbn else None
    return replace(
        seen,
        key_wanted=line or None,
        keys_found=keys_on(text, line) if line else (),
        words_wanted=bool(words_of(book)) if house else None,
        words_found=bool(house) and says(text, house),
        isbn_wanted=wanted.printed if isinstance(wanted, Isbn) else None,
        isbn_stands=any(
            isinstance(n, Isbn) and isinstance(wanted, Isbn) and n.number == wanted.number
            for n in numbers
        ),
        isbn_fault=wanted if isinstance(wanted, str) else "",
        isbn_at=Source(from_here(book.file), book.book_doc.line(("imprint", "isbn"))),
        old_edition=_old_edition(book, wanted),
    )


def _old_edition(book: Book, isbn: Isbn | str | None) -> str | None:
    """The statement of the printing kept last, if it is another under the same ISBN."""
    now = book.settings.imprint.edition
    if not now or not isinstance(isbn, Isbn):
        return None
    kept = last_kept(book)
    before = _isbn(kept.isbn) if kept and kept.edition not in {"", now} else None
    same = isinstance(before, Isbn) and before.number == isbn.number
    return kept.edition if kept and same else None


def _found(pdf: Path) -> tuple[int | None, str]:
    texts = text_of_pages(pdf, candidates)
    page = imprint_page(texts)
    return page, texts[page] if page else ""


def _isbn(text: str) -> Isbn | str:
    try:
        return read_isbn(text)
    except ValueError as error:
        return str(error)
