"""Who folds the book: its binding alone, or the printer it names, with prices where they count."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path

from fitter.book.loader import Book
from fitter.book.printer import load_printer
from fitter.book.sentences import suggestion
from fitter.book.yaml_lines import Place
from fitter.errors import BadInput
from fitter.pdf.pages import page_sizes
from fitter.trade.fold.bindery import LEAF, Bindery, at_printer, is_of, not_offered, within
from fitter.trade.fold.cost import Order
from fitter.trade.fold.estimate import Job
from fitter.trade.fold.gatherings import Binding, Folding
from fitter.trade.fold.movable import Matter
from fitter.trade.fold.printer import NO_LIMIT, Printer
from fitter.trade.paper import Paper
from fitter.trade.plan import Plan
from fitter.trade.size import Size

PLACES: dict[str, Place] = {
    "gathering": ("binding", "gathering"),
    "short": ("binding", "short"),
    "paper": ("paper",),
}


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the command line asks for instead of what the book's files say.

    `given` names the options that were there, of `gathering`, `short` and `paper`.
    """

    binding: Binding | None = None
    printer: Path | None = None
    copies: int | None = None
    paper: str | None = None
    trim: Size | None = None
    given: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Offer:
    """Everything known about binding and paper, from the book's files and the command line.

    `places` says where gathering, short and paper stand: `book.yaml:7`, or the option.
    """

    binding: Binding
    printer: Printer | None = None
    copies: int | None = None
    paper: str | None = None
    trim: Size | None = None
    sizes_asked: bool = False
    places: Mapping[str, str] = field(default_factory=dict)

    @property
    def bindery(self) -> Bindery:
        """By price where the printer has prices and the copies are known, else by extent.

        Raises BadInput for what a price needs and lacks.
        """
        if self.printer is None:
            return self.binding
        return self.job if self.by_price else at_printer(self.binding, self.printer)

    @property
    def without_limit(self) -> Offer:
        """The same from a printer who binds a book of any length."""
        if self.printer is None:
            return self
        return replace(self, printer=replace(self.printer, greatest=NO_LIMIT, stitch_at_most=None))

    @property
    def by_price(self) -> bool:
        """Whether the cheapest folding is taken; a printer of gatherings has no price of leaves."""
        if not (self.printer and self.printer.prices and self.copies):
            return False
        return self.binding.style != "cut-sheet" or LEAF in self.printer.gatherings

    @property
    def job(self) -> Job:
        """The order at the printer. Raises BadInput for what is not known."""
        if self.printer is None or self.copies is None:
            raise BadInput("without a printer and a number of copies nothing is costed.")
        folds = self.printer
        if self.sizes_asked:
            own = within(self.binding, folds)
            folds = replace(
                folds, gatherings=own.sizes, short=own.short, short_at_most=own.short_at_most
            )
        return Job(folds, Order(self.copies, self.chosen_paper, self.area_m2), self.binding.style)

    @property
    def chosen_paper(self) -> Paper:
        """The paper named, or the only one the printer has."""
        papers = self.printer.papers if self.printer else ()
        ids = [paper.id for paper in papers]
        if self.paper is None and len(papers) == 1:
            return papers[0]
        if self.paper in ids:
            return papers[ids.index(self.paper)]
        if self.paper is None:
            raise BadInput(
                f"the printer has {len(ids) or 'no'} papers ({', '.join(ids) or 'add one'}): "
                "name one with --paper or as 'paper' in book.yaml."
            )
        hint = suggestion(self.paper, ids) or (
            f"There are: {', '.join(ids)}." if ids else "Add it to 'papers' in the printer's file."
        )
        raise BadInput(f"{self.places['paper']}: the printer has no paper '{self.paper}'. {hint}")

    @property
    def area_m2(self) -> Fraction:
        """The trimmed page in m2."""
        if self.trim is None:
            raise BadInput(
                "the size of the page is not known: give 'trim' in book.yaml, such as "
                "129 x 198 mm, or --trim."
            )
        sides = Fraction(str(self.trim.width_mm)), Fraction(str(self.trim.height_mm))
        return sides[0] * sides[1] / 1_000_000

    @property
    def faults(self) -> list[str]:
        """A sentence for each size that is to be held to and that the printer does not fold."""
        if self.printer is None or (self.by_price and not self.sizes_asked):
            return []
        return [
            f"{self.places[key]}: {said}. Take a size that it folds, or ask another printer."
            for key, said in not_offered(self.binding, self.printer)
        ]

    def not_held(self, folding: Folding) -> list[str]:
        """A sentence where the cheapest folding is not what the binding of book.yaml says."""
        own = self.binding
        if self.sizes_asked or not self.by_price or not (own.sizes or own.short):
            return []
        if is_of(own, folding):
            return []
        sizes = ", ".join([*map(str, own.sizes), *(f"short {size}" for size in own.short)])
        return [
            f"{self.places['gathering' if own.sizes else 'short']}: the sizes of the binding "
            f"({sizes}) are not held to: with prices the cheapest of all that the printer folds is "
            "taken. To hold to them, list no others in the printer's file."
        ]


def offer_of(book: Book, wishes: Wishes = Wishes()) -> Offer:
    """The offer for a book; the page is that of its PDF where nothing says its size."""
    offer = offer_said(book, wishes)
    if offer.printer is None or offer.trim is not None:
        return offer
    return replace(offer, trim=_trim_of_pdf(book))


def offer_said(book: Book, wishes: Wishes = Wishes()) -> Offer:
    """The offer by what files and command line say, before there is any PDF.

    The copies are those of the printing being made. Raises BadInput for what contradicts.
    """
    settings = book.settings
    file = wishes.printer or (book.folder / settings.printer if settings.printer else None)
    offer = Offer(
        binding=wishes.binding or settings.binding.binding,
        printer=load_printer(file, str(wishes.printer or settings.printer)) if file else None,
        copies=wishes.copies or (book.printings[-1].copies if book.printings else None),
        paper=wishes.paper or settings.paper,
        trim=wishes.trim or settings.trim,
        sizes_asked=wishes.binding is not None,
        places={
            key: f"--{key}" if key in wishes.given else book.book_doc.at(place)
            for key, place in PLACES.items()
        },
    )
    return _agreeing(offer, wishes)


def offer_without_book(wishes: Wishes) -> Offer:
    """The offer where there is no book.yaml: all that is known is on the command line."""
    printer = load_printer(wishes.printer, str(wishes.printer)) if wishes.printer else None
    offer = Offer(
        wishes.binding or Binding(),
        printer,
        wishes.copies,
        wishes.paper,
        wishes.trim,
        wishes.binding is not None,
        {key: f"--{key}" for key in PLACES},
    )
    return _agreeing(offer, wishes)


def bindery_of(book: Book) -> Bindery:
    """Who folds the book, by its own files."""
    return offer_of(book).bindery


def matter_of(book: Book, plan: Plan) -> list[Matter]:
    """What could give way: required fillers that can stand elsewhere, and what book.yaml names."""
    placed = {one.id: one.pages for one in plan.choice.placed} if plan.choice else {}
    elsewhere = [
        Matter(entry.id, placed[entry.id], "elsewhere")
        for entry in book.catalogue
        if entry.elsewhere and entry.required and entry.id in placed
    ]
    named = [Matter(entry.id, entry.pages, entry.part) for entry in book.settings.movable]
    return elsewhere + named


def _agreeing(offer: Offer, wishes: Wishes) -> Offer:
    """The offer itself. Raises BadInput where its parts contradict each other.

    Who asks for a cost gets one or is told why not.
    """
    for option, asked in (("--copies", wishes.copies), ("--paper", wishes.paper)):
        if asked is not None and offer.printer is None:
            raise BadInput(
                f"{option}: no printer is known. Name one in book.yaml (printer: printer.yaml) or "
                "with --printer."
            )
    if wishes.copies and offer.printer and offer.printer.prices is None:
        raise BadInput("--copies: the printer's file has no 'prices'. Add them.")
    if wishes.copies and not offer.by_price:
        raise BadInput(
            "--copies: a cut-sheet book is single leaves, and this printer's file has prices of "
            "gatherings only. Name one with 'gatherings: 2' and a price for 2, or take it out."
        )
    if offer.faults:
        raise BadInput(*offer.faults)
    if offer.printer and offer.paper is not None:
        offer.chosen_paper  # noqa: B018
    return offer


def _trim_of_pdf(book: Book) -> Size | None:
    return page_sizes(book.output)[0] if book.output.is_file() else None
