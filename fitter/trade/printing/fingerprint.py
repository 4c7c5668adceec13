"""What is kept of a page so that the next printing can be compared without the old PDF."""

from __future__ import annotations

import hashlib
import re
import unicodedata
import zlib
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from fitter.trade.size import Size

REPEATED = 3  # pages that bear the same words at head or foot: they are furniture there
ENDS = 2  # blocks looked at from the head and from the foot
MOST_LINES = 3  # of a running head or foot; readers of PDFs part text into blocks each in its way
_WORD = re.compile(r"[\u3040-\u30ff\u3400-\u9fff]|[^\s\u3040-\u30ff\u3400-\u9fff]+")
_NUMBER = re.compile(r"\d+|\b[ivxlcdm]+\b")
_FIGURES = re.compile(r"[\W\d]*\d[\W\d]*")
_WORDS = 1 << 15  # marks of numbers lie below, marks of words from here on
_HYPHEN = "-\u00ad\u2010\u2011"


Role = Literal["text", "imprint", "filler"]


@dataclass(frozen=True, slots=True)
class Block:
    """Lines that stand together on a page, and where: from `top` down to `bottom`."""

    top: float
    bottom: float
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PagePrint:
    """One page: `digest` changes with any sign, `words` are 16-bit marks of the words in order.

    `picture` is a coarse mark of what the eye sees, taken of pages with pictures or without text.
    The `role` tells pages that may change without the text changing.
    """

    digest: str
    words: tuple[int, ...]
    lines: int
    picture: str = ""
    role: Role = "text"

    @property
    def empty(self) -> bool:
        """Whether nothing stands on the page, furniture aside."""
        return not self.words and not self.picture


@dataclass(frozen=True, slots=True)
class BookPrint:
    """All pages of a printing, and the size they are trimmed to.

    `extent` is that of the printing as bound, where it is another than of these pages, else 0.
    """

    trim: Size
    pages: tuple[PagePrint, ...]
    extent: int = 0

    @property
    def bound(self) -> int:
        """The extent of the printing as far as it is known."""
        return self.extent or len(self.pages)


def print_of(lines: Sequence[str], picture: str = "", role: Role = "text") -> PagePrint:
    """The fingerprint of a page from the lines of its body."""
    plain = [unicodedata.normalize("NFKC", line).strip() for line in lines]
    plain = [line for line in plain if line]
    digest = hashlib.blake2b("\n".join(plain).encode(), digest_size=8).hexdigest()
    return PagePrint(digest, words_of(plain), len(plain), picture, role)


def words_of(lines: Sequence[str]) -> tuple[int, ...]:
    """The words of a page as 16-bit marks; hyphens do not count, for lines may break anew."""
    text = re.sub(rf"[{_HYPHEN}]\n", "", "\n".join(lines))
    words = _WORD.findall(text.translate({ord(sign): None for sign in _HYPHEN}))
    return tuple(_mark(word) for word in words)


def is_number(mark: int) -> bool:
    """Whether a mark stands for a number, as in a reference to a page."""
    return mark < _WORDS


def _mark(word: str) -> int:
    mark = zlib.crc32(word.encode()) % _WORDS
    return mark if _FIGURES.fullmatch(word) else mark + _WORDS


def bodies(pages: Sequence[Sequence[Block]]) -> list[list[str]]:
    """The lines of each page without running heads, feet and folios, which say where, not what."""
    furniture = _repeated(pages, _top) | _repeated(pages, _bottom)
    return [_body(blocks, furniture) for blocks in pages]


def _top(block: Block) -> float:
    return block.top


def _bottom(block: Block) -> float:
    return -block.bottom


Edge = Callable[[Block], float]


def _repeated(pages: Sequence[Sequence[Block]], edge: Edge) -> set[str]:
    """What stands at this edge of several pages, whatever its numbers."""
    times = Counter(
        pattern
        for blocks in pages
        for pattern in {
            _pattern(block)
            for block in sorted(blocks, key=edge)[:ENDS]
            if len(block.lines) <= MOST_LINES
        }
    )
    return {pattern for pattern, count in times.items() if count >= REPEATED}


def _body(blocks: Sequence[Block], furniture: set[str]) -> list[str]:
    left = list(blocks)
    for edge in (_top, _bottom):
        for block in sorted(blocks, key=edge)[:ENDS]:
            if _pattern(block) not in furniture:
                break
            if block in left:
                left.remove(block)
    return [line for block in left for line in block.lines]


def _pattern(block: Block) -> str:
    return _NUMBER.sub("#", " ".join(" ".join(block.lines).casefold().split()))
