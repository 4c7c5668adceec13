"""Read a printer's key: every meaning the line can have, or why it is no key."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from fitter.errors import BadInput
from fitter.trade.key.key import SINCE, Reading
from fitter.trade.key.line import Mark, Run, marks_of, numbers_run, years_run
from fitter.trade.printing.printings import is_code

MOST_MARKS = 200
FIRST = re.compile(
    r"\b(first|1st|erste|1\. Auflage|première|premier|1re|1ère|primera?|prima|primeira|"
    r"eerste|pierwsze|první|första)\b",
    re.IGNORECASE,
)
LATER = re.compile(
    r"\b(second|2nd|third|3rd|\d+th)\s+(printing|impression)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Meaning:
    """A reading with the runs it rests on."""

    reading: Reading
    numbers: Run
    years: Run
    code: Mark | None


def read(
    line: str, words: str | None = None, since: int = SINCE, published: int | None = None
) -> tuple[Reading, ...]:
    """Every reading of a key line, the likeliest first.

    `words` are the words over the line; None leaves open whether there are any. Two-digit years
    are read within the hundred years from `since`; readings with a year before `published`, the
    copyright year, are left out. Raises BadInput with the reason where the line is no key.
    """
    return tuple(meaning.reading for meaning in meanings(line, words, since, published))


def meanings(
    line: str, words: str | None = None, since: int = SINCE, published: int | None = None
) -> list[Meaning]:
    """As `read`, each reading with its marks in the line."""
    marks = marks_of(line)
    if not marks or len(marks) > MOST_MARKS:
        raise BadInput(
            f"A key has 1 to {MOST_MARKS} numbers or letters; this line has {len(marks)}."
        )
    found = list(dict.fromkeys(_all(line, marks, since)))
    if not found:
        raise BadInput(f"{quoted(line)} is no printer's key: {_reason(marks)}.")
    found.sort(key=lambda meaning: (meaning.reading.printing, _broken(line, marks, meaning)))
    return _with_words(_not_before(published, found), words)


def _all(line: str, marks: Sequence[Mark], since: int) -> Iterator[Meaning]:
    """Meanings without a code first, then with each mark that may be one."""
    plain = _of_marks(line, marks, None, since)
    yield from plain
    for i, mark in enumerate(marks):
        if is_code(mark.text) and not (plain and _in_letter_run(line, marks, i)):
            left, right = marks[:i], marks[i + 1 :]
            if left and right:
                yield from _of_groups([(left, right)], mark, since)
            else:
                yield from _of_marks(line, left or right, mark, since)


def _in_letter_run(line: str, marks: Sequence[Mark], i: int) -> bool:
    """Whether a mark goes on from a letter beside it, with no wide gap between."""
    return any(
        a >= 0 and b < len(marks) and not _wide(line, marks, b) and numbers_run(marks[a : b + 1])
        for a, b in ((i - 1, i), (i, i + 1))
    )


Groups = tuple[Sequence[Mark], Sequence[Mark]]


def _of_marks(line: str, marks: Sequence[Mark], code: Mark | None, since: int) -> list[Meaning]:
    """Meanings of marks as one run, or parted at a wide gap; only else parted anywhere."""
    places = range(1, len(marks))
    wide = [(marks[:i], marks[i:]) for i in places if _wide(line, marks, i)]
    likely: list[Groups] = [*wide, (marks, marks[:0])]
    every = [(marks[:i], marks[i:]) for i in places]
    return list(_of_groups(likely, code, since)) or list(_of_groups(every, code, since))


def _wide(line: str, marks: Sequence[Mark], i: int) -> bool:
    """Whether the gap before mark `i` stands out; the ends of a line always do."""
    if i <= 0 or i >= len(marks):
        return True
    gaps = [line[a.end : b.start] for a, b in pairwise(marks)]
    if any("\n" in gap for gap in gaps):
        return "\n" in gaps[i - 1]
    return len(gaps[i - 1]) > max(1, len(min(gaps, key=len)))


def _broken(line: str, marks: Sequence[Mark], meaning: Meaning) -> int:
    """How many wide gaps lie inside the runs of a meaning: the fewer, the likelier it is."""
    wide = {mark for i, mark in enumerate(marks) if _wide(line, marks, i)}
    return sum(mark in wide for run in (meaning.numbers, meaning.years) for mark in run.marks[1:])


def _of_groups(groups: Sequence[Groups], code: Mark | None, since: int) -> Iterator[Meaning]:
    for left, right in groups:
        for numbers, years in ((left, right), (right, left)):
            yield from _of_runs(numbers_run(numbers), years_run(years, since), years, code)


def _of_runs(
    numbers: Run | None, years: Run | None, wanted: Sequence[Mark], code: Mark | None
) -> Iterator[Meaning]:
    if numbers is None or (wanted and years is None):
        return
    years = years or Run()
    year = years.lowest if years.marks else None
    name = code.text if code else ""
    for scheme in numbers.schemes:
        yield Meaning(Reading(numbers.lowest, year, name, scheme), numbers, years, code)


def quoted(line: str) -> str:
    """A line as it is shown in a message: short, and with no control characters."""
    plain = "".join(sign if sign.isprintable() else " " for sign in line[:80])
    return f"'{plain}'" if len(line) <= 80 else f"'{plain}…'"


def _not_before(published: int | None, found: list[Meaning]) -> list[Meaning]:
    if published is None:
        return found
    kept = [m for m in found if m.reading.year is None or m.reading.year >= published]
    if not kept:
        raise BadInput(
            f"The key says {found[0].reading.year}, before the copyright year {published}: "
            "mend one of the two."
        )
    return kept


def _with_words(found: list[Meaning], words: str | None) -> list[Meaning]:
    """A line from 2 is a first printing where words over it say so (house rule)."""
    as_first = [_as_first(meaning) for meaning in found if meaning.reading.printing == 2]
    if words is not None and says_first(words):
        rest = [meaning for meaning in found if meaning.reading.printing != 2]
        return as_first + rest
    if words is not None and (not words.strip() or LATER.search(words)):
        return found
    return found + as_first


def says_first(words: str) -> bool:
    """Whether words over a key speak of a first edition or printing."""
    return bool(FIRST.search(words)) and not LATER.search(words)


def _as_first(meaning: Meaning) -> Meaning:
    old = meaning.reading
    reading = Reading(1, old.year, old.printer, old.scheme)
    return Meaning(reading, meaning.numbers, meaning.years, meaning.code)


def _reason(marks: Sequence[Mark]) -> str:
    texts = [quoted(mark.text)[1:-1] for mark in marks]
    strange = [t for t in texts if not t.isdigit() and not is_code(t) and len(t) > 1]
    codes = [t for t in texts if is_code(t) and len(t) > 1]
    twice = [t for t in texts if texts.count(t) > 1]
    if strange:
        hint = "; words over a key are told apart from it" if FIRST.search(" ".join(texts)) else ""
        return f"'{strange[0]}' is neither a number nor a printer's code{hint}"
    if len(codes) > 1:
        return f"'{codes[0]}' and '{codes[1]}' are two printers' codes, and a key has one"
    if twice:
        return f"'{twice[0]}' stands in it twice"
    if not any(t.isdigit() or len(t) == 1 for t in texts):
        return "it has a code but no numbers"
    return "its numbers make no unbroken run of printings, with or without years"
