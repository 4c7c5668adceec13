"""What the YAML files may say; every default stands here and nowhere else."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    WithJsonSchema,
    model_validator,
)

from fitter.book.measures import read_range, read_trim
from fitter.book.settings import Id, Settings
from fitter.trade.fill.choose import Filler
from fitter.trade.fold.gatherings import MOST_SHORT, Binding, size_faults
from fitter.trade.imprint.order import KINDS, ORDERS
from fitter.trade.key.key import KeySettings, settings_faults
from fitter.trade.printing.limits import EditionLimits
from fitter.trade.printing.printings import FIRST_YEAR, LAST_YEAR, MOST_PRINTINGS, Printing
from fitter.trade.size import Size
from fitter.trade.tighten.settings import Setting
from fitter.trade.words import count

_LIMITS = EditionLimits()


def _off(value: Any) -> Any:
    return "off" if value is False else value  # YAML takes a bare `off` for false


Severity = Annotated[Literal["error", "warning", "off"], BeforeValidator(_off)]


def _as_list(value: Any) -> Any:
    return value if isinstance(value, list) or value is None else [value]


def _as_words(value: Any) -> Any:
    return value.split() if isinstance(value, str) else value


def _as_text(value: Any) -> Any:
    return str(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else value


def _one_line(value: str) -> str:
    if any(not char.isprintable() for char in value):
        raise ValueError("the text must be one line without control characters")
    return value.strip()


def _trim(value: Any) -> Any:
    return read_trim(str(value)) if value is not None else None


def _one_or_many(kind: str) -> WithJsonSchema:
    one = {"type": kind}
    return WithJsonSchema({"anyOf": [one, {"type": "array", "items": one}]})


_LIKE_TEXT = WithJsonSchema({"type": "string"})
Text = Annotated[str, BeforeValidator(_as_text), AfterValidator(_one_line)]
Range = Annotated[
    tuple[int, int], BeforeValidator(read_range), WithJsonSchema({"type": ["integer", "string"]})
]
Texts = Annotated[tuple[Text, ...], BeforeValidator(_as_list), _one_or_many("string")]
Sizes = Annotated[tuple[int, ...], BeforeValidator(_as_list), _one_or_many("integer")]
Words = Annotated[tuple[Text, ...] | None, BeforeValidator(_as_words), _one_or_many("string")]


class Page(BaseModel):
    """A mapping in YAML: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


class BindingEntry(Page):
    """How the book is bound."""

    style: Literal["sewn", "perfect", "saddle", "cut-sheet"] = "sewn"
    gathering: Sizes = ()
    short: Sizes = ()
    short_at_most: int = Field(1, ge=0, le=MOST_SHORT)

    @property
    def binding(self) -> Binding:
        """The same in the trade's terms."""
        return Binding(self.style, self.gathering, self.short, self.short_at_most)

    @model_validator(mode="after")
    def _sizes_fold(self) -> BindingEntry:
        faults = size_faults(self.binding)
        if faults:
            raise ValueError("; ".join(said for _, said in faults))
        return self


class KeyEntry(Page):
    """How the printer's key is composed."""

    scheme: Literal[
        "ascending", "descending", "centred", "centred-mirrored", "letters", "letters-descending"
    ] = "ascending"
    length: int = Field(10, ge=1, le=50)
    years: int = Field(0, ge=0, le=30)
    years_order: Literal["ascending", "descending"] = "descending"
    digits: Literal[2, 4] = 2
    side: Literal["before", "after"] = "after"
    printer: Text | None = None
    separator: str = Field(" ", max_length=10)
    gap: str = Field("   ", max_length=10)
    words: Text | None = None

    @property
    def settings(self) -> KeySettings:
        """The same in the trade's terms."""
        values = self.model_dump(exclude={"printer", "words"})
        return KeySettings(**values, printer=self.printer or "", words=self.words or "")

    @model_validator(mode="after")
    def _gives_a_line(self) -> KeyEntry:
        faults = settings_faults(self.settings)
        if faults:
            raise ValueError("; ".join(faults))
        return self


def _order(value: Any) -> Any:
    """A published order by its name, or the kinds of lines in an order of one's own."""
    if isinstance(value, str) and value in ORDERS:
        return ORDERS[value]
    kinds = value if isinstance(value, list) else [value]
    wrong = [kind for kind in kinds if not isinstance(kind, str) or kind not in KINDS]
    if wrong:
        raise ValueError(
            f"'{wrong[0]}' is no order of lines; say {' or '.join(ORDERS)}, or list "
            f"some of {', '.join(sorted(KINDS))}"
        )
    return value


Order = Annotated[
    tuple[str, ...],
    BeforeValidator(_order),
    WithJsonSchema(
        {
            "anyOf": [
                {"enum": [*ORDERS]},
                {"type": "array", "items": {"enum": sorted(KINDS)}},
            ]
        }
    ),
]


class WordingEntry(Page):
    """Words of the history in place of the language's own: {n}, {ordinal} and {year} are filled."""

    published: Text | None = None
    printing: Text | None = None


class ImprintEntry(Page):
    """What stands on the imprint page."""

    publisher: Texts = ()
    year: int | None = Field(None, ge=FIRST_YEAR, le=LAST_YEAR)
    copyright: Text | None = None
    rights: Texts = ()
    edition: Text | None = None
    printed: Texts = ()
    isbn: Text | None = None
    doi: Texts = ()
    cataloguing: Texts = ()
    paper: Texts = ()
    credits: Texts = ()
    disclaimer: Texts = ()
    key: KeyEntry | None = None
    order: Order = ORDERS["american"]
    wording: WordingEntry = WordingEntry()

    @property
    def said(self) -> dict[str, tuple[str, ...]]:
        """The lines that stand as they are typed, by kind."""
        return self.model_dump(
            include={
                *("publisher", "rights", "printed", "doi", "cataloguing", "paper", "credits"),
                "disclaimer",
            }
        )


class CompareEntry(Page):
    """Where corrections end and a new edition begins."""

    corrected_words: int = Field(_LIMITS.corrected_words, ge=0)
    changed_words: float = Field(_LIMITS.changed_words, ge=0, le=100)
    new_pages: int = Field(_LIMITS.new_pages, ge=0)
    trim_mm: float = Field(_LIMITS.trim_mm, ge=0)

    @property
    def limits(self) -> EditionLimits:
        """The same in the trade's terms."""
        return EditionLimits(**self.model_dump())


MARK = "This page is intentionally left blank."


def _says_something(mark: str) -> str:
    if not mark.strip():
        raise ValueError("a mark says something; a page that may stay empty: 'openers: allow'")
    return mark


Said = Annotated[Text, AfterValidator(_says_something)]


class MarksEntry(Page):
    """What an empty page says, by where it stands: before a recto opener, or as a filler."""

    openers: Said = MARK
    fillers: Said = MARK


def _one_for_all(value: Any) -> Any:
    if isinstance(value, (str, int, float)):
        return {"openers": value, "fillers": value}
    return value


_MARK_SCHEMA = {
    "anyOf": [MarksEntry.model_json_schema(), {"type": "string"}],
    "default": MARK,
    "title": "Mark",
}
Marks = Annotated[MarksEntry, BeforeValidator(_one_for_all), WithJsonSchema(_MARK_SCHEMA)]


class BlanksEntry(Page):
    """Which blank pages the book may have, and what an empty page says."""

    mark: Marks = MarksEntry()
    openers: Literal["mark", "allow", "fail"] = "mark"
    front_at_most: int = Field(2, ge=0)
    end_at_most: int = Field(2, ge=0)


class MovableEntry(Page):
    """Matter of the book that could give way to save a gathering."""

    id: Text
    pages: int = Field(ge=1)
    part: Literal["blank-versos", "prelims", "end-matter"]

    @model_validator(mode="after")
    def _whole_leaves(self) -> MovableEntry:
        if self.part != "end-matter" and self.pages % 2:
            raise ValueError(
                f"'{self.id}' takes {count(self.pages, 'page')}: before the text only whole leaves "
                "can go, so that the text still begins on a recto; give an even number"
            )
        return self


class BookFile(Page):
    """book.yaml"""

    title: Text = ""
    author: Text = ""
    language: Text = "en"
    source: Texts = Field(min_length=1)
    engine: Literal["pdflatex", "lualatex", "xelatex", "typst"] | None = None
    output: Text | None = None
    build: Words = None
    trim: Annotated[Size | None, BeforeValidator(_trim), _LIKE_TEXT] = None
    binding: BindingEntry = BindingEntry()
    printer: Text | None = None
    paper: Text | None = None
    movable: tuple[MovableEntry, ...] = ()
    fillers: Text | None = None
    printings: Text | None = None
    imprint: ImprintEntry = ImprintEntry()
    compare: CompareEntry = CompareEntry()
    blanks: BlanksEntry = BlanksEntry()
    rules: dict[str, Severity] = {}
    settings: Settings = {}

    @property
    def allowed(self) -> tuple[Setting, ...]:
        """What the designer allows to vary, in the order of the file."""
        return tuple(entry.setting(name) for name, entry in self.settings.items())


class FillerEntry(Page):
    """One entry of the catalogue."""

    id: Id
    source: Text | None = None
    page: Literal["notes", "marked-blank"] | None = None
    lines: Literal["ruled", "plain", "dotted"] = "ruled"
    title: Text | None = None
    pages: Range | None = None
    priority: int = Field(5, ge=1, le=1_000_000)
    place: Literal["front", "back"] = "back"
    starts: Literal["recto", "verso", "any"] = "any"
    required: bool = False
    elsewhere: Literal["cover", "jacket"] | None = None
    needs: Texts = ()
    excludes: Texts = ()

    @model_validator(mode="after")
    def _one_origin(self) -> FillerEntry:
        if self.source and self.page:
            raise ValueError(f"'{self.id}' has both 'source' and 'page'; keep one of them")
        if not self.source and not self.page and not self.pages:
            raise ValueError(
                f"'{self.id}' needs a 'source' (a .tex, .md or .pdf file) or a built-in 'page'"
            )
        return self

    @property
    def filler(self) -> Filler:
        """The same in the trade's terms, of one page: how many it takes is not said here."""
        return Filler(
            id=self.id,
            place=self.place,
            priority=self.priority,
            starts=self.starts,
            required=self.required,
            needs=self.needs,
            excludes=self.excludes,
        )


class FillersFile(Page):
    """fillers.yaml"""

    fillers: tuple[FillerEntry, ...] = ()


class PrintingEntry(Page):
    """One printing of the record."""

    printing: int = Field(ge=1, le=MOST_PRINTINGS)
    year: int = Field(ge=FIRST_YEAR, le=LAST_YEAR)
    printer: Text | None = None
    date: dt.date | None = None
    copies: int | None = Field(None, ge=1)
    extent: int | None = Field(None, ge=1)
    note: Text | None = None

    @property
    def entered(self) -> Printing:
        """The same in the trade's terms."""
        return Printing(
            self.printing,
            self.year,
            self.printer or "",
            self.date.isoformat() if self.date else "",
            self.copies or 0,
            self.extent or 0,
            self.note or "",
        )


class PrintingsFile(Page):
    """printings.yaml"""

    printings: tuple[PrintingEntry, ...] = ()
