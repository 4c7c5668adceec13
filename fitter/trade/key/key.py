"""The printer's key: what a line is made of, and the orders its numbers may stand in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fitter.trade.printing.printings import is_code

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
SINCE = 1950  # two-digit years are read as 1950 to 2049 unless another window is stated


@dataclass(frozen=True, slots=True)
class KeySettings:
    """How a house sets its key: `imprint.key` of `book.yaml`.

    `length` counts the printings one line can tell; `years` the years set with it (0 for none),
    in `digits` 2 or 4. With `words` the first printing carries those words over a line from 2.
    """

    scheme: str = "ascending"
    length: int = 10
    years: int = 0
    years_order: str = "descending"
    digits: int = 2
    side: str = "after"
    printer: str = ""
    separator: str = " "
    gap: str = "   "
    words: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """One meaning of a key line; `year` is None and `printer` empty where the line has none."""

    printing: int
    year: int | None
    printer: str
    scheme: str


def ascending(numbers: Sequence[int]) -> list[int]:
    """1 2 3 4 5: the lowest at the left."""
    return sorted(numbers)


def descending(numbers: Sequence[int]) -> list[int]:
    """5 4 3 2 1: the lowest at the right."""
    return sorted(numbers, reverse=True)


def centred(numbers: Sequence[int]) -> list[int]:
    """1 3 5 4 2: odd numbers up, even numbers down, so that strikes keep the line centred."""
    odd = [n for n in numbers if n % 2]
    even = [n for n in numbers if not n % 2]
    return ascending(odd) + descending(even)


def centred_mirrored(numbers: Sequence[int]) -> list[int]:
    """2 4 5 3 1: the centred line seen in a mirror."""
    return centred(numbers)[::-1]


Order = Callable[[Sequence[int]], list[int]]

NUMBER_SCHEMES: dict[str, Order] = {
    "ascending": ascending,
    "descending": descending,
    "centred": centred,
    "centred-mirrored": centred_mirrored,
}
LETTER_SCHEMES: dict[str, Order] = {"letters": ascending, "letters-descending": descending}
MIXED_SCHEMES: dict[str, Order] = {"mixed": ascending, "mixed-descending": descending}
SCHEMES = (*NUMBER_SCHEMES, *LETTER_SCHEMES)


def settings_faults(settings: KeySettings) -> list[str]:
    """What keeps settings from giving a line, as clauses without a full stop."""
    faults = []
    if settings.scheme not in SCHEMES:
        faults.append(f"there is no scheme '{settings.scheme}'; choose of {', '.join(SCHEMES)}")
    if settings.length < (2 if settings.words else 1):
        faults.append(f"a length of {settings.length} tells no printing; make it longer")
    if settings.length > len(LETTERS) and settings.scheme in LETTER_SCHEMES:
        faults.append(f"letters tell {len(LETTERS)} printings; give a length up to that")
    if not settings.separator and settings.scheme not in LETTER_SCHEMES:
        faults.append("numbers without a separator run together; give one, such as a space")
    if not settings.gap and (settings.years or settings.printer):
        faults.append("years and code run into the numbers without a gap; give one")
    if any(sign.isalnum() or sign == "_" for sign in settings.separator + settings.gap):
        faults.append("separator and gap hold no letters or digits; use spaces or hyphens")
    if settings.printer and not is_code(settings.printer):
        faults.append(
            f"'{settings.printer}' is no printer's code; use a capital letter and up to five more "
            "capitals or digits"
        )
    if len(settings.printer) == 1 and settings.scheme in LETTER_SCHEMES:
        faults.append(
            f"the code '{settings.printer}' cannot be told from the letters of the key; "
            "use a longer one"
        )
    return faults


def arranged(scheme: str, numbers: Sequence[int]) -> list[str]:
    """The marks of a run in the order of a scheme: numerals, or A for 1 to Z for 26."""
    if scheme in LETTER_SCHEMES:
        return [LETTERS[n - 1] for n in LETTER_SCHEMES[scheme](numbers)]
    return [str(n) for n in NUMBER_SCHEMES[scheme](numbers)]
