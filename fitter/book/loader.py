"""From the YAML files of a folder to one Book value; every mistake of every file told at once."""

from __future__ import annotations

import difflib
import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from fitter.book.models import BookFile, FillerEntry, FillersFile, PrintingEntry
from fitter.book.yaml_lines import Document, Place, read_document
from fitter.errors import BadInput

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Book:
    """All that the author's YAML files say, and where they lie."""

    folder: Path
    file: Path
    settings: BookFile
    catalogue: tuple[FillerEntry, ...]
    printings: tuple[PrintingEntry, ...]
    fillers_doc: Document
    printings_doc: Document

    @property
    def source(self) -> Path:
        """The main source file (the first of a Markdown book's)."""
        return self.folder / self.settings.source[0]

    @property
    def markdown(self) -> bool:
        """Whether the book is written in Markdown."""
        return self.source.suffix.lower() in {".md", ".markdown"}

    @property
    def output(self) -> Path:
        """The PDF that the book's build makes."""
        if self.settings.output:
            return self.folder / self.settings.output
        stem = self.file.stem if self.markdown else self.source.stem
        return self.folder / "build" / f"{stem}.pdf"

    @property
    def inserts(self) -> Path:
        """The one file the tool writes beside the source."""
        return self.source.parent / f"{self.output.stem}-inserts.tex"

    @property
    def record(self) -> Path:
        """What the LaTeX package writes beside the PDF."""
        return self.output.with_suffix(".pages")

    def from_source(self, path: Path) -> str:
        """A path as the source names it: from the source's folder, with forward slashes."""
        return Path(os.path.relpath(path, self.source.parent)).as_posix()


def find_book_file(book: Path) -> Path:
    """BOOK is a book.yaml or the folder that holds one. Raises BadInput with the remedy."""
    file = book / "book.yaml" if book.is_dir() else book
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
    settings = _try(faults, lambda: parse(read_document(file, file.name), BookFile))
    fillers_doc = _optional(faults, folder, settings and settings.fillers, "fillers.yaml")
    printings_doc = _optional(faults, folder, settings and settings.printings, "printings.yaml")
    catalogue = _try(faults, lambda: parse(fillers_doc, FillersFile).fillers) or ()
    printings = _try(faults, lambda: parse(printings_doc, tuple[PrintingEntry, ...])) or ()
    if settings:
        faults += _source_faults(folder, file.name, settings)
    faults += _catalogue_faults(folder, fillers_doc, catalogue)
    faults += _printing_faults(printings_doc, printings)
    if faults or settings is None:
        raise BadInput(*faults)
    return Book(folder, file, settings, catalogue, printings, fillers_doc, printings_doc)


def parse(document: Document, model: Any) -> Any:
    """Check a document against a pydantic model; BadInput has a sentence for each fault."""
    values = document.values
    if values is None:
        values = {} if isinstance(model, type) and issubclass(model, BaseModel) else ()
    try:
        return TypeAdapter(model).validate_python(values)
    except ValidationError as error:
        raise BadInput(*(_sentence(document, model, fault) for fault in error.errors())) from None


def inside(folder: Path, relative: str) -> Path:
    """A path of the book, which must lie inside its folder, links followed. Raises ValueError."""
    root = folder.resolve()
    path = (root / relative).resolve()
    if Path(relative).is_absolute() or not path.is_relative_to(root):
        raise ValueError(f"'{relative}' leads out of the book's folder; keep it inside")
    return path


def _try(faults: list[str], step: Callable[[], T]) -> T | None:
    try:
        return step()
    except BadInput as fault:
        faults += fault.sentences
        return None


def _optional(faults: list[str], folder: Path, named: str | None, default: str) -> Document:
    """A file that book.yaml names must be there; the default name may be missing."""
    name = named or default
    empty = Document(name, None, {})
    if not named and not (folder / name).exists():
        return empty
    return _try(faults, lambda: read_document(folder / name, name)) or empty


def _source_faults(folder: Path, name: str, settings: BookFile) -> list[str]:
    return [
        f"{name}: source '{source}' is not there. Mend 'source' or add the file."
        for source in settings.source
        if not _found(folder, source)
    ]


def _found(folder: Path, source: str) -> bool:
    if (folder / source).is_file():
        return True
    is_pattern = any(char in source for char in "*?[") and not Path(source).is_absolute()
    return is_pattern and any(folder.glob(source))


def _catalogue_faults(
    folder: Path, document: Document, catalogue: tuple[FillerEntry, ...]
) -> list[str]:
    faults: list[str] = []
    ids = [entry.id for entry in catalogue]
    for i, entry in enumerate(catalogue):

        def at(key: str, i: int = i) -> str:
            return document.at(("fillers", i, key))

        if entry.id in ids[:i]:
            faults.append(
                f"{at('id')}: the id '{entry.id}' is used twice. Give each filler its own."
            )
        faults += [
            f"{at(key)}: '{entry.id}' {key} '{other}', and there is no such filler. "
            + (suggestion(other, ids) or "Mend the id.")
            for key in ("needs", "excludes")
            for other in getattr(entry, key)
            if other not in ids
        ]
        if entry.source:
            faults += _filler_file_faults(folder, at("source"), entry.source)
    return faults


def _filler_file_faults(folder: Path, at: str, source: str) -> list[str]:
    try:
        path = inside(folder, source)
    except ValueError as error:
        return [f"{at}: {error}."]
    if path.suffix.lower() not in {".tex", ".md", ".pdf"}:
        return [f"{at}: '{source}' is not a .tex, .md or .pdf file."]
    if not path.is_file():
        return [f"{at}: the filler's file '{source}' is not there. Add it or mend the path."]
    return []


def _printing_faults(document: Document, printings: tuple[PrintingEntry, ...]) -> list[str]:
    return [
        f"{document.at((i, 'printing'))}: printing {entry.printing} stands where printing {i + 1} "
        "is due. The record counts 1, 2, 3 … without gaps or repeats."
        for i, entry in enumerate(printings)
        if entry.printing != i + 1
    ]


def suggestion(word: object, known: list[str]) -> str:
    """`Did you mean 'priority'?`, or nothing when no known word is near."""
    near = difflib.get_close_matches(str(word), known, n=1, cutoff=0.6)
    return f"Did you mean '{near[0]}'?" if near else ""


def _sentence(document: Document, model: Any, fault: ErrorDetails) -> str:
    place: Place = fault["loc"]
    at, key = document.at(place), place[-1] if place else document.name
    given = _shown(fault["input"])
    match fault["type"]:
        case "extra_forbidden":
            known = _keys_at(model, place[:-1])
            hint = suggestion(key, known) or f"Known here: {', '.join(known)}."
            return f"{at}: unknown key '{key}'. {hint}"
        case "missing":
            return f"{at}: the key '{key}' is missing."
        case "value_error":
            return f"{at}: {fault['ctx']['error']}."
        case "literal_error":
            return f"{at}: '{key}' is one of {fault['ctx']['expected']}, not {given}."
        case "string_pattern_mismatch":
            return (
                f"{at}: {given} cannot be an id: use letters, digits, '-', '_' and '.', 64 at most."
            )
        case _:
            wanted = fault["msg"].removeprefix("Input should be ")
            return f"{at}: '{key}' should be {wanted}, not {given}."


def _shown(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "…"


def _keys_at(model: Any, place: Place) -> list[str]:
    """The keys a model knows at a place, found by walking its JSON schema."""
    schema = TypeAdapter(model).json_schema()
    node = schema
    for step in (*place, None):
        node = _resolved(node, schema)
        if step is None:
            break
        if isinstance(step, int):
            node = node.get("items", node.get("additionalProperties", {}))
        else:
            node = node.get("properties", {}).get(step, node.get("additionalProperties", {}))
    return list(node.get("properties", {}))


def _resolved(node: dict[str, Any], schema: dict[str, Any]) -> dict[str, Any]:
    while True:
        for branch in node.get("anyOf", []) + node.get("allOf", []):
            if branch.get("type") != "null":
                node = branch
                break
        if "$ref" not in node:
            return node
        node = schema["$defs"][node["$ref"].rsplit("/", 1)[-1]]
