"""Know passages by their text: the block of the source each begins in, and which it is there."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from fitter.book.loader import Book
from fitter.inserts.blocks import Block, blocks
from fitter.inserts.chosen import Passage

if TYPE_CHECKING:
    from fitter.trade.tighten.text import Paragraph, Text

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._/+-]*")
_COMMAND = re.compile(r"\\[A-Za-z]+\*?")
LIKE_ENOUGH = 0.6  # of the words of a last line that must stand in the source


def identify(book: Book, text: Text) -> dict[int, Passage]:
    """The name of each paragraph that can be known again, by its number."""
    endings = {each.number: each.ending for each in text.paragraphs}
    begun = [(each.number, each.read_at) for each in text.paragraphs]
    named = _named(book, begun)
    return {number: name for number, block, name in named if says(block, endings[number])}


def identify_chapters(book: Book, text: Text) -> dict[int, Passage]:
    """The name of each chapter that can be known again, by its place among chapters and parts."""
    chapters = enumerate(text.chapters)
    begun = [(place, each.read_at) for place, each in chapters if each.kind == "chapter"]
    return {place: name for place, _, name in _named(book, begun)}


def _named(
    book: Book, begun: Sequence[tuple[int, tuple[str, int]]]
) -> Iterator[tuple[int, Block, Passage]]:
    """Of what begins at a file and line, that which TeX can know again: its block and its name."""
    files = {name: _blocks_by_line(book, name) for name in {name for _, (name, _) in begun}}
    counted: Counter[tuple[str, str]] = Counter()
    for number, (name, line) in begun:
        if block := files[name].get(line):
            known_by = (name, block.digest)
            counted[known_by] += 1
            if block.readable:
                yield number, block, Passage(*known_by, counted[known_by])


def block_of(book: Book, paragraph: Paragraph) -> Block | None:
    """The block of source lines in which a paragraph begins."""
    here = (each for each in _blocks(book, paragraph.file) if each.last >= paragraph.line)
    return next((each for each in here if each.first <= paragraph.line), None)


def missing(book: Book, passages: tuple[Passage, ...]) -> tuple[Passage, ...]:
    """The passages whose text stands in the source no more.

    What pandoc makes of Markdown may be out of date here: TeX tells what it does not find in it.
    """
    if book.markdown:
        return ()
    names = {each.file for each in passages}
    files = {name: {block.digest for block in _blocks(book, name)} for name in names}
    return tuple(each for each in passages if each.text not in files[each.file])


def says(block: Block, ending: str) -> bool:
    """Whether a line as it is printed can have come from a block of source.

    A paragraph that a macro puts together elsewhere cannot be known by the lines TeX was reading.
    """
    source = _COMMAND.sub(" ", block.text.decode("utf-8", "replace"))
    letters, wanted = _letters(source), _letters(ending)
    if wanted and wanted in letters:
        return True
    words = [word for word in map(_letters, ending.split()[1:]) if len(word) > 2]
    found = sum(word in letters for word in words)
    return bool(words) and found >= LIKE_ENOUGH * len(words)


def _letters(text: str) -> str:
    plain = unicodedata.normalize("NFKC", text).casefold()
    return "".join(char for char in plain if char.isalnum())


def _blocks_by_line(book: Book, name: str) -> dict[int, Block]:
    """None for a file that TeX cannot name."""
    if not _NAME.fullmatch(name):
        return {}
    return {
        line: block for block in _blocks(book, name) for line in range(block.first, block.last + 1)
    }


def _blocks(book: Book, name: str) -> list[Block]:
    """The blocks of a file of the author's; none for what a build makes."""
    path = (book.home / name).resolve()
    if not path.is_file() or path == book.inserts.resolve():
        return []
    made = book.output.parent.resolve()
    in_output = made != book.home.resolve() and path.is_relative_to(made)
    if in_output and path != book.typeset.resolve():
        return []
    return list(blocks(path.read_bytes()))
