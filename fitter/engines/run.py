"""Run one outside program: argument list, clean environment, time limit, its lines as they come."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from fitter.errors import NotStarted, ProgramFailed
from fitter.lock import INSIDE, handed_on
from fitter.meanwhile import use_the_wait

TIME_LIMIT = 30 * 60
MOST_LINES = 12
_KEPT = (
    "PATH",
    "HOME",
    "USER",
    "LANG",
    "LC_",
    "TMP",
    "TEMP",
    "TEX",
    "BIB",
    "BST",
    "XDG_",
    "OSFONT",
)
_KEPT_WHOLE = (
    "SOURCE_DATE_EPOCH",
    "FORCE_SOURCE_DATE",
    "SYSTEMROOT",
    "VIRTUAL_ENV",
    "PYTHONPATH",
    INSIDE,
)
_DEBIAN = {
    "pdflatex": "texlive-latex-base",
    "lualatex": "texlive-luatex",
    "xelatex": "texlive-xetex",
    "pandoc": "pandoc",
}


@dataclass(frozen=True, slots=True)
class Finished:
    """How a program ended, and all that it said."""

    status: int
    lines: tuple[str, ...]


def find_program(name: str) -> str:
    """The path of a program, or ProgramFailed that says what to install."""
    found = shutil.which(name)
    if not found:
        package = _DEBIAN.get(name)
        hint = f" (Debian: apt-get install {package})" if package else ""
        raise ProgramFailed(f"{name} is not installed or not on the PATH. Install it{hint}.")
    return found


def clean_environment(extra: Mapping[str, str] | None = None) -> dict[str, str]:
    """What a build program needs of the environment, and what FITTER_KEEP names beside it."""
    asked = os.environ.get("FITTER_KEEP", "").replace(",", " ").split()
    kept = {
        key: value
        for key, value in os.environ.items()
        if key in _KEPT_WHOLE or key in asked or key.startswith(_KEPT)
    }
    return {**kept, **(extra or {})}


def run(
    arguments: Sequence[str],
    folder: Path,
    environment: Mapping[str, str],
    on_line: Callable[[str], None] = lambda line: None,
    time_limit: float = TIME_LIMIT,
) -> Finished:
    """Run a program to its end; its whole process group is stopped at the time limit or Ctrl-C."""
    lines = []
    process = _started(arguments, folder, environment)
    with process, _stopped_after(time_limit, process) as late:
        use_the_wait()
        for line in process.stdout or ():
            lines.append(line.rstrip("\n"))
            on_line(lines[-1])
        status = process.wait()
    if late.is_set():
        raise ProgramFailed(
            f"{Path(arguments[0]).name} did not finish within {time_limit / 60:g} minutes "
            "and was stopped."
        )
    return Finished(status, tuple(lines))


def _started(
    arguments: Sequence[str], folder: Path, environment: Mapping[str, str]
) -> subprocess.Popen[str]:
    """A program at work in a process group of its own, all that it says in one stream of lines."""
    try:
        return subprocess.Popen(
            arguments,
            cwd=folder,
            env=dict(environment),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            encoding="utf-8",
            errors="replace",
            start_new_session=True,
            pass_fds=handed_on(),
        )
    except OSError as error:
        raise NotStarted(f"{arguments[0]} cannot be started: {error.strerror}.") from None


@contextmanager
def _stopped_after(seconds: float, process: subprocess.Popen[str]) -> Iterator[threading.Event]:
    """Within, a program runs so long, and no longer than we; the event tells that it was late."""
    late = threading.Event()

    def too_late() -> None:
        late.set()
        _stop(process)

    timer = threading.Timer(seconds, too_late)
    timer.start()
    try:
        yield late
    except BaseException:
        _stop(process)
        raise
    finally:
        timer.cancel()
        timer.join()  # a process forked later shall find no other thread


def _stop(process: subprocess.Popen[str]) -> None:
    try:
        os.killpg(process.pid, signal.SIGKILL)
    except (ProcessLookupError, PermissionError):
        process.kill()
    process.wait()


def beginning(lines: Sequence[str]) -> str:
    """What a program says first: it may have something to say of every line of a book."""
    more = len(lines) - MOST_LINES
    return "\n".join([*lines[:MOST_LINES], *([f"(and {more} lines more)"] if more > 0 else [])])
