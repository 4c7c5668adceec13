"""`fitter check` over many books: a JSON line for each as it is judged, and taken up again."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import nullcontext
from functools import partial
from pathlib import Path
from typing import Any, TextIO

from fitter.book.loader import load_book
from fitter.book.shelf import is_pdf, on_shelf
from fitter.commands.check import judged_at, status_of
from fitter.commands.sizes import overridden
from fitter.errors import DONE, INPUT_TO_MEND, NOT_PASSED, Fault
from fitter.reports import voice
from fitter.reports.check_lines import known_lines, line_of, line_of_refused
from fitter.steps.judge_all import Refused, judge_all
from fitter.trade.fold.gatherings import Binding


def check_on(
    named: Sequence[Path], gathering: str | None, short: str | None, report: Path | None
) -> int:
    """Judge as `check` does; JSON lines go to standard output, or to a report taken up again.

    What stands in the report and has not changed since is not judged again; its verdict counts.
    """
    overridden(Binding(), gathering, short)
    known = known_lines(report) if report else {}
    states = {path: _state(path) for path in on_shelf(named)}
    left = [path for path in states if not _stands(known, path, states[path])]
    done = [known[str(path)] for path in states if path not in left]
    if done:
        voice.Voice().step(f"{len(done)} of {len(states)} are judged already.")
    with report.open("a", encoding="utf-8") if report else nullcontext(sys.stdout) as out:
        statuses = [*map(_status_of_line, done), *_lines_for(left, states, gathering, short, out)]
    return max(statuses, default=DONE)


def _lines_for(
    left: Sequence[Path],
    states: Mapping[Path, str],
    gathering: str | None,
    short: str | None,
    out: TextIO,
) -> Iterator[int]:
    for path, found in zip(
        left, judge_all(left, partial(judged_at, gathering, short)), strict=True
    ):
        state = states[path]
        if isinstance(found, Refused):
            voice.fault(found.sentences)
            line = line_of_refused(path, state, found.sentences, found.status)
        else:
            voice.fault(tuple(found.unread.values()))
            line = line_of(path, state, found)
        print(line, file=out, flush=True)
        yield found.status if isinstance(found, Refused) else status_of([found], [])


def _status_of_line(line: Mapping[str, Any]) -> int:
    if line.get("unread"):
        return INPUT_TO_MEND
    return DONE if line.get("passed") else int(line.get("status", NOT_PASSED))


def _stands(known: Mapping[str, Mapping[str, Any]], path: Path, state: str) -> bool:
    return bool(state) and known.get(str(path), {}).get("state") == state


def _state(path: Path) -> str:
    """Size and time of the files a verdict comes from; '' where that cannot be told."""
    try:
        files = [path]
        if not is_pdf(path):
            book = load_book(path)
            files = [book.file, book.output, *filter(Path.exists, (book.printings_file,))]
        return ",".join(f"{at.st_size}:{at.st_mtime_ns}" for at in (file.stat() for file in files))
    except (Fault, OSError):
        return ""
