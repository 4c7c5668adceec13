"""Page labels: the folios as the PDF itself tells them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fitter.pdf.document import faults

if TYPE_CHECKING:
    import pymupdf

NODES_AT_MOST = 100_000
LARGEST = 5000  # in letters or roman numerals; beyond it figures are shorter
_ROMAN = (
    (1000, "m"), (900, "cm"), (500, "d"), (400, "cd"), (100, "c"), (90, "xc"), (50, "l"),
    (40, "xl"), (10, "x"), (9, "ix"), (5, "v"), (4, "iv"), (1, "i"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Run:
    """Pages numbered on from one another: `style` is D, R, r, A, a, or '' for the prefix alone."""

    style: str = ""
    prefix: str = ""
    first: int = 1

    def label(self, further: int) -> str:
        """The label of the page that stands so many after the first of the run."""
        return self.prefix + _numeral(self.first + further, self.style)


@dataclass(frozen=True, slots=True)
class Labels:
    """The runs of a PDF by the page they start at, which counts from 1."""

    starts: tuple[int, ...] = ()
    runs: tuple[Run, ...] = ()

    def of(self, page: int) -> str | None:
        """The label of a page, without what no terminal should get; None where it has none."""
        at = bisect_right(self.starts, page) - 1
        if at < 0:
            return None
        label = self.runs[at].label(page - self.starts[at])
        return "".join(char for char in label if char.isprintable()) or None


def read_labels(document: pymupdf.Document) -> Labels:
    """The labels of a PDF; none where it has none, or a tree of them that cannot be read.

    Source: ISO 32000-1, 12.4.2 (page labels) and 7.9.7 (number trees). The library's own reader
    takes the key /P of an entry for any /P in it, and loses brackets.
    """
    from pymupdf import mupdf

    try:
        trailer = mupdf.pdf_trailer(mupdf.PdfDocument(document.this))
        tree = _under(_under(trailer, "Root"), "PageLabels")
        found = {start + 1: _run(entry) for start, entry in _entries(tree)}
    except faults():
        return Labels()
    starts = sorted(found)
    return Labels(tuple(starts), tuple(found[start] for start in starts))


def _entries(tree: Any) -> Iterator[tuple[int, Any]]:
    """The numbers of a number tree and what stands under them."""
    from pymupdf import mupdf

    waiting, left = [tree], NODES_AT_MOST
    while waiting and left > 0:
        node = waiting.pop()
        numbers, kids = _under(node, "Nums"), _under(node, "Kids")
        for i in range(0, mupdf.pdf_array_len(numbers) - 1, 2):
            left -= 1
            yield (
                mupdf.pdf_to_int(mupdf.pdf_array_get(numbers, i)),
                mupdf.pdf_array_get(numbers, i + 1),
            )
        waiting += [
            mupdf.pdf_array_get(kids, i) for i in range(min(mupdf.pdf_array_len(kids), left))
        ]
        left -= 1


def _run(entry: Any) -> Run:
    from pymupdf import mupdf

    first = mupdf.pdf_to_int(_under(entry, "St"))
    return Run(
        mupdf.pdf_to_name(_under(entry, "S")),
        mupdf.pdf_to_text_string(_under(entry, "P")),
        first if first > 0 else 1,
    )


def _under(node: Any, key: str) -> Any:
    from pymupdf import mupdf

    return mupdf.pdf_dict_gets(node, key)


def _numeral(number: int, style: str) -> str:
    if not style:
        return ""
    if number > LARGEST or style not in {"R", "r", "A", "a"}:
        return str(number)
    lower = _roman(number) if style in {"R", "r"} else _letters(number)
    return lower if style.islower() else lower.upper()


def _roman(number: int) -> str:
    told = ""
    for value, letters in _ROMAN:
        told += letters * (number // value)
        number %= value
    return told


def _letters(number: int) -> str:
    """a to z, then aa to zz, and so on."""
    return chr(ord("a") + (number - 1) % 26) * ((number - 1) // 26 + 1)
