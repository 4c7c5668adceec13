"""The options that say otherwise than the book's files: sizes, printer, copies, paper, trim."""

from __future__ import annotations

from pathlib import Path

from fitter.book.measures import read_trim
from fitter.commands.sizes import asked_for
from fitter.errors import BadInput
from fitter.steps.bindery import Wishes
from fitter.trade.fold.gatherings import Binding
from fitter.trade.size import Size


def wishes_of(
    binding: Binding,
    *,
    gathering: str | None,
    short: str | None,
    printer: Path | None,
    copies: int | None,
    paper: str | None,
    trim: str | None,
) -> Wishes:
    """The wishes in the trade's terms, on top of a binding. Raises BadInput."""
    options = {"gathering": gathering, "short": short, "paper": paper}
    return Wishes(
        binding=asked_for(binding, gathering, short),
        printer=printer,
        copies=copies,
        paper=paper,
        trim=_trim(trim) if trim else None,
        given=frozenset(name for name, value in options.items() if value is not None),
    )


def _trim(text: str) -> Size:
    try:
        return read_trim(text)
    except ValueError as fault:
        raise BadInput(f"--trim: {fault}.") from None
