"""Rules about what the binder and the printer get: gatherings, trim, fillers."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from fitter.trade.gate.evidence import Evidence, FillerSeen, Sewing
from fitter.trade.gate.rule import Remark, rule
from fitter.trade.size import Size
from fitter.trade.words import count

TRIM_TOLERANCE_MM = 0.5  # common practice, no source; more than the rounding to whole points


@rule("gathering-not-full")
def gathering_not_full(evidence: Evidence) -> Iterator[Remark]:
    """The extent does not make whole gatherings of the binding in `book.yaml`."""
    sewing = evidence.sewing
    if sewing and not sewing.fits:
        pages = count(evidence.extent, "page does", "pages do")
        yield Remark(None, f"{pages} not make whole gatherings; {_nearest(sewing)}")


@rule("trim-differs")
def trim_differs(evidence: Evidence) -> Iterator[Remark]:
    """Pages of the PDF have another size than `trim` in `book.yaml`, by more than 0.5 mm."""
    trim = evidence.trim
    if trim is None or evidence.page_sizes is None:
        return
    for size, run in groupby(enumerate(evidence.page_sizes, 1), key=lambda numbered: numbered[1]):
        if _differs(size, trim):
            pages = [page for page, _ in run]
            yield Remark(
                pages[0],
                f"{_name(pages)} {size} after trimming, not {trim}; mend 'trim' in book.yaml, or "
                "the page in the source (with crop marks: its TrimBox)",
            )


@rule("filler-lost")
def filler_lost(evidence: Evidence) -> Iterator[Remark]:
    """A filler of the plan does not stand in the final PDF, or not with all its pages.

    Or the catalogue has changed, and no choice of it fills this book any more.
    """
    whole = evidence.sewing is None or evidence.sewing.fits
    if evidence.no_plan and whole:
        yield Remark(None, f"no plan could be made for this book: {evidence.no_plan.rstrip('.')}")
    for filler in evidence.fillers or ():
        if filler.pages_found < filler.pages_wanted:
            page = filler.first_page if filler.first_page <= evidence.extent else None
            yield Remark(page, _lost(filler))


def _nearest(sewing: Sewing) -> str:
    extents = [str(extent) for extent in (sewing.below, sewing.above) if extent]
    if not extents:
        return "the binding takes no extent near it"
    verb = "extent is" if len(extents) == 1 else "extents are"
    return f"the nearest {verb} {' and '.join(extents)}"


def _differs(size: Size, trim: Size) -> bool:
    return (
        abs(size.width_mm - trim.width_mm) > TRIM_TOLERANCE_MM
        or abs(size.height_mm - trim.height_mm) > TRIM_TOLERANCE_MM
    )


def _name(pages: list[int]) -> str:
    return f"page {pages[0]} is" if len(pages) == 1 else f"pages {pages[0]} to {pages[-1]} are"


def _lost(filler: FillerSeen) -> str:
    wanted = count(filler.pages_wanted, "page")
    return (
        f"filler '{filler.id}' was to take {wanted} from page {filler.first_page} and takes "
        f"{filler.pages_found or 'none'}; build again"
    )
