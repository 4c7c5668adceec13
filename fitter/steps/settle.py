"""Find the least disliked settings that reach an extent, by real drafts in scratch copies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from fitter.inserts.chosen import Chosen
from fitter.steps.aim import Aim
from fitter.steps.trials import Bench, Tried, Wish
from fitter.trade.tighten.forecast import Extent, extent_of
from fitter.trade.tighten.search import Search
from fitter.trade.tighten.settings import (
    Combination,
    Setting,
    alone,
    changed,
    cost,
    defaults,
    named,
    valued,
)
from fitter.trade.tighten.tightening import SettingsFound, Winner


def settle(
    bench: Bench, settings: Sequence[Setting], chosen: Chosen, aim: Aim
) -> tuple[Chosen, SettingsFound]:
    """Build drafts until the search is over; the aim's own draft has every default.

    Returns what to write into the inserts (the defaults where nothing reaches), and what was found.
    """
    first = aim.base
    start = defaults(settings)
    tried: dict[Combination, Tried] = {start: first}
    while wanted := _search(settings, tried, aim).next_drafts(bench.at_once):
        for each in wanted:
            bench.say(f"draft {len(tried) + wanted.index(each) + 1}: {_told(settings, each)}")
        wishes = [Wish(replace(chosen, settings=named(settings, each))) for each in wanted]
        for each, one in zip(wanted, bench.try_all(wishes), strict=True):
            tried[each] = one
            _tell(bench, settings, each, one, first)
    search = _search(settings, tried, aim)
    best = search.best or start
    differing = {setting.name: value for setting, value in changed(settings, best)}
    return replace(chosen, settings=differing), _found(search, tried)


def _found(search: Search, tried: Mapping[Combination, Tried]) -> SettingsFound:
    winners = tuple(_winner(search.settings, each, tried[each]) for each in search.winners)
    nearest = search.nearest
    return SettingsFound(
        winners=winners,
        nearest=_winner(search.settings, nearest, tried[nearest]) if nearest else None,
        cheaper=search.cheaper,
        one_way=search.one_way,
        unused=tuple(setting.name for setting in _unused(search.settings, tried)),
        failed=tuple(
            (_told(search.settings, each), one.failed.sentences[0])
            for each, one in tried.items()
            if one.failed
        ),
    )


def _winner(settings: Sequence[Setting], combination: Combination, one: Tried) -> Winner:
    return Winner(
        tuple(changed(settings, combination)),
        cost(settings, combination),
        one.text.pages,
        one.text.overfull,
    )


def _told(settings: Sequence[Setting], combination: Combination) -> str:
    return valued(changed(settings, combination))


def _search(settings: Sequence[Setting], tried: dict[Combination, Tried], aim: Aim) -> Search:
    known: dict[Combination, Extent | None] = {
        each: None if one.failed else extent_of(one.text, aim.reached(one))
        for each, one in tried.items()
    }
    unused = _unused(settings, tried)
    idle = frozenset(i for i, setting in enumerate(settings) if setting in unused)
    return Search(settings, known, aim.reaches, idle)


def _tell(
    bench: Bench,
    settings: Sequence[Setting],
    combination: Combination,
    one: Tried,
    first: Tried,
) -> None:
    what = _told(settings, combination)
    if one.failed:
        bench.say(f"{what}: the build fails, so this is left out: {one.failed.sentences[0]}")
    elif len(list(changed(settings, combination))) == 1 and one.text.shape == first.text.shape:
        ((setting, value),) = changed(settings, combination)
        bench.say(
            f"'{setting.name}' changes nothing: with {value} every line stands where it stood. "
            f"Does the source use {bench.engine.use.format(setting.name)}?"
        )


def _unused(settings: Sequence[Setting], tried: Mapping[Combination, Tried]) -> list[Setting]:
    start = defaults(settings)
    return [
        setting
        for i, setting in enumerate(settings)
        if (
            drafts := [
                one
                for position in range(len(setting.values))
                if position != start[i] and (one := tried.get(alone(start, i, position)))
            ]
        )
        and all(one.text.shape == tried[start].text.shape for one in drafts if not one.failed)
        and not all(one.failed for one in drafts)
    ]
