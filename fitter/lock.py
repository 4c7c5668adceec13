"""One run at a time on a book: a second one waits, and says so."""

from __future__ import annotations

import fcntl
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from fitter.errors import BadInput, ProgramFailed

LONGEST_WAIT = 600.0  # seconds
LOOK_AGAIN = 0.1
INSIDE = "FITTER_AT_WORK_IN"
_open: list[int] = []


@contextmanager
def held(
    folder: Path, say: Callable[[str], None], longest_wait: float = LONGEST_WAIT
) -> Iterator[None]:
    """Keep other runs that write away from a book's folder; leaves no file behind.

    The lock lies on the folder itself. It ends with the process, and not before the programs that
    the process started: a killed run's TeX may write for a while yet. Raises ProgramFailed when
    another run takes longer than `longest_wait` seconds, and BadInput for a run inside a run.
    """
    place = str(folder.resolve())
    if os.environ.get(INSIDE) == place:
        raise BadInput(
            f"{folder}: this run was started by a build of the same book. The command under "
            "'build:' should only typeset; 'fitter build' itself fits and checks."
        )
    handle = os.open(folder, os.O_RDONLY)
    try:
        _wait(handle, folder, say, longest_wait)
        _open.append(handle)
        os.environ[INSIDE] = place
        yield
    finally:
        if handle in _open:
            _open.remove(handle)
            del os.environ[INSIDE]
        os.close(handle)


def handed_on() -> tuple[int, ...]:
    """The locks that a program started now holds along with us."""
    return tuple(_open)


def _wait(handle: int, folder: Path, say: Callable[[str], None], longest: float) -> None:
    if _taken(handle):
        return
    say(f"another run of fitter is at work in {folder.resolve()}; waiting until it is done.")
    end = time.monotonic() + longest
    while not _taken(handle):
        if time.monotonic() > end:
            raise ProgramFailed(
                f"{folder.resolve()}: another run of fitter has been at work here for more than "
                f"{longest:g} seconds. Wait until it is done, or stop it, and try again."
            )
        time.sleep(LOOK_AGAIN)


def _taken(handle: int) -> bool:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True
