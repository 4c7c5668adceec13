"""pandoc: found on the system or in the Python package, run, and its own words passed on."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator, Sequence
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from fitter.engines.run import Finished, beginning, clean_environment, run
from fitter.engines.shipped import Say
from fitter.errors import BadInput, ProgramFailed

Version = tuple[int, ...]

# Before, the Typst writer guesses quotation marks (until 3.5) or loses citations (3.6.1).
OLDEST: dict[str, Version] = {"latex": (2, 17), "typst": (3, 8, 2)}
_SPELT = {"latex": "LaTeX", "typst": "Typst"}
_MISSING_IMAGE = re.compile(r"Could not fetch resource '?(?P<name>.+?)'?:? ")
_NOTE_TWICE = re.compile(r"Duplicate note reference")


def find_pandoc(to: str) -> str:
    """The system's pandoc if it can write LaTeX or Typst, else the packaged one.

    Raises ProgramFailed that says what was found and what to install.
    """
    found = [(path, version) for path in _candidates() if (version := version_of(path))]
    for path, version in found:
        if version >= OLDEST[to]:
            return path
    oldest = _dotted(OLDEST[to])
    here = ", ".join(f"{path} is {_dotted(version)}" for path, version in found)
    what = f"{here}, too old to write {_SPELT[to]}" if here else "pandoc is not installed"
    raise ProgramFailed(
        f"{what}: {oldest} or newer is needed. Install it with pip install "
        "'book-fitter[embedded]', or from your system's packages."
    )


def _candidates() -> Iterator[str]:
    if on_path := shutil.which("pandoc"):
        yield on_path
    package = find_spec("pypandoc")
    for folder in (package.submodule_search_locations or ()) if package else ():
        packaged = Path(folder) / "files" / "pandoc"
        if packaged.is_file():
            yield str(packaged)


@cache
def version_of(path: str) -> Version:
    """The version a pandoc tells of itself; () when it tells none."""
    try:
        told = subprocess.run([path, "--version"], capture_output=True, text=True, check=False)
    except OSError:
        return ()
    match = re.match(r"pandoc(?:\.exe)? ([\d.]+)", told.stdout)
    return tuple(int(part) for part in match[1].split(".") if part) if match else ()


def run_pandoc(path: str, arguments: Sequence[str], folder: Path, say: Say) -> None:
    """Run pandoc; its warnings are said, its failure and what would spoil a book is raised."""
    finished = run([path, *arguments], folder, clean_environment())
    if finished.status != 0:
        raise _failure(finished)
    faults = [fault for line in finished.lines if (fault := _fault(line))]
    if faults:
        raise BadInput(*faults)
    for line in finished.lines:
        say(f"pandoc: {line}")


def _failure(finished: Finished) -> ProgramFailed:
    words = beginning(finished.lines) or "it gave no reason"
    return ProgramFailed(f"pandoc failed (its status {finished.status}): {words}")


def _fault(line: str) -> str | None:
    """A warning of pandoc's after which the book would be printed wrong, with its remedy."""
    if match := _MISSING_IMAGE.search(line):
        return f"{match['name']}: the image is not there; add it or mend its path. pandoc: {line}"
    if _NOTE_TWICE.search(line):
        return f"Two notes have one name, so one would be lost; rename one. pandoc: {line}"
    return None


def _dotted(version: Version) -> str:
    return ".".join(map(str, version))
