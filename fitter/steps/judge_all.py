"""Judges many books and PDFs, on all cores; a bad one does not stop the rest."""

from __future__ import annotations

import contextlib
import ctypes
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context
from pathlib import Path

from fitter.cores import cores
from fitter.errors import INPUT_TO_MEND, Fault
from fitter.pdf.apart import read_alone
from fitter.trade.gate.judged import Judged, Refused

Judge = Callable[[Path], Judged]
_SET_DEATH_SIGNAL = 1  # PR_SET_PDEATHSIG of Linux, prctl(2)


def judge_all(shelf: Sequence[Path], judge: Judge) -> Iterator[Judged | Refused]:
    """Judge every one, in the order of the shelf; `judge` and what it takes must be picklable."""
    at_once = min(cores(), len(shelf))
    if at_once < 2:
        yield from (outcome(judge, path) for path in shelf)
        return
    with ProcessPoolExecutor(at_once, get_context("fork"), _end_at_once) as pool:
        yield from pool.map(partial(outcome, judge), shelf)


def outcome(judge: Judge, path: Path) -> Judged | Refused:
    """Judge one; a fault becomes a value."""
    try:
        return judge(path)
    except Fault as fault:
        return Refused(str(path), fault.sentences, fault.status)
    except OSError as fault:
        file = fault.filename or path
        return Refused(str(path), (f"{file}: {fault.strerror or fault}.",), INPUT_TO_MEND)


def _end_at_once() -> None:
    """An interruption ends the process without a word; the one that started it does the talking.

    And when that one is killed, its workers end with it, where the system can see to that.
    """
    read_alone()
    for told in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        signal.signal(told, signal.SIG_DFL)
    with contextlib.suppress(OSError, AttributeError):
        ctypes.CDLL(None).prctl(_SET_DEATH_SIGNAL, signal.SIGKILL)
