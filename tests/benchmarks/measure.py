"""Pairs measured in turn, and growth with its exponent."""

from __future__ import annotations

import math
import resource
import statistics
import subprocess
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

Run = Callable[[], object]


@dataclass(frozen=True, slots=True)
class Spent:
    """Seconds of the clock, and of the processor with those of the programs that were started."""

    clock: float
    processor: float


@dataclass(frozen=True, slots=True)
class Pair:
    """Medians of either side, and of the ratios pair by pair."""

    what: str
    ours: Spent
    theirs: Spent
    ratio: Spent


@dataclass(frozen=True, slots=True)
class Growth:
    """Seconds of the processor for each size, in pages or entries."""

    what: str
    of: str
    seconds: Mapping[int, float]

    @property
    def exponent(self) -> float:
        """The slope of the logarithms by least squares: 1 is in proportion to the size."""
        return slope([*map(math.log, self.seconds)], [*map(math.log, self.seconds.values())])


def slope(x: Sequence[float], y: Sequence[float]) -> float:
    """Of the line with the least squares through the points."""
    return statistics.linear_regression(x, y).slope


def spent(run: Run) -> Spent:
    """What one run takes."""
    worked, started = _worked(), time.perf_counter()
    run()
    return Spent(time.perf_counter() - started, _worked() - worked)


def _worked() -> float:
    """Seconds of the processor so far, of this process and of those it has seen end."""
    usages = map(resource.getrusage, (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(usage.ru_utime + usage.ru_stime for usage in usages)


def in_turn(what: str, ours: Run, theirs: Run, rounds: int, before: Run = list) -> Pair:
    """Measure both in turn, so that both meet the same weather; `before` each, unmeasured."""
    measured = []
    for _ in range(rounds):
        sides = []
        for run in (ours, theirs):
            before()
            sides.append(spent(run))
        measured.append((*sides, Spent(*map(_ratio, _both(sides[0]), _both(sides[1])))))
    return Pair(what, *(_median(side) for side in zip(*measured, strict=True)))


def grown(what: str, of: str, runs: Mapping[int, Run], rounds: int) -> Growth:
    """The best of a few runs of each size."""
    seconds = {size: min(spent(run).processor for _ in range(rounds)) for size, run in runs.items()}
    return Growth(what, of, seconds)


def command(
    *words: object, folder: object = ".", environment: Mapping[str, str] | None = None
) -> Run:
    """Run a program silently; that a gate finds something is no matter here."""

    def run() -> None:
        done = subprocess.run(
            [*map(str, words)],
            cwd=str(folder),
            env=environment,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            check=False,
        )
        assert done.returncode in (0, 1), done.stderr.decode(errors="replace")

    return run


def _both(one: Spent) -> tuple[float, float]:
    return one.clock, one.processor


def _ratio(ours: float, theirs: float) -> float:
    return ours / theirs


def _median(many: Sequence[Spent]) -> Spent:
    return Spent(*map(statistics.median, zip(*map(_both, many), strict=True)))
