"""Paths that the YAML files name: inside the book's folder, with names that run nothing."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from fitter.book.kinds import names_pdf
from fitter.book.matching import matching
from fitter.book.models import BookFile
from fitter.book.yaml_lines import Document, Place

LONGEST = 1000  # bytes; systems take 255 a part and about 4,000 with the folder's own path
# A build tool may hand a name to a shell, and TeX reads its command line as TeX.
ACTS = frozenset('\\"$&^`|;<>{}\n\r\t')


def inside(folder: Path, relative: str) -> Path:
    """A path of the book, which must lie inside its folder, links followed. Raises ValueError."""
    root = folder.resolve()
    try:
        path = (root / relative).resolve()
    except (OSError, RuntimeError):
        raise ValueError(f"'{relative}' leads round in a circle of links; mend them") from None
    if Path(relative).is_absolute() or not path.is_relative_to(root):
        raise ValueError(f"'{relative}' leads out of the book's folder; keep it inside")
    return path


def plain(name: str) -> str:
    """The name itself. Raises ValueError where a shell or TeX could take it for a command."""
    bad = sorted(ACTS & set(name))
    if bad:
        raise ValueError(
            f"'{name}' has {' '.join(bad)!r} in it, which a shell or TeX may take for a command; "
            "rename it"
        )
    if _too_long(name):
        raise ValueError(f"'{name[:20]}…' is longer than a name of a file may be; shorten it")
    if any(part.startswith("-") for part in Path(name).parts):
        raise ValueError(f"'{name}' begins with '-', as an option does; rename it")
    return name


def _too_long(name: str) -> bool:
    longest = max((len(os.fsencode(part)) for part in Path(name).parts), default=0)
    return longest > 255 or len(os.fsencode(name)) > LONGEST


def path_faults(folder: Path, document: Document, settings: BookFile) -> list[str]:
    """Files of book.yaml that are missing, outside its folder, or dangerously named."""
    if settings.output and not names_pdf(settings.output):
        at = document.at(("output",))
        return [f"{at}: the output is a PDF, so its name ends in .pdf, not '{settings.output}'."]
    faults = [
        f"{document.at(place)}: {fault}."
        for place, name in _named(settings)
        if (fault := path_fault(folder, name))
    ]
    return faults or _source_faults(folder, document, settings)


def _named(settings: BookFile) -> list[tuple[Place, str]]:
    """Every path of the file by its place, those that hold by default too."""
    names = {
        "output": settings.output or "build",
        "fillers": settings.fillers or "fillers.yaml",
        "printings": settings.printings or "printings.yaml",
        "printer": settings.printer or "printer.yaml",
    }
    single: list[tuple[Place, str]] = [((key,), name) for key, name in names.items()]
    return [*single, *((("source", i), name) for i, name in enumerate(settings.source))]


def _source_faults(folder: Path, document: Document, settings: BookFile) -> list[str]:
    """What the sources name must be there, and the PDF must not take the place of any of it."""
    faults = []
    output = (folder / settings.output).resolve() if settings.output else None
    for i, name in enumerate(settings.source):
        found = matching(folder, name)
        at = document.at(("source", i))
        if not found:
            faults.append(f"{at}: source '{name}' is not there. Mend 'source' or add the file.")
        for path in found:
            if path.resolve() == output:
                faults.append(f"{at}: '{name}' is the 'output' too. Give the PDF another name.")
            fault = path_fault(folder, path.relative_to(folder).as_posix())
            faults += [f"{at}: {fault}."] if fault else []
    return faults


def absent_faults(folder: Path, document: Document, settings: BookFile) -> list[str]:
    """The files beside the source that book.yaml names must be there."""
    named = {key: getattr(settings, key) for key in ("fillers", "printings", "printer")}
    return [
        f"{document.at((key,))}: the file '{name}' is not there. Mend '{key}' or add the file."
        for key, name in named.items()
        if name and not path_fault(folder, name) and not (folder / name).exists()
    ]


def output_faults(
    folder: Path, document: Document, settings: BookFile, fillers: Iterable[str | None]
) -> list[str]:
    """The PDF must not take the place of a filler."""
    output = (folder / settings.output).resolve() if settings.output else None
    return [
        f"{document.at(('output',))}: '{name}' is a filler too. Give the PDF another name."
        for name in fillers
        if name and (folder / name).resolve() == output
    ]


def path_fault(folder: Path, name: str) -> str:
    """What is wrong with a path of the book, without a full stop; '' if nothing is."""
    try:
        inside(folder, plain(name))
    except ValueError as error:
        return str(error)
    return ""
