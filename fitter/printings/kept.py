"""The fingerprints of the printings, one file for each beside the record."""

from __future__ import annotations

import base64
import json
import sys
from array import array
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast, get_args

from fitter.book.loader import Book
from fitter.errors import BadInput
from fitter.trade.printing.fingerprint import BookPrint, PagePrint, Role
from fitter.trade.size import Size


@dataclass(frozen=True, slots=True)
class Kept:
    """What is kept of a printing: its pages, and the statement and ISBN it carried."""

    printing: int
    edition: str
    isbn: str
    book: BookPrint


def file_of(book: Book, printing: int) -> Path:
    """Where the fingerprint of a printing lies: printings-2.json beside printings.yaml."""
    record = book.printings_file
    return record.with_name(f"{record.stem}-{printing}.json")


def as_text(kept: Kept) -> str:
    """The file: one line for each page, so that a version history stays readable."""
    head = {
        "about": "fingerprint of a printing, written by 'fitter printing add'",
        "printing": kept.printing,
        "edition": kept.edition,
        "isbn": kept.isbn,
        "extent": kept.book.extent,
        "trim_mm": [kept.book.trim.width_mm, kept.book.trim.height_mm],
    }
    pages = ",\n".join(json.dumps(_page(page)) for page in kept.book.pages)
    return f'{json.dumps(head, ensure_ascii=False)[:-1]}, "pages": [\n{pages}\n]}}\n'


def read_kept(path: Path) -> Kept | None:
    """The fingerprint in a file, or None where there is no file. Raises BadInput if damaged."""
    try:
        values = json.loads(path.read_text(encoding="utf-8"))
        return Kept(
            int(values["printing"]),
            str(values["edition"]),
            str(values["isbn"]),
            BookPrint(
                Size(*map(float, values["trim_mm"])),
                tuple(map(_page_print, values["pages"])),
                int(values.get("extent", 0)),
            ),
        )
    except FileNotFoundError:
        return None
    except (ValueError, KeyError, TypeError, ArithmeticError, RecursionError):
        raise BadInput(
            f"{path}: this is no fingerprint of a printing, or a damaged one. Restore it, or "
            "move it away and compare the printings' PDFs with 'fitter printing compare'."
        ) from None
    except OSError as error:
        raise BadInput(f"{path}: cannot be read: {error.strerror}.") from None


def last_kept(book: Book) -> Kept | None:
    """The fingerprint of the latest printing that has one, of this record or of one before it."""
    folder, stem = book.printings_file.parent, book.printings_file.stem
    names = (path.stem.removeprefix(f"{stem}-") for path in folder.glob(f"{stem}-*.json"))
    numbers = sorted((int(name) for name in names if name.isdecimal()), reverse=True)
    return read_kept(file_of(book, numbers[0])) if numbers else None


def _page(page: PagePrint) -> dict[str, Any]:
    return {
        "digest": page.digest,
        "words": base64.b64encode(_swapped(array("H", page.words)).tobytes()).decode(),
        "lines": page.lines,
        **({"picture": page.picture} if page.picture else {}),
        **({"role": page.role} if page.role != "text" else {}),
    }


def _page_print(values: dict[str, Any]) -> PagePrint:
    words = array("H", base64.b64decode(values["words"], validate=True))
    picture = str(values.get("picture", ""))
    int(picture or "0", 16)
    return PagePrint(
        str(values["digest"]),
        tuple(_swapped(words)),
        int(values["lines"]),
        picture,
        _role(values.get("role", "text")),
    )


def _role(name: str) -> Role:
    if name not in get_args(Role):
        raise ValueError(name)
    return cast(Role, name)


def _swapped(words: array[int]) -> array[int]:
    """Little-endian in the file, whatever the machine."""
    if sys.byteorder == "big":
        words.byteswap()
    return words
