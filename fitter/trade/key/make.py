"""Compose the printer's key of a printing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fitter.errors import BadInput
from fitter.trade.key.key import LETTER_SCHEMES, LETTERS, KeySettings, arranged, settings_faults
from fitter.trade.printing.printings import Printing


def make(
    settings: KeySettings,
    printing: int,
    year: int | None = None,
    printer: str = "",
    *,
    set_at: int = 1,
    set_in: int | None = None,
) -> str:
    """The line of a printing: what was set once, less the numbers and years that are gone.

    The line was set for printing `set_at` in year `set_in` (default: `year`); a line used up is
    set anew with the next `length` numbers. An empty `printer` is the one of the settings.
    Raises BadInput for settings or a printing that give no line.
    """
    code = printer or settings.printer
    faults = settings_faults(replace(settings, printer=code))
    if faults:
        raise BadInput(*(f"The key gives no line: {fault}." for fault in faults))
    _check_printing(settings, printing, year)
    numbers = arranged(settings.scheme, _numbers(settings, printing, set_at))
    years = _years(settings, year, year if set_in is None else set_in)
    groups = [settings.separator.join(numbers), code, settings.separator.join(years)]
    if settings.side == "before":
        groups.reverse()
    return settings.gap.join(group for group in groups if group)


def words_over(settings: KeySettings, printing: int) -> str:
    """The words over the line: with the house rule, on the first printing only."""
    return settings.words if printing == 1 else ""


def follow(settings: KeySettings, printings: Sequence[Printing]) -> str:
    """The line of the last printing of a record, struck from printing to printing.

    What cannot be struck is set anew: numbers or years used up, or another printer's code.
    """
    at, since, code = _last_setting(settings, printings)
    last = printings[-1]
    return make(settings, last.printing, last.year, code, set_at=at, set_in=since)


def newly_set(settings: KeySettings, printings: Sequence[Printing]) -> bool:
    """Whether the last printing of a record cannot keep the line of the one before."""
    at, _, _ = _last_setting(settings, printings)
    return len(printings) > 1 and at == printings[-1].printing


def _last_setting(settings: KeySettings, printings: Sequence[Printing]) -> tuple[int, int, str]:
    first = printings[0]
    at, since = first.printing, first.year
    code = first.printer or settings.printer
    for one in printings[1:]:
        spent = one.printing >= at + settings.length
        late = settings.years and one.year >= since + settings.years
        other = (one.printer or settings.printer) != code
        if spent or late or other:
            at, since, code = one.printing, one.year, one.printer or settings.printer
    return at, since, code


def _numbers(settings: KeySettings, printing: int, set_at: int) -> range:
    first = set_at + (printing - set_at) // settings.length * settings.length
    end = first + settings.length
    if settings.scheme in LETTER_SCHEMES:
        end = min(end, len(LETTERS) + 1)
    lowest = 2 if settings.words and printing == 1 else printing
    return range(lowest, end)


def _years(settings: KeySettings, year: int | None, set_in: int | None) -> list[str]:
    if not settings.years or year is None or set_in is None:
        return []
    left = [y for y in range(set_in, set_in + settings.years) if y >= year]
    if not left or year < set_in:
        raise BadInput(
            f"The key was set in {set_in} with {settings.years} years and has none for {year}: "
            "set a new line, or mend the year."
        )
    if settings.years_order == "descending":
        left.reverse()
    return [str(y)[-settings.digits :] for y in left]


def _check_printing(settings: KeySettings, printing: int, year: int | None) -> None:
    if printing < 1:
        raise BadInput(f"There is no printing {printing}: printings count from 1.")
    if settings.scheme in LETTER_SCHEMES and printing > len(LETTERS):
        raise BadInput(f"Letters end at printing 26: printing {printing} needs a numbers scheme.")
    if settings.years and year is None:
        raise BadInput("The key carries years: say in which year the printing is made.")
