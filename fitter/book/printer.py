"""printer.yaml: what one printer can do and charges."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from fitter.book.loader import parse
from fitter.book.models import Page, Range, Sizes, Text
from fitter.book.quantities import (
    read_caliper,
    read_grammage,
    read_money,
    read_ppi,
    read_share,
    read_spine_allowance,
    read_volume,
)
from fitter.book.yaml_lines import Place, read_document
from fitter.errors import BadInput
from fitter.trade.fold.cost import Prices
from fitter.trade.fold.gatherings import MOST_SHORT
from fitter.trade.fold.mix import count_mixes
from fitter.trade.fold.printer import NO_LIMIT, Printer, printer_faults
from fitter.trade.paper import Paper

LAST_BLANK = {False: 0, True: 1, "leaf": 2}


def _quantity(read: Callable[[Any], Fraction], *examples: object) -> tuple[Any, Any]:
    kinds = ["string", "number"] if isinstance(examples[0], (int, float)) else ["string"]
    return BeforeValidator(read), WithJsonSchema({"type": kinds, "examples": list(examples)})


Grammage = Annotated[Fraction, *_quantity(read_grammage, "80 g/m2", "54 lb book")]
Volume = Annotated[Fraction, *_quantity(read_volume, "1.8 cm3/g", "V18")]
Caliper = Annotated[Fraction, *_quantity(read_caliper, "0.144 mm", "5.7 mil")]
SpineAllowance = Annotated[Fraction, *_quantity(read_spine_allowance, "0.3 mm", "4 mm")]
Ppi = Annotated[Fraction, *_quantity(read_ppi, 352)]
Money = Annotated[Fraction, *_quantity(read_money, 1.1)]
Share = Annotated[Fraction, *_quantity(read_share, "3 %")]


class PaperEntry(Page):
    """One paper; its thickness by `volume` with `grammage`, or `caliper`, or `ppi`."""

    id: Text
    grammage: Grammage | None = None
    volume: Volume | None = None
    caliper: Caliper | None = None
    ppi: Ppi | None = None
    price: Money | None = None

    @property
    def paper(self) -> Paper:
        """The same in the trade's terms."""
        return Paper(self.id, self.grammage, self.volume, self.caliper, self.ppi, self.price)


class PricesEntry(Page):
    """What a gathering of each size costs to make ready and, for each copy, to print and fold."""

    currency: Text
    make_ready: dict[int, Money]
    run: dict[int, Money]
    spoilage: Share = Fraction(0)
    paper_waste: Share = Fraction(0)

    @property
    def prices(self) -> Prices:
        """The same in the trade's terms."""
        return Prices(self.currency, self.make_ready, self.run, self.spoilage, self.paper_waste)


class PrinterFile(Page):
    """printer.yaml"""

    gatherings: Sizes = Field(min_length=1)
    short: Sizes = ()
    short_at_most: int = Field(1, ge=0, le=MOST_SHORT)
    short_stands: Literal["last", "before-last", "anywhere"] = "last"
    pages: Range = (1, NO_LIMIT)
    last_page_blank: bool | Literal["leaf"] = False
    stitch_at_most: int | None = Field(None, ge=4)
    spine_allowance: SpineAllowance | None = None
    papers: tuple[PaperEntry, ...] = ()
    prices: PricesEntry | None = None

    @property
    def printer(self) -> Printer:
        """The same in the trade's terms."""
        return Printer(
            gatherings=self.gatherings,
            short=self.short,
            short_at_most=self.short_at_most,
            short_stands=self.short_stands,
            least=self.pages[0],
            greatest=self.pages[1],
            last_blank=LAST_BLANK[self.last_page_blank],
            stitch_at_most=self.stitch_at_most,
            spine_allowance_mm=self.spine_allowance or Fraction(0),
            papers=tuple(entry.paper for entry in self.papers),
            prices=self.prices.prices if self.prices else None,
        )


def load_printer(path: Path, name: str) -> Printer:
    """Read a printer.yaml; raises one BadInput with every mistake, each with its line."""
    document = read_document(path, name)
    entry = parse(document, PrinterFile)
    printer: Printer = entry.printer
    faults = [f"{document.at(place)}: {said}." for place, said in _faults(entry, printer)]
    if faults:
        raise BadInput(*faults)
    return printer


def _faults(entry: PrinterFile, printer: Printer) -> Iterator[tuple[Place, str]]:
    wrong = list(printer_faults(printer))
    yield from wrong
    if not wrong and not count_mixes(printer, printer.least):
        sizes = ", ".join(map(str, printer.sizes))
        yield (
            ("pages",),
            (
                f"no extent from {printer.least} to {printer.greatest} pages can be folded from "
                f"gatherings of {sizes}"
            ),
        )
    for number, paper in enumerate(entry.papers):
        yield from _paper_faults(("papers", number), paper, entry.papers[:number])


def _paper_faults(
    place: Place, paper: PaperEntry, before: tuple[PaperEntry, ...]
) -> Iterator[tuple[Place, str]]:
    if paper.id in [other.id for other in before]:
        yield (*place, "id"), f"the paper '{paper.id}' stands twice; give each its own id"
    said = [key for key in ("volume", "caliper", "ppi") if getattr(paper, key) is not None]
    if len(said) > 1:
        yield (
            (*place, said[1]),
            (f"'{paper.id}' says its thickness by {' and by '.join(said)}; keep one of them"),
        )
    if paper.volume is not None and paper.grammage is None:
        yield (*place, "volume"), f"'{paper.id}' has a 'volume' and needs a 'grammage' with it"
