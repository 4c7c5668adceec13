"""Rules about pages with nothing to read on them."""

from __future__ import annotations

from collections.abc import Iterator

from fitter.trade.gate.evidence import Evidence
from fitter.trade.gate.rule import Remark, rule
from fitter.trade.gate.verdicts import PageVerdict, Place
from fitter.trade.words import count


@rule("blank-unmarked")
def blank_unmarked(evidence: Evidence) -> Iterator[Remark]:
    """A page between the first and the last printed page is blank and carries no mark.

    A reader takes it for a fault of printing (Wikipedia, "Intentionally blank page"). Mark it, fill
    it, or take it out. With `blanks.openers: allow` the verso before a recto opener may stay
    unmarked; with `fail` it may not be left empty at all, marked or not.
    """
    for page in evidence.verdicts:
        if page.place == "body" and _empty(page):
            remark = _about_blank(page, evidence)
            if remark:
                yield Remark(page.page, remark)


@rule("furniture-only")
def furniture_only(evidence: Evidence) -> Iterator[Remark]:
    """A page carries a running head, a foot or a folio and nothing else.

    A blank page that kept its furniture looks like a page whose text got lost. Blank leaves
    generally carry no number (Roberts & Etherington, s.v. leaf).
    """
    for page in evidence.verdicts:
        if page.verdict == "furniture-only" and not _allowed(page, evidence):
            yield Remark(
                page.page,
                "the page carries its running head, foot or folio and nothing else; "
                "mark it, fill it, or clear its furniture",
            )


@rule("blanks-at-front")
def blanks_at_front(evidence: Evidence) -> Iterator[Remark]:
    """More unmarked blank pages stand before the first printed page than `front_at_most`."""
    yield from _too_many(evidence, "front", "before the first printed page")


@rule("blanks-at-end")
def blanks_at_end(evidence: Evidence) -> Iterator[Remark]:
    """More unmarked blank pages stand after the last printed page than `end_at_most`.

    "Where possible, avoid having more than two blank pages at the end": U.S. GPO Style Manual 2008,
    rule 1.15.
    """
    yield from _too_many(evidence, "end", "after the last printed page")


def _empty(page: PageVerdict) -> bool:
    return page.verdict in ("blank", "marked")


def _allowed(page: PageVerdict, evidence: Evidence) -> bool:
    return page.page in evidence.openers and evidence.limits.openers == "allow"


def _about_blank(page: PageVerdict, evidence: Evidence) -> str | None:
    opener = page.page in evidence.openers
    if opener and evidence.limits.openers == "fail":
        return (
            "the verso before a recto opener is empty, and `blanks.openers: fail` forbids that; "
            "fill it, or let the opener start on it"
        )
    if page.verdict == "marked" or _allowed(page, evidence):
        return None
    where = "the verso before a recto opener is blank" if opener else "the page is blank"
    return f"{where} and carries no mark; mark it, fill it, or take it out"


def _too_many(evidence: Evidence, place: Place, where: str) -> Iterator[Remark]:
    blank = [page.page for page in evidence.verdicts if _unmarked_at(page, place)]
    most = {"front": evidence.limits.front_at_most, "end": evidence.limits.end_at_most}[place]
    if len(blank) > most:
        stand = count(len(blank), "unmarked blank page stands", "unmarked blank pages stand")
        yield Remark(blank[0], f"{stand} {where}; `blanks.{place}_at_most` is {most}")


def _unmarked_at(page: PageVerdict, place: Place) -> bool:
    return page.place == place and page.verdict == "blank"
