"""The marks of a key line, each at its place, and the runs they make."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from fitter.trade.key.key import LETTER_SCHEMES, LETTERS, MIXED_SCHEMES, NUMBER_SCHEMES, Order
from fitter.trade.printing.printings import LAST_YEAR, MOST_PRINTINGS

MARK = re.compile(r"[^\W_]+")
YEARS = range(1800, LAST_YEAR + 1)


@dataclass(frozen=True, slots=True)
class Mark:
    """A numeral, letter or code and where it stands in the line: `line[start:end] == text`."""

    text: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Run:
    """Marks of one kind in a row with what they count, and the schemes whose order they keep."""

    marks: tuple[Mark, ...] = ()
    values: tuple[int, ...] = ()
    schemes: tuple[str, ...] = ()

    @property
    def lowest(self) -> int:
        return min(self.values)


def marks_of(line: str) -> tuple[Mark, ...]:
    """Split a line at everything that is neither letter nor digit."""
    return tuple(Mark(m.group(), m.start(), m.end()) for m in MARK.finditer(line))


def numbers_run(marks: Sequence[Mark]) -> Run | None:
    """The printings that marks count, or None: consecutive, and in the order of some scheme."""
    if len(marks) == 1:
        marks = _letter_by_letter(marks[0])
    for values, schemes in (
        (_numerals(marks), NUMBER_SCHEMES),
        (_letters(marks), LETTER_SCHEMES),
        (_mixed(marks), MIXED_SCHEMES),
    ):
        found = _orders(values, schemes)
        if found:
            return Run(tuple(marks), tuple(values), found)
    return None


def years_run(marks: Sequence[Mark], since: int) -> Run | None:
    """The years that marks tell, or None: all of two digits or all of four, up or down by one.

    Of two digits the earliest is read within the hundred years from `since`; the rest follow it.
    """
    texts = [mark.text for mark in marks]
    width = len(texts[0]) if texts else 0
    if width not in (2, 4) or any(not _is_numeral(t) or len(t) != width for t in texts):
        return None
    for step in (1, -1):
        forward = texts[::step]
        first = int(forward[0])
        if width == 2:
            first = since + (first - since) % 100
        values = range(first, first + len(texts))
        if [str(y)[-width:] for y in values] == forward and values[0] in YEARS:
            order = "ascending" if step == 1 else "descending"
            return Run(tuple(marks), tuple(values)[::step], (order,))
    return None


def _is_numeral(text: str) -> bool:
    return text.isascii() and text.isdigit()


def _numerals(marks: Sequence[Mark]) -> list[int]:
    texts = [mark.text for mark in marks]
    if any(not _is_numeral(t) or t.startswith("0") or len(t) > 3 for t in texts):
        return []
    return [int(t) for t in texts]


def _letters(marks: Sequence[Mark]) -> list[int]:
    """A is 1; capitals or small letters, not both."""
    text = "".join(mark.text for mark in marks)
    if len(text) != len(marks) or not text.isalpha() or text not in (text.upper(), text.lower()):
        return []
    return [LETTERS.find(letter) + 1 for letter in text.upper()]


def _mixed(marks: Sequence[Mark]) -> list[int]:
    """Letters and numerals by turns, as in G6E4C, where G stands for 7, E for 5 and C for 3."""
    text = "".join(mark.text for mark in marks)
    if len(text) != len(marks) or not re.fullmatch(r"(?=.{3})[1-9]?([A-Z][1-9])*[A-Z]?", text):
        return []
    return [int(sign) if sign.isdigit() else LETTERS.index(sign) + 1 for sign in text]


def _letter_by_letter(mark: Mark) -> list[Mark]:
    """Take a mark like ABCDE or G6E4C apart; a numeral stays whole."""
    if _is_numeral(mark.text) or len(mark.text) < 3:
        return [mark]
    return [Mark(sign, mark.start + i, mark.start + i + 1) for i, sign in enumerate(mark.text)]


def _orders(values: Sequence[int], schemes: dict[str, Order]) -> tuple[str, ...]:
    if not values or not 1 <= min(values) <= max(values) <= MOST_PRINTINGS:
        return ()
    whole = range(min(values), min(values) + len(values))
    return tuple(name for name, order in schemes.items() if order(whole) == list(values))
