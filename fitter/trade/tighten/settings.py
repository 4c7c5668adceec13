"""Settings a designer allows to vary, and how much each step away from the default is disliked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

Combination = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Setting:
    """A named setting; `values` stand in their natural order, `default` is a position in them.

    `words` tells that the values are no numbers.
    """

    name: str
    values: tuple[str, ...]
    default: int = 0
    dislike: float = 1.0
    unit: str = ""
    words: bool = False

    def cost(self, position: int) -> float:
        """The dislike of one value: so much for each step away from the default."""
        return self.dislike * abs(position - self.default)


def defaults(settings: Sequence[Setting]) -> Combination:
    """The combination the book has when nothing is chosen."""
    return tuple(setting.default for setting in settings)


def alone(start: Combination, index: int, position: int) -> Combination:
    """A combination with one setting at another position."""
    return (*start[:index], position, *start[index + 1 :])


def cost(settings: Sequence[Setting], combination: Combination) -> float:
    """How much a combination is disliked: the sum over its settings."""
    return sum(
        setting.cost(position) for setting, position in zip(settings, combination, strict=True)
    )


def order(
    settings: Sequence[Setting], combination: Combination
) -> tuple[float, int, tuple[int, ...]]:
    """The key that sorts combinations, best first: dislike, settings touched, smaller steps first.

    No two combinations share it, but for steps of one size on the two sides of a default, where
    the earlier value comes first.
    """
    steps = tuple(
        abs(position - setting.default)
        for setting, position in zip(settings, combination, strict=True)
    )
    touched = sum(1 for step in steps if step)
    return cost(settings, combination), touched, (*steps, *combination)


def combinations(settings: Sequence[Setting]) -> list[Combination]:
    """Every combination, the least disliked first."""
    every = product(*(range(len(setting.values)) for setting in settings))
    return sorted(every, key=lambda combination: order(settings, combination))


def named(settings: Sequence[Setting], combination: Combination) -> dict[str, str]:
    """The values of a combination by name, as the source gets them."""
    return {
        setting.name: setting.values[position]
        for setting, position in zip(settings, combination, strict=True)
    }


def changed(settings: Sequence[Setting], combination: Combination) -> Iterator[tuple[Setting, str]]:
    """The settings that are not at their default, each with its value."""
    for setting, position in zip(settings, combination, strict=True):
        if position != setting.default:
            yield setting, setting.values[position]


def valued(values: Iterable[tuple[Setting, str]]) -> str:
    """`leading 0.99, text-height 1 lines`, or `all at their defaults`."""
    told = [f"{setting.name} {value} {setting.unit}".rstrip() for setting, value in values]
    return ", ".join(told) or "all at their defaults"
