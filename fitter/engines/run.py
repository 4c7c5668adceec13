"""Run one outside program: argument list, clean environment, time limit, its lines as they come."""

from __future__ import annotations

import codecs
import io
import os
import selectors
import shutil
import signal
import subprocess
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from fitter.errors import NotStarted, ProgramFailed
from fitter.lock import INSIDE, handed_on
from fitter.meanwhile import use_the_wait

TIME_LIMIT = 30 * 60
MOST_LINES = 12
MOST_SAID = 100_000_000  # characters: a large book says a hundredth of it
LONGEST_LINE = 1_000_000
GRACE = 2.0  # seconds of silence after which a program that is done is left
CHUNK = 65_536
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
    """Run a program to its end; its whole process group is stopped at the time limit or Ctrl-C.

    So it is when it says more than `MOST_SAID` characters, and what it leaves running when it ends.
    """
    name, deadline = Path(arguments[0]).name, time.monotonic() + time_limit
    lines: list[str] = []
    with _started(arguments, folder, environment) as process:
        try:
            use_the_wait()
            for line in _bounded(name, _lines(process, deadline)):
                lines.append(line)
                on_line(line)
            status = process.wait(deadline - time.monotonic())
        except subprocess.TimeoutExpired:
            _stop(process)
            raise ProgramFailed(
                f"{name} did not finish within {time_limit / 60:g} minutes and was stopped."
            ) from None
        except BaseException:
            _stop(process)
            raise
    return Finished(status, tuple(lines))


def _bounded(name: str, lines: Iterable[str]) -> Iterator[str]:
    """The lines, as long as they are not more than anyone could want to read."""
    said = 0
    for line in lines:
        said += len(line)
        if said > MOST_SAID:
            raise ProgramFailed(f"{name} went on after {MOST_SAID:,} letters and was stopped.")
        yield line


def _started(
    arguments: Sequence[str], folder: Path, environment: Mapping[str, str]
) -> subprocess.Popen[bytes]:
    """A program at work in a process group of its own, all that it says in one stream."""
    try:
        return subprocess.Popen(
            arguments,
            cwd=folder,
            env=dict(environment),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            start_new_session=True,
            pass_fds=handed_on(),
        )
    except OSError as error:
        raise NotStarted(f"{arguments[0]} cannot be started: {error.strerror}.") from None


def _lines(process: subprocess.Popen[bytes], deadline: float) -> Iterator[str]:
    """What it says, line by line; a very long line comes in pieces."""
    decoder = io.IncrementalNewlineDecoder(codecs.getincrementaldecoder("utf-8")("replace"), True)
    begun = ""
    for chunk in _chunks(process, deadline):
        *whole, begun = (begun + decoder.decode(chunk)).split("\n")
        yield from whole
        if len(begun) > LONGEST_LINE:
            yield begun
            begun = ""
    begun += decoder.decode(b"", final=True)
    if begun:
        yield begun


def _chunks(process: subprocess.Popen[bytes], deadline: float) -> Iterator[bytes]:
    """What it says as it comes.

    What it leaves in the background may hold the pipe open when it is done, and is stopped then.
    Raises TimeoutExpired at the deadline.
    """
    pipe = process.stdout
    if pipe is None:
        return
    with selectors.DefaultSelector() as waiting:
        waiting.register(pipe, selectors.EVENT_READ)
        while time.monotonic() < deadline:
            if waiting.select(min(GRACE, deadline - time.monotonic())):
                chunk = os.read(pipe.fileno(), CHUNK)
                if not chunk:
                    return
                yield chunk
            elif process.poll() is not None:
                _stop(process)
                return
    raise subprocess.TimeoutExpired(process.args, deadline)


def _stop(process: subprocess.Popen[bytes]) -> None:
    try:
        os.killpg(process.pid, signal.SIGKILL)
    except (ProcessLookupError, PermissionError):
        process.kill()
    process.wait()


def beginning(lines: Sequence[str]) -> str:
    """What a program says first: it may have something to say of every line of a book."""
    more = len(lines) - MOST_LINES
    return "\n".join([*lines[:MOST_LINES], *([f"(and {more} lines more)"] if more > 0 else [])])
