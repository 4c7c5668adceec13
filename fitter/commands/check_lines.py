"""`fitter check` over many books: a JSON line for each as it is judged, and taken up again."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any, TextIO

from fitter.book.shelf import on_shelf
from fitter.commands.check import judged_at, status_of, tell
from fitter.commands.sizes import asked_for
from fitter.errors import DONE, INPUT_TO_MEND, NOT_PASSED, Fault
from fitter.lock import held
from fitter.reports.check_lines import known_lines, line_of, line_of_refused
from fitter.reports.voice import Voice
from fitter.steps.behind import files_behind
from fitter.steps.judge_all import judge_all
from fitter.trade.fold.gatherings import Binding
from fitter.trade.gate.judged import Judged, Refused


def check_on(
    named: Sequence[Path],
    gathering: str | None,
    short: str | None,
    report: Path | None,
    voice: Voice,
) -> int:
    """Judge as `check` does; JSON lines go to standard output, or to a report taken up again.

    What stands in the report and has not changed since is not judged again; its verdict counts.
    """
    sizes = f",{gathering},{short}" if asked_for(Binding(), gathering, short) else ""
    states = {path: _state(path, sizes) for path in on_shelf(named)}
    with _opened(report, voice) as out:
        known = known_lines(report) if report else {}
        done = [path for path in states if _stands(known, path, states[path])]
        if done:
            voice.step(f"{len(done)} of {len(states)} are judged already.")
        left = [path for path in states if path not in done]
        statuses = [_status_of_line(known[str(path)]) for path in done]
        judged = judge_all(left, partial(judged_at, gathering, short))
        statuses += _lines_for(zip(left, judged, strict=True), states, out, voice)
    return max(statuses, default=DONE)


@contextmanager
def _opened(report: Path | None, voice: Voice) -> Iterator[TextIO]:
    """Standard output, or the end of the report, which no other run adds to meanwhile."""
    if report is None:
        yield sys.stdout
        return
    with report.open("a", encoding="utf-8") as out, held(report, voice.warn):
        yield out


def _lines_for(
    judged: Iterable[tuple[Path, Judged | Refused]],
    states: Mapping[Path, str],
    out: TextIO,
    voice: Voice,
) -> Iterator[int]:
    """Write a line for each and tell what went wrong; gives the exit status each leads to."""
    for path, found in judged:
        tell(found, voice, several=len(states) > 1)
        if isinstance(found, Refused):
            line = line_of_refused(path, states[path], found.sentences, found.status)
        else:
            line = line_of(path, states[path], found)
        print(line, file=out, flush=True)
        yield status_of([found])


def _status_of_line(line: Mapping[str, Any]) -> int:
    if line.get("unread"):
        return INPUT_TO_MEND
    return DONE if line.get("passed") else int(line.get("status", NOT_PASSED))


def _stands(known: Mapping[str, Mapping[str, Any]], path: Path, state: str) -> bool:
    return bool(state) and known.get(str(path), {}).get("state") == state


def _state(path: Path, sizes: str) -> str:
    """Size and time of the files a verdict comes from, and `sizes`; '' where that is not known."""
    try:
        pdf, *others = map(_seen, files_behind(path))
    except (Fault, OSError):
        return ""
    return ",".join([pdf, *others]) + sizes if pdf else ""


def _seen(file: Path) -> str:
    if not file.is_file():
        return ""
    at = file.stat()
    return f"{at.st_size}:{at.st_mtime_ns}"
