"""`fitter check`: the gate, for books and for any PDF."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial
from pathlib import Path

from fitter.book.loader import load_book
from fitter.book.shelf import is_pdf, on_shelf
from fitter.commands.sizes import asked_for
from fitter.errors import DONE, INPUT_TO_MEND, NOT_PASSED
from fitter.reports.harmless import as_json, harmless, harmless_json
from fitter.reports.voice import Voice, fault
from fitter.steps.judge import judge_book, judge_pdf
from fitter.steps.judge_all import judge_all
from fitter.trade.fold.gatherings import Binding
from fitter.trade.gate.judged import Judged, Refused, sentences_named


def check(
    named: Sequence[Path], gathering: str | None, short: str | None, form: str, voice: Voice
) -> int:
    """Judge and report: 0 when the gate passes, 1 when it does not, 2 when one cannot be read."""
    asked_for(Binding(), gathering, short)  # a mistake in the options is told once
    shelf = on_shelf(named)
    judged: list[Judged | Refused] = []
    for found in judge_all(shelf, partial(judged_at, gathering, short)):
        judged.append(found)
        tell(found, voice, several=len(shelf) > 1)
        _report(found, form)
    _report_all(judged, form, alone=list(named) == shelf and len(shelf) == 1)
    return status_of(judged)


def judged_at(gathering: str | None, short: str | None, where: Path) -> Judged:
    """Judge a book or a PDF. Raises BadInput where there is none to judge."""
    if is_pdf(where):
        return judge_pdf(where, asked_for(Binding(), gathering, short))
    book = load_book(where)
    return judge_book(book, asked_for(book.settings.binding.binding, gathering, short))


def tell(found: Judged | Refused, voice: Voice, *, several: bool) -> None:
    """Say what could not be judged, and of which book, where there are several."""
    fault(tuple(sentences_named(found)) if several else found.sentences)
    for note in found.notes:
        voice.warn(note)


def _report(found: Judged | Refused, form: str) -> None:
    """What can be told of one before the others are judged."""
    if form == "text" and isinstance(found, Judged):
        from fitter.reports.check_text import check_text

        print(harmless(check_text(found)), flush=True)
    elif form == "github" and (found.findings or found.sentences):
        from fitter.reports.check_github import check_github

        print(harmless(check_github([found])), flush=True)


def _report_all(judged: Sequence[Judged | Refused], form: str, *, alone: bool) -> None:
    """What is one document about all of them."""
    if form == "json":
        from fitter.reports.check_json import check_json

        reports = [check_json(one) for one in judged]
        if not alone:
            print(as_json(reports))
        elif isinstance(judged[0], Judged):
            print(as_json(reports[0]))
    elif form == "junit":
        from fitter.reports.check_junit import check_junit

        print(harmless(check_junit(judged)))
    elif form == "sarif":
        from fitter.reports.check_sarif import check_sarif

        print(harmless_json(check_sarif(judged)))


def status_of(judged: Iterable[Judged | Refused]) -> int:
    """The exit status that all of them lead to."""
    return max(map(_status, judged), default=DONE)


def _status(found: Judged | Refused) -> int:
    if isinstance(found, Refused):
        return found.status
    if found.unread:
        return INPUT_TO_MEND
    return DONE if found.passed else NOT_PASSED
