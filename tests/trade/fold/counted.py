"""Mixes of gatherings listed and counted by plain arithmetic; nothing of the program is in it."""

from __future__ import annotations

from itertools import combinations_with_replacement, product


def every_mix(printer, pages):
    """All mixes by plain counting, those left out from which a gathering can be spared."""
    kinds = [*printer.gatherings, *printer.short]
    need = max(pages, printer.least)
    most = [need // size + 1 for size in printer.gatherings]
    most += [printer.short_at_most] * len(printer.short)
    for counts in product(*(range(many + 1) for many in most)):
        sheets = [size for size, n in zip(kinds, counts, strict=True) for _ in range(n)]
        shorts = sum(counts[len(printer.gatherings) :])
        extent = sum(sheets)
        spared = sheets and extent - min(sheets) >= need
        if need <= extent <= printer.greatest and shorts <= printer.short_at_most and not spared:
            yield tuple(sorted(sheets))


def number_of_mixes(regular, short, short_at_most, pages):
    """How many mixes hold `pages` and can spare no gathering, by generating functions.

    The smallest gathering is taken to be each size in turn: then the extent lies less than that
    size above the pages. No size is both regular and short.
    """
    total = 0
    for least in (*regular, *short):
        for extent in range(pages, pages + least):
            for sign, at_least in ((1, least), (-1, least + 1)):
                allowed = [[s for s in sizes if s >= at_least] for sizes in (regular, short)]
                total += sign * _ways(*map(tuple, allowed), short_at_most, extent)
    return total


def _ways(regular, short, short_at_most, extent):
    """The coefficient of x^extent in the product of 1/(1 - x^size), times the short ones."""
    series = _series(regular, extent)
    shorts = (
        sum(taken)
        for many in range(short_at_most + 1)
        for taken in combinations_with_replacement(short, many)
    )
    return sum(series[extent - pages] for pages in shorts if pages <= extent)


def _series(sizes, most):
    found = [1] + [0] * most
    for size in sizes:
        for power in range(size, most + 1):
            found[power] += found[power - size]
    return found
