"""Shorten chapters without an edit, so that they end a page earlier: chosen, then proved."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from fitter.inserts.chosen import Chosen, Passage
from fitter.steps.aim import Aim
from fitter.steps.over import find_tails
from fitter.steps.trials import Bench, Tried, Wish
from fitter.trade.tighten.pick import Offer, pick, shrunk
from fitter.trade.tighten.stretches import stretches
from fitter.trade.tighten.text import Paragraph, Text
from fitter.trade.tighten.tightening import Shortened

MOST_TRIES = 8


@dataclass(frozen=True, slots=True)
class Names:
    """What may be touched, by the names that the generated file calls it.

    Paragraphs by their number may lose a line; the pages of chapters, by their place among
    chapters and parts, may run a line longer.
    """

    paragraphs: Mapping[int, Passage] = field(default_factory=dict)
    chapters: Mapping[int, Passage] = field(default_factory=dict)

    def may_run_longer(self, chapter: int, chosen: Chosen) -> bool:
        """Whether the pages of a chapter may, and do not yet."""
        return chapter in self.chapters and self.chapters[chapter] not in chosen.longer

    def added(self, chosen: Chosen, offers: Sequence[Offer]) -> Chosen:
        """What was chosen earlier and these offers too."""
        shorter = {self.paragraphs[each.number] for offer in offers for each in offer.chosen}
        longer = {self.chapters[offer.chapter] for offer in offers if offer.long_pages}
        return replace(
            chosen,
            shorter=tuple(sorted({*chosen.shorter, *shorter})),
            longer=tuple(sorted({*chosen.longer, *longer})),
        )


def shorten(bench: Bench, chosen: Chosen, names: Names, aim: Aim) -> tuple[Chosen, Shortened]:
    """Try every paragraph a line shorter at once, pick the fewest that are enough, build them.

    Returns what to write into the inserts, and what was found. A chapter that did not end earlier
    gets a paragraph more, or is left out when it has no more.
    """
    before = aim.base.text
    can = _can_lose_a_line(bench, chosen, names, before)
    offers = list(_offers(bench, chosen, names, can, before))
    for _ in range(MOST_TRIES):
        taken = pick(offers, stretches(before), aim.reaches, before.pages)
        if taken is None:
            break
        bench.say(f"proving a choice in {len(taken)} chapters by a draft")
        wish = names.added(chosen, taken)
        proof = bench.try_one(Wish(wish))
        if aim.reached(proof) and proof.text.overfull <= before.overfull:
            return wish, _shortened(taken, len(can), before, proof.text)
        offers = _mended(offers, taken, before, proof)
    return chosen, Shortened((), len(can), None, long_pages_tried=bool(names.chapters))


def _shortened(taken: Sequence[Offer], can: int, before: Text, after: Text) -> Shortened:
    return Shortened(
        paragraphs=tuple(each for offer in taken for each in offer.chosen),
        can=can,
        after=after,
        longer=tuple(before.chapters[offer.chapter] for offer in taken if offer.long_pages),
    )


def _can_lose_a_line(bench: Bench, chosen: Chosen, names: Names, before: Text) -> list[Paragraph]:
    bench.say(f"trying {len(names.paragraphs)} paragraphs a line shorter")
    everything = tuple(sorted({*chosen.shorter, *names.paragraphs.values()}))
    trial = bench.try_one(Wish(replace(chosen, shorter=everything)))
    after = {each.number: each for each in trial.text.paragraphs}
    return [each for each in shrunk(before.paragraphs, after) if each.number in names.paragraphs]


def _offers(
    bench: Bench, chosen: Chosen, names: Names, can: Sequence[Paragraph], before: Text
) -> Iterator[Offer]:
    """What each chapter can do to end a page earlier."""
    inside = [
        tuple(each for each in can if chapter.first <= each.page <= chapter.last)
        for chapter in before.chapters
    ]
    longer = [
        chapter.pages if names.may_run_longer(i, chosen) else 0
        for i, chapter in enumerate(before.chapters)
    ]
    most = [len(each) + pages for each, pages in zip(inside, longer, strict=True)]
    tails = find_tails(bench, Wish(chosen), before, most)
    for i, tail in enumerate(tails):
        if tail.lines:
            yield Offer(i, tail.lines, inside[i])
            if longer[i]:  # its last page wins nothing by it
                left = max(0, tail.lines - longer[i] + 1)
                yield Offer(i, left, inside[i], longer[i])


def _mended(
    offers: Sequence[Offer], taken: Sequence[Offer], before: Text, proof: Tried
) -> list[Offer]:
    """Ask one paragraph more of the chapters that took as many pages as before."""
    stuck = {
        offer.chapter
        for offer in taken
        if proof.text.chapters[offer.chapter].pages >= before.chapters[offer.chapter].pages
    }
    grown = [
        replace(offer, lines=offer.lines + 1) if offer.chapter in stuck else offer
        for offer in offers
    ]
    return grown if stuck else [offer for offer in offers if offer not in taken]
