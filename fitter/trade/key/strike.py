"""Strike a kept line for the next printing: marks go, none is added."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fitter.errors import BadInput
from fitter.trade.key.key import LETTER_SCHEMES, LETTERS, SCHEMES, SINCE, KeySettings
from fitter.trade.key.line import Mark, Run
from fitter.trade.key.make import make
from fitter.trade.key.read import Meaning, meanings, quoted


@dataclass(frozen=True, slots=True)
class Struck:
    """The line of the next printing; where a strike cannot give it, `line` is empty.

    `gone` are the marks struck, `words_gone` whether words over the line go too, `year_kept` the
    year that it goes on telling because none was said. With an empty `line`, `why` says the reason
    and `new_line` what a newly set line would be (empty: none).
    """

    printing: int
    line: str
    gone: tuple[str, ...] = ()
    words_gone: bool = False
    why: str = ""
    new_line: str = ""
    year_kept: int | None = None


def strike(
    line: str,
    year: int | None = None,
    printer: str = "",
    *,
    words: str | None = None,
    printing: int | None = None,
    settings: KeySettings | None = None,
    since: int = SINCE,
) -> Struck:
    """Strike the lowest number, and the years before `year`, as on plates that were kept.

    A number can be erased from kept plates, but nothing can be added (Wikipedia, "Printer's
    key", older revision). `printing`, the printing that the line tells now, settles an ambiguous
    one; `settings` say how a new line would be set (default: as this one, of 10 numbers). Raises
    BadInput where the line is no key, or its readings differ and nothing settles them.
    """
    now = _choose(_as_set(settings, meanings(line, words, since)), line, printing)
    coming = now.reading.printing + 1
    if year is not None and now.reading.year is not None and year < now.reading.year:
        raise BadInput(
            f"Printing {coming} cannot be made in {year}: the key already says {now.reading.year}."
        )
    why = _why_not(now, year, printer)
    if why:
        new_line = _anew(line, now, year, printer, settings)
        return Struck(coming, "", (), _by_words(now), why, new_line)
    numbers = _below(now.numbers, coming)
    years = _below(now.years, year or 0)
    gone = tuple(mark.text for mark in (*numbers, *years))
    left = _erase(line, now, (*numbers, *years))
    kept = now.reading.year if year is None else None
    return Struck(coming, left, gone, _by_words(now), year_kept=kept)


def _as_set(settings: KeySettings | None, found: list[Meaning]) -> list[Meaning]:
    """The meanings that agree with how the house sets its keys, if there are any."""
    if settings is None:
        return found
    house = (settings.scheme, settings.printer)
    return [m for m in found if (m.reading.scheme, m.reading.printer) == house] or found


def _choose(found: list[Meaning], line: str, printing: int | None) -> Meaning:
    if printing is not None:
        found = [meaning for meaning in found if meaning.reading.printing == printing]
        if not found:
            raise BadInput(f"{quoted(line)} is not the key of printing {printing}.")
    likely = [meaning for meaning in found if _by_words(meaning) == _by_words(found[0])]
    different = {(meaning.reading.printing, meaning.reading.year) for meaning in likely}
    if len(different) > 1:
        ways = " or ".join(dict.fromkeys(_in_words(meaning) for meaning in likely))
        raise BadInput(f"{quoted(line)} can be read as {ways}: say which printing it tells now.")
    return likely[0]


def _by_words(meaning: Meaning) -> bool:
    """Whether words over the line make it a first printing, and not its lowest number."""
    return meaning.reading.printing < meaning.numbers.lowest


def _in_words(meaning: Meaning) -> str:
    year = meaning.reading.year
    return f"printing {meaning.reading.printing}" + (f" of {year}" if year else "")


def _why_not(now: Meaning, year: int | None, printer: str) -> str:
    """Why a strike cannot give the next printing's line, or nothing."""
    coming = now.reading.printing + 1
    if max(now.numbers.values) < coming:
        return f"The line is used up: its last number is {now.reading.printing}."
    if year is not None and now.years.values and max(now.years.values) < year:
        return f"The years are used up: the last is {max(now.years.values)}."
    if printer and printer != now.reading.printer:
        had = f"the code {now.reading.printer}" if now.reading.printer else "no printer's code"
        return f"The line has {had}, and {printer} cannot be added to kept plates."
    return ""


def _below(run: Run, least: int) -> tuple[Mark, ...]:
    pairs = zip(run.marks, run.values, strict=True)
    return tuple(mark for mark, value in pairs if value < least)


def _erase(line: str, now: Meaning, gone: Sequence[Mark]) -> str:
    """Take marks out, each with the separator on its side toward the rest of its own run."""
    runs = (now.numbers.marks, now.years.marks)
    spans = sorted(_with_separator(run, m, gone) for run in runs for m in run if m in gone)
    kept, at = "", 0
    for start, end in spans:
        kept, at = kept + line[at:start], end
    return kept + line[at:]


def _with_separator(marks: Sequence[Mark], mark: Mark, gone: Sequence[Mark]) -> tuple[int, int]:
    i = marks.index(mark)
    if any(m not in gone for m in marks[:i]):
        return marks[i - 1].end, mark.end
    return mark.start, marks[i + 1].start


def _anew(
    line: str, now: Meaning, year: int | None, printer: str, settings: KeySettings | None
) -> str:
    coming = now.reading.printing + 1
    settings = settings or settings_of(line, now)
    if settings.scheme in LETTER_SCHEMES and coming > len(LETTERS):
        return ""
    code = printer or now.reading.printer
    return make(
        replace(settings, printer=""), coming, year or now.reading.year, code, set_at=coming
    )


def settings_of(line: str, now: Meaning) -> KeySettings:
    """The settings that a line shows; how long it was when it was set, it does not show."""
    years = now.years
    before = bool(years.marks) and years.marks[0].start < now.numbers.marks[0].start
    return KeySettings(
        scheme=now.reading.scheme if now.reading.scheme in SCHEMES else "letters",
        years=5 if years.marks else 0,
        years_order=years.schemes[0] if years.marks else "descending",
        digits=len(years.marks[0].text) if years.marks else 2,
        side="before" if before else "after",
        separator=_separator(line, now),
        gap=_gap(line, now),
    )


def _separator(line: str, now: Meaning) -> str:
    for run in (now.numbers, now.years):
        if len(run.marks) > 1:
            return line[run.marks[0].end : run.marks[1].start]
    return " "


def _gap(line: str, now: Meaning) -> str:
    code = (now.code,) if now.code else ()
    groups = [marks for marks in (now.numbers.marks, code, now.years.marks) if marks]
    ends = sorted((marks[0].start, marks[-1].end) for marks in groups)
    return line[ends[0][1] : ends[1][0]] if len(ends) > 1 else "   "
