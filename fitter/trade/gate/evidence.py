"""What the gate's rules judge: one frozen value, gathered by the caller.

A field left at None was not looked at, and the rules that need it stay silent.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from fitter.trade.gate.verdicts import PageVerdict
from fitter.trade.size import Size

Openers = Literal["mark", "allow", "fail"]


@dataclass(frozen=True, slots=True)
class Source:
    """The input file and the line in it that made a page."""

    file: str
    line: int


@dataclass(frozen=True, slots=True)
class Limits:
    """`blanks:` of book.yaml, as far as the gate goes.

    Two blank pages at the end: U.S. GPO Style Manual 2008, rule 1.15. Two at the front: common
    practice, no source.
    """

    openers: Openers = "mark"
    front_at_most: int = 2
    end_at_most: int = 2


@dataclass(frozen=True, slots=True)
class Sewing:
    """Whether the binding holds the extent; the nearest extents below and above that it holds."""

    fits: bool
    below: int | None = None
    above: int | None = None


@dataclass(frozen=True, slots=True)
class FillerSeen:
    """A filler of the plan: where it was to stand, and how many of its pages the PDF shows."""

    id: str
    first_page: int
    pages_wanted: int
    pages_found: int


@dataclass(frozen=True, slots=True)
class ImprintSeen:
    """What the imprint page was to say, and what the PDF says; `page` is its sheet position.

    `words_wanted` says whether the house rule wants words over the key of this printing (None: no
    such rule), `words_found` whether they are there. `isbn_stands` says that the wanted ISBN is
    printed, in 10 signs or 13; `isbns_wrong` are clauses about numbers that are none, `isbn_fault`
    is one about the wanted number, which stands at `isbn_at`; `old_edition` is the statement of an
    earlier edition that bore the same ISBN.
    """

    page: int | None = None
    key_wanted: str | None = None
    keys_found: tuple[str, ...] = ()
    words_wanted: bool | None = None
    words_found: bool = False
    isbn_wanted: str | None = None
    isbn_stands: bool = False
    isbns_found: tuple[str, ...] = ()
    isbns_wrong: tuple[str, ...] = ()
    isbn_fault: str = ""
    isbn_at: Source | None = None
    old_edition: str | None = None


@dataclass(frozen=True, slots=True)
class Evidence:
    """Everything known about a built book when the gate judges it.

    `openers` are the sheet positions of the versos left empty before a recto opener, `sources` the
    place in the source for a sheet position; both come from the record of the build. `no_plan`
    says why the catalogue does not fit this text any more.
    """

    verdicts: tuple[PageVerdict, ...]
    limits: Limits = Limits()
    openers: frozenset[int] = frozenset()
    sources: Mapping[int, Source] = field(default_factory=dict)
    sewing: Sewing | None = None
    fillers: tuple[FillerSeen, ...] | None = None
    no_plan: str = ""
    imprint: ImprintSeen | None = None
    trim: Size | None = None
    page_sizes: tuple[Size, ...] | None = None

    @property
    def extent(self) -> int:
        """The number of pages, blanks included."""
        return len(self.verdicts)
