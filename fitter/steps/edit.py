"""Check an edit list: cut what it says from one paragraph of a copy, add to another, and build."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from fitter.book.loader import Book
from fitter.steps.identify import block_of
from fitter.steps.trials import Bench, Wish
from fitter.trade.tighten.edits import Edit
from fitter.trade.tighten.tightening import Checked

# As printed, and as it may be typed: quotes and dashes, in Markdown and for TeX.
_TYPED = {
    "\u2018": "(?:\u2018|'|`)",
    "\u2019": "(?:\u2019|')",
    "\u201c": '(?:\u201c|"|``)',
    "\u201d": "(?:\u201d|\"|'')",
    "\u2013": "(?:\u2013|--)",
    "\u2014": "(?:\u2014|---)",
}
PADDING = " and so it went on and on"


@dataclass(frozen=True, slots=True)
class _Change:
    edit: Edit
    cut: bool
    characters: int
    start: int
    end: int
    words: bytes


def check_edits(bench: Bench, book: Book, wish: Wish, edits: Sequence[Edit]) -> list[Checked]:
    """The first edits whose last line stands plainly in the source: one cut, one addition.

    The book's own files stay as they are. Raises ProgramFailed where the copy does not build.
    """
    changes = _changes(book, edits)
    if not changes:
        return []
    for change in changes:
        where = f"{change.edit.paragraph.file}:{change.edit.paragraph.line}"
        verb = "cutting" if change.cut else "adding"
        bench.say(f"checking the edit list: {verb} {change.characters} characters at {where}")
    files = {each.edit.paragraph.file for each in changes}
    texts = {name: _edited(book, name, changes) for name in files}
    tried = bench.try_one(replace(wish, edits=texts))
    now = {each.number: each.lines for each in tried.text.paragraphs}
    return [
        Checked(each.edit, each.cut, each.characters, now.get(each.edit.paragraph.number, 0))
        for each in changes
    ]


def _changes(book: Book, edits: Sequence[Edit]) -> list[_Change]:
    cut = next(_found(book, edits, cut=True), None)
    rest = [each for each in edits if cut is None or each != cut.edit]
    added = next(_found(book, reversed(rest), cut=False), None)
    return [each for each in (cut, added) if each]


def _found(book: Book, edits: Iterable[Edit], *, cut: bool) -> Iterator[_Change]:
    for edit in edits:
        span = _tail(book, edit)
        if span and cut:
            yield _Change(edit, True, edit.cut, *span, b"")
        elif span:
            words = (PADDING * (edit.add // len(PADDING) + 1))[: edit.add].encode()
            yield _Change(edit, False, edit.add, span[1], span[1], words)


def _tail(book: Book, edit: Edit) -> tuple[int, int] | None:
    """Where the last line stands in the file, in bytes, if it ends its block word for word."""
    block = block_of(book, edit.paragraph)
    if block is None:
        return None
    source = (book.home / edit.paragraph.file).read_bytes()
    lines = source.split(b"\n")
    start = sum(len(line) + 1 for line in lines[: block.first - 1])
    inside = b"\n".join(lines[block.first - 1 : block.last])
    words = unicodedata.normalize("NFKC", edit.paragraph.ending).split()
    pattern = rb"\s*" + rb"\s+".join(map(_as_typed, words)) + rb"(?=\s*\Z)"
    match = re.search(pattern, inside)
    return (start + match.start(), start + match.end()) if match else None


def _as_typed(word: str) -> bytes:
    """A pattern for the ways in which a printed word may stand in the source."""
    typed = "".join(_TYPED.get(char, re.escape(char)) for char in word)
    return typed.replace(re.escape("..."), "(?:\\.\\.\\.|\u2026)").encode()


def _edited(book: Book, name: str, changes: Sequence[_Change]) -> bytes:
    source = (book.home / name).read_bytes()
    here = [each for each in changes if each.edit.paragraph.file == name]
    for change in sorted(here, key=lambda each: -each.start):
        source = source[: change.start] + change.words + source[change.end :]
    return source
