"""From the YAML files of a folder to one Book value; every mistake of every file told at once."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from fitter.book.at_hand import BY_PREFERENCE, engine_at_hand
from fitter.book.checks import filler_faults, printing_faults, rule_faults
from fitter.book.kinds import names_markdown
from fitter.book.matching import matching
from fitter.book.models import BookFile, FillerEntry, FillersFile, PrintingEntry, PrintingsFile
from fitter.book.paths import absent_faults, output_faults, path_fault, path_faults
from fitter.book.sentences import sentence
from fitter.book.yaml_lines import Document, Place, read_document
from fitter.errors import BadInput

M = TypeVar("M", bound=BaseModel)
MOST_ENTRIES = 5000


@dataclass(frozen=True, slots=True)
class Book:
    """All that the author's YAML files say, and where they lie."""

    folder: Path
    file: Path
    settings: BookFile
    catalogue: tuple[FillerEntry, ...]
    printings: tuple[PrintingEntry, ...]
    book_doc: Document
    fillers_doc: Document
    printings_doc: Document

    @property
    def source(self) -> Path:
        """The main source file (the first of a Markdown book's)."""
        return self.folder / self.settings.source[0]

    @property
    def markdown(self) -> bool:
        """Whether the book is written in Markdown."""
        return names_markdown(self.source)

    @property
    def output(self) -> Path:
        """The PDF that the book's build makes."""
        if self.settings.output:
            return self.folder / self.settings.output
        stem = self.file.stem if self.markdown else self.source.stem
        return self.folder / "build" / f"{stem}.pdf"

    @property
    def sources(self) -> tuple[Path, ...]:
        """All source files in reading order: patterns by number and name, no file twice."""
        found = (path for name in self.settings.source for path in matching(self.folder, name))
        return tuple(dict.fromkeys(found))

    @property
    def home(self) -> Path:
        """Where the engine runs: beside a LaTeX source, beside the YAML of a Markdown book."""
        return self.folder if self.markdown else self.source.parent

    @property
    def engine(self) -> str:
        """The engine; Markdown that names none gets Typst where no TeX is installed."""
        if self.settings.engine or not self.markdown:
            return self.settings.engine or BY_PREFERENCE[0]
        return engine_at_hand()

    @property
    def inserts(self) -> Path:
        """The one file the tool writes beside the source."""
        ending = ".jsonl" if self.engine == "typst" else ".tex"
        return self.home / f"{self.output.stem}-inserts{ending}"

    @property
    def typeset(self) -> Path:
        """What the engine is given: the LaTeX source, or what pandoc makes of Markdown."""
        return self.output.with_suffix(".tex") if self.markdown else self.source

    @property
    def printings_file(self) -> Path:
        """The record of printings, there or not."""
        return self.folder / (self.settings.printings or "printings.yaml")

    @property
    def record(self) -> Path:
        """What the engine leaves beside the PDF for `fitter.engines.record`."""
        return self.output.with_suffix(".pages")

    def from_source(self, path: Path) -> str:
        """A path as the source names it: from the engine's folder, with forward slashes."""
        return Path(os.path.relpath(path, self.home)).as_posix()


def find_book_file(book: Path) -> Path:
    """BOOK is a book.yaml or the folder that holds one. Raises BadInput with the remedy."""
    file = book / "book.yaml" if book.is_dir() else book
    if file.is_file() and file.suffix.lower() not in {".yaml", ".yml"}:
        raise BadInput(
            f"{file}: BOOK is the book's folder or its YAML file, and this is neither. "
            f"Write one with 'fitter init {file}', or name the folder."
        )
    if not file.is_file():
        raise BadInput(
            f"{file}: there is no such file. Name the book's folder or its YAML file, "
            f"or write one with 'fitter init {file.parent}'."
        )
    return file


def load_book(book: Path) -> Book:
    """Read book.yaml and the files it names; one BadInput tells all mistakes of all of them."""
    file = find_book_file(book)
    folder = file.parent
    faults: list[str] = []
    book_doc = _read(faults, file, file.name)
    settings = _settings(faults, book_doc)
    fillers_doc = _optional(faults, folder, settings.fillers if settings else None, "fillers.yaml")
    printings_doc = _optional(
        faults, folder, settings.printings if settings else None, "printings.yaml"
    )
    catalogue = _entries(faults, fillers_doc, FillersFile, "fillers", FillerEntry)
    printings = _entries(faults, printings_doc, PrintingsFile, "printings", PrintingEntry)
    if settings:
        faults += path_faults(folder, book_doc, settings)
        faults += output_faults(
            folder, book_doc, settings, (entry.source for entry in catalogue.values())
        )
        faults += absent_faults(folder, book_doc, settings)
        faults += rule_faults(book_doc, settings)
    faults += filler_faults(folder, fillers_doc, catalogue)
    faults += printing_faults(printings_doc, printings, settings.imprint if settings else None)
    if faults or settings is None:
        raise BadInput(*faults)
    return Book(
        folder,
        file,
        settings,
        tuple(catalogue.values()),
        tuple(printings.values()),
        book_doc,
        fillers_doc,
        printings_doc,
    )


def parse(document: Document, model: type[M]) -> M:
    """Check a whole document against a model; BadInput has a sentence for each fault."""
    faults = list(document.faults)
    checked = _checked(faults, document, model, (), document.values or {})
    if checked is None or faults:
        raise BadInput(*faults)
    return checked


def _settings(faults: list[str], document: Document) -> BookFile | None:
    if not document.lines:  # it could not be read, and that has been told
        return None
    return _checked(faults, document, BookFile, (), document.values or {})


def _checked(
    faults: list[str], document: Document, model: type[M], place: Place, values: Any
) -> M | None:
    """One mapping of a document against its model; what is wrong goes to `faults`."""
    try:
        return model.model_validate(values)
    except ValidationError as error:
        faults += (sentence(document, model, place, fault) for fault in error.errors())
        return None


def _entries(
    faults: list[str], document: Document, around: type[BaseModel], key: str, model: type[M]
) -> dict[int, M]:
    """The good entries of a list by their index; what is wrong with the others goes to `faults`."""
    values = document.values or {}
    if not isinstance(values, dict):
        faults.append(f"{document.at(())}: this should begin with '{key}:', a list of entries.")
        return {}
    _checked(faults, document, around, (), {k: v for k, v in values.items() if k != key})
    entries = values.get(key) or []
    if not isinstance(entries, list):
        faults.append(f"{document.at((key,))}: this should be a list of entries.")
        return {}
    if len(entries) > MOST_ENTRIES:
        faults.append(
            f"{document.at((key,))}: '{key}' has {len(entries):,} entries; {MOST_ENTRIES:,} are "
            "the most. Keep those that this book may need."
        )
        return {}
    checked = (
        (i, _checked(faults, document, model, (key, i), entry)) for i, entry in enumerate(entries)
    )
    return {i: entry for i, entry in checked if entry is not None}


def _read(faults: list[str], path: Path, name: str) -> Document:
    try:
        document = read_document(path, name)
    except BadInput as fault:
        faults += fault.sentences
        return Document(name, None, {})
    faults += document.faults
    return document


def _optional(faults: list[str], folder: Path, named: str | None, default: str) -> Document:
    """A file by the name that book.yaml gives it, or by its default one; it may be missing."""
    name = named or default
    if path_fault(folder, name) or not (folder / name).exists():
        return Document(name, None, {})
    return _read(faults, folder / name, name)
