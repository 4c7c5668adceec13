"""`fitter check`: the gate, for a book or for any PDF."""

from __future__ import annotations

from pathlib import Path

from fitter.book.loader import load_book
from fitter.commands.output import put
from fitter.commands.sizes import overridden
from fitter.errors import DONE, NOT_PASSED, BadInput
from fitter.reports.voice import Voice
from fitter.steps.judge import judge_book, judge_pdf
from fitter.trade.gatherings import Binding
from fitter.trade.judged import Judged


def check(where: Path, gathering: str | None, short: str | None, form: str, voice: Voice) -> int:
    """Judge and report; 0 when the gate passes, 1 when it does not."""
    judged = _judged(where, gathering, short)
    from fitter.reports.check_json import check_json
    from fitter.reports.check_text import check_text

    put(form, lambda: check_json(judged), lambda: check_text(judged))
    return DONE if judged.passed else NOT_PASSED


def _judged(where: Path, gathering: str | None, short: str | None) -> Judged:
    if where.suffix.lower() == ".pdf" and not where.is_dir():
        wanted = gathering or short
        return judge_pdf(where, overridden(Binding(), gathering, short) if wanted else None)
    book = load_book(where)
    if not book.output.is_file():
        raise BadInput(f"{book.output}: there is no PDF yet. Run 'fitter build' first.")
    return judge_book(book, overridden(book.settings.binding.binding, gathering, short))
