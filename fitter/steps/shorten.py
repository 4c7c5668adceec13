"""Set a few paragraphs a line shorter, so that chapters end a page earlier: chosen, then proved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from fitter.inserts.chosen import Chosen, Shorter
from fitter.steps.aim import Aim
from fitter.steps.over import find_tails
from fitter.steps.trials import Bench, Tried, Wish
from fitter.trade.tighten.pick import Offer, pick, shrunk
from fitter.trade.tighten.text import Paragraph, Text
from fitter.trade.tighten.tightening import Shortened

MOST_TRIES = 8
NEVER = 1_000_000  # lines: more than any chapter can lose


def shorten(
    bench: Bench, chosen: Chosen, names: Mapping[int, Shorter], aim: Aim
) -> tuple[Chosen, Shortened]:
    """Try every paragraph a line shorter at once, pick the fewest that are enough, build them.

    Returns what to write into the inserts, and what was found. A chapter that did not end earlier
    gets a paragraph more, or is left out when it has no more.
    """
    before = aim.base.text
    can = _can_lose_a_line(bench, chosen, names, before)
    inside = [
        tuple(each for each in can if chapter.first <= each.page <= chapter.last)
        for chapter in before.chapters
    ]
    tails = find_tails(bench, Wish(chosen), before, [len(each) for each in inside])
    offers = [
        Offer(i, tail.lines or NEVER, tail.wins, squeezed)
        for i, (tail, squeezed) in enumerate(zip(tails, inside, strict=True))
    ]
    for _ in range(MOST_TRIES):
        taken = pick(offers, aim.reaches, before.pages)
        if taken is None:
            break
        paragraphs = tuple(each for offer in taken for each in offer.chosen)
        bench.say(f"proving {len(paragraphs)} paragraphs in {len(taken)} chapters by a draft")
        wish = replace(chosen, shorter=_named(chosen, names, paragraphs))
        proof = bench.try_one(Wish(wish))
        if aim.reached(proof) and proof.text.overfull <= before.overfull:
            return wish, Shortened(paragraphs, len(can), proof.text)
        offers = _mended(offers, taken, before, proof)
    return chosen, Shortened((), len(can), None)


def _can_lose_a_line(
    bench: Bench, chosen: Chosen, names: Mapping[int, Shorter], before: Text
) -> list[Paragraph]:
    bench.say(f"trying {len(names)} paragraphs a line shorter")
    everything = tuple(sorted({*chosen.shorter, *names.values()}))
    trial = bench.try_one(Wish(replace(chosen, shorter=everything)))
    after = {each.number: each for each in trial.text.paragraphs}
    return [each for each in shrunk(before.paragraphs, after) if each.number in names]


def _named(
    chosen: Chosen, names: Mapping[int, Shorter], paragraphs: Sequence[Paragraph]
) -> tuple[Shorter, ...]:
    return tuple(sorted({*chosen.shorter, *(names[each.number] for each in paragraphs)}))


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
