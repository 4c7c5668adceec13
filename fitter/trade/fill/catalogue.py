"""What in a catalogue contradicts itself: ids, needs and excludes, pages."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass

from fitter.trade.fill.choose import Filler, required


@dataclass(frozen=True, slots=True)
class CatalogueFault:
    """What is wrong with an entry, counted from 0, at one of its keys, and what mends it.

    `unknown` is the id that no filler has, where that is the fault.
    """

    entry: int
    key: str
    said: str
    remedy: str
    unknown: str = ""


def catalogue_faults(fillers: Sequence[Filler], others: Iterable[str] = ()) -> list[CatalogueFault]:
    """Each contradiction in the catalogue; none if all is well.

    `others` are ids of entries that cannot be judged. Then it is left open what must be in
    together.
    """
    others = set(others)
    ids = {filler.id for filler in fillers} | others
    faults = list(_twice(fillers))
    for number, filler in enumerate(fillers):
        faults += _faults(number, filler, ids)
    return faults or ([] if others else list(_contradictions(fillers)))


def _twice(fillers: Sequence[Filler]) -> Iterator[CatalogueFault]:
    seen: set[str] = set()
    for number, filler in enumerate(fillers):
        if filler.id in seen:
            said = f"the id '{filler.id}' is used twice"
            yield CatalogueFault(number, "id", said, "Give each its own.")
        seen.add(filler.id)


def _faults(number: int, filler: Filler, ids: Container[str]) -> Iterator[CatalogueFault]:
    for key, others in (("needs", filler.needs), ("excludes", filler.excludes)):
        for other in others:
            said = f"'{filler.id}' {key} '{other}', and there is no such filler"
            if other not in ids:
                yield CatalogueFault(number, key, said, "Mend the id.", other)
            elif other == filler.id:
                yield CatalogueFault(number, key, f"'{filler.id}' {key} itself", "Take that out.")
    for other in filler.needs:
        if other in filler.excludes and other != filler.id:
            said = f"'{filler.id}' both needs and excludes '{other}'"
            yield CatalogueFault(number, "excludes", said, "Keep one of the two.")
    if not filler.counts or min(filler.counts) < 1:
        remedy = "Give a number or a range from 1 up."
        yield CatalogueFault(number, "pages", f"'{filler.id}' takes no pages", remedy)


def _contradictions(fillers: Sequence[Filler]) -> Iterator[CatalogueFault]:
    together = {filler.id for filler in required(fillers)}
    for number, filler in enumerate(fillers):
        for other in filler.excludes:
            if filler.id in together and other in together:
                yield CatalogueFault(
                    number,
                    "excludes",
                    f"'{filler.id}' and '{other}' must both be in (required, or needed by one "
                    f"that is), yet '{filler.id}' excludes '{other}'",
                    "Take that out, or 'required' of one of them.",
                )
