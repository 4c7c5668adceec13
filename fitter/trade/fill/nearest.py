"""What would make an impossible choice possible: the nearest changes, each one proved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from fitter.trade.fill.choose import Choice, Filler, choose, required
from fitter.trade.words import a_page

TOLD = 4
TRIED = 4
NEW, BLANKS = "a new filler", "end blanks"


@dataclass(frozen=True, slots=True)
class _Question:
    fillers: tuple[Filler, ...]
    left_over: int
    front_at: int | None
    back_at: int
    end_at_most: int
    back_whole: bool

    @property
    def answer(self) -> Choice | None:
        return choose(
            self.fillers,
            self.left_over,
            front_at=self.front_at,
            back_at=self.back_at,
            end_at_most=self.end_at_most,
            back_whole=self.back_whole,
        )

    def with_filler(self, number: int, filler: Filler) -> _Question:
        return replace(self, fillers=(*self.fillers[:number], filler, *self.fillers[number + 1 :]))


def nearest(
    fillers: Sequence[Filler],
    left_over: int,
    *,
    front_at: int | None,
    back_at: int,
    end_at_most: int,
    back_whole: bool = False,
    kept_blank: int = 0,
) -> list[str]:
    """Up to four changes that would make `choose` find a way, the smallest first.

    `a 3-page filler`, `notes 1..5`, `end_at_most 3`, `'bio' starts: any`. Each has been tried.
    `kept_blank` pages are blank at the end beside those that may be filled.
    """
    question = _Question(tuple(fillers), left_over, front_at, back_at, end_at_most, back_whole)
    ways = [
        *_new_filler(question, "back"),
        *_new_filler(question, "front"),
        *_longer_ranges(question),
        *_one_rule_less(question),
        *_more_blanks(question, kept_blank),
    ]
    return [told for _, told in sorted(ways, key=lambda way: way[0])][:TOLD]


def odd_in_front(fillers: Sequence[Filler]) -> str:
    """A sentence where the required front fillers can only take an odd number of pages, or none."""
    front = [filler for filler in required(fillers) if filler.place == "front"]
    pages = sum(min(filler.counts) for filler in front)
    fixed = all(len({count % 2 for count in filler.counts}) == 1 for filler in front)
    if not fixed or pages % 2 == 0:
        return ""
    ids = ", ".join(f"'{filler.id}'" for filler in front)
    return (
        "Front fillers take an even number of pages in all, and those required "
        f"({ids}) take {pages}."
    )


Way = tuple[int, str]


def _new_filler(question: _Question, place: str) -> Iterator[Way]:
    counts = tuple(range(1, question.left_over + 1))
    probe = Filler(NEW, place=place, counts=counts, priority=2)
    pages = _fewest(replace(question, fillers=(*question.fillers, probe)), NEW)
    if pages is None:
        return
    added = replace(probe, counts=(pages,))
    if replace(question, fillers=(*question.fillers, added)).answer:
        yield pages, f"{a_page(pages)} {'front ' if place == 'front' else ''}filler"


def _longer_ranges(question: _Question) -> Iterator[Way]:
    """The least wanted ranges made longer: notes pages, as a rule."""
    ranges = [n for n, filler in enumerate(question.fillers) if len(filler.counts) > 1]
    for number in sorted(ranges, key=lambda n: (-question.fillers[n].priority, -n))[:TRIED]:
        filler = question.fillers[number]
        least, most = filler.counts[0], filler.counts[-1]
        probe = replace(filler, counts=tuple(range(least, question.left_over + 1)), priority=2)
        pages = _fewest(question.with_filler(number, probe), filler.id)
        if pages is None or pages <= most:
            continue
        longer = replace(filler, counts=tuple(range(least, pages + 1)))
        if question.with_filler(number, longer).answer:
            yield pages - most, f"{filler.id} {least}..{pages}"


def _more_blanks(question: _Question, kept_blank: int) -> Iterator[Way]:
    equal = tuple(replace(filler, priority=1) for filler in question.fillers)
    full = replace(question, fillers=equal, end_at_most=question.left_over).answer
    if full and replace(question, end_at_most=full.end_blanks).answer:
        more = full.end_blanks - question.end_at_most
        yield more, f"end_at_most {full.end_blanks + kept_blank}"


def _one_rule_less(question: _Question) -> Iterator[Way]:
    """One rule of one filler given up."""
    held = [n for n, filler in enumerate(question.fillers) if filler.starts != "any"]
    for number in sorted(held, key=lambda n: (not question.fillers[n].required, n))[:TRIED]:
        filler = question.fillers[number]
        if question.with_filler(number, replace(filler, starts="any")).answer:
            yield 1, f"'{filler.id}' starts: any"


def _fewest(question: _Question, id_: str) -> int | None:
    """The fewest pages filler `id_` can take where everything else fills as much as it can."""
    fillers = [replace(f, priority=2 if f.id == id_ else 1) for f in question.fillers]
    if question.end_at_most:
        fillers.append(Filler(BLANKS, counts=tuple(range(1, question.end_at_most + 1))))
    found = replace(question, fillers=tuple(fillers), end_at_most=0).answer
    placed = found.placed if found else ()
    return next((filler.pages for filler in placed if filler.id == id_), None)
