"""How many lines each chapter is over: asked of drafts in which so many lines are gone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fitter.steps.trials import Bench, Wish
from fitter.trade.tighten.cuts import Tries, cut_widths, next_cuts
from fitter.trade.tighten.tails import Tail, wins
from fitter.trade.tighten.text import Chapter, Text

MOST_ROUNDS = 6


@dataclass(slots=True)
class _Case:
    """One chapter under inquiry."""

    chapter: Chapter
    index: int
    most: int
    pages: dict[int, int]

    @property
    def tries(self) -> Tries:
        return Tries(self.pages)


def find_tails(
    bench: Bench, wish: Wish, text: Text, most: Sequence[int] | None = None
) -> list[Tail]:
    """What each chapter is over, proved by drafts as far as a few rounds of them allow.

    `most` says for each chapter how many lines are worth trying; without it, all it can lose.

    Every draft tries one number of lines for each chapter at once: chapters begin on new pages, so
    that what is cut in one moves the others by whole pages.
    """
    cases = [_case(text, index, most) for index in range(len(text.chapters))]
    for number in range(1, MOST_ROUNDS + 1):
        wanted = [next_cuts(case.tries, case.chapter.lines, case.most) for case in cases]
        drafts = [
            [cuts[i] if i < len(cuts) else 0 for cuts in wanted]
            for i in range(max(map(len, wanted), default=0))
        ]
        if not drafts:
            break
        bench.say(f"proving lines over, round {number}: {sum(map(bool, wanted))} chapters")
        _round(bench, wish, text, cases, drafts)
    return [_tail(case, text) for case in cases]


def _case(text: Text, index: int, most: Sequence[int] | None) -> _Case:
    chapter = text.chapters[index]
    spare = sum(max(0, each.lines - 1) for each in text.paragraphs_in(chapter))
    worth = spare if most is None else min(spare, most[index])
    return _Case(chapter, index, worth if chapter.pages > 1 else 0, {0: chapter.pages})


def _round(
    bench: Bench, wish: Wish, text: Text, cases: Sequence[_Case], drafts: Sequence[Sequence[int]]
) -> None:
    wishes = []
    for cuts in drafts:
        widths: dict[int, float] = {}
        for case, lines in zip(cases, cuts, strict=True):
            if lines:
                widths |= cut_widths(text.paragraphs_in(case.chapter), lines) or {}
        wishes.append(Wish(wish.chosen, widths, wish.edits))
    for one, tried in zip(wishes, bench.try_all(wishes), strict=True):
        if not tried.failed:
            _learn(cases, text, tried.text, one.cuts)


def _learn(cases: Sequence[_Case], before: Text, after: Text, cut: Mapping[int, float]) -> None:
    now = {each.number: each.lines for each in after.paragraphs}
    if len(after.chapters) != len(before.chapters):
        return
    for case in cases:
        touched = [each for each in before.paragraphs_in(case.chapter) if each.number in cut]
        if not touched:
            continue
        lines = sum(each.lines - now.get(each.number, each.lines) for each in touched)
        case.pages[lines] = after.chapters[case.index].pages


def _tail(case: _Case, text: Text) -> Tail:
    enough, chapter, won = case.tries.enough, case.chapter, wins(text, case.index)
    if enough is not None:
        return Tail(chapter, enough, won, case.tries.settled)
    untried = case.most and not case.tries.too_few
    return Tail(chapter, chapter.lines if untried else None, won)
