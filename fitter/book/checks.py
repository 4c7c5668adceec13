"""What a model cannot see: files that must be there, ids that must agree, gaps in the record."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from fitter.book.kinds import names_filler
from fitter.book.models import BookFile, FillerEntry, ImprintEntry, PrintingEntry
from fitter.book.paths import inside, plain
from fitter.book.sentences import suggestion
from fitter.book.yaml_lines import Document
from fitter.trade.printing.printings import code_faults, record_faults

_TIES = ("needs", "excludes")


def rule_faults(document: Document, settings: BookFile) -> list[str]:
    """Severities for rules that the gate does not have."""
    if not settings.rules:
        return []
    from fitter.trade.gate.gate import rule_names

    return [
        f"{document.at(('rules', name))}: there is no rule '{name}'. "
        + (suggestion(name, rule_names()) or f"Known: {', '.join(rule_names())}.")
        for name in settings.rules
        if name not in rule_names()
    ]


def catalogue_faults(
    folder: Path, document: Document, catalogue: Mapping[int, FillerEntry]
) -> list[str]:
    """Ids used twice, ties to fillers that are not there, files missing or outside the folder."""
    faults: list[str] = []
    seen: set[str] = set()
    ids = _ids_named(document)
    for i, entry in catalogue.items():
        places = {key: document.at(("fillers", i, key)) for key in ("id", "source", *_TIES)}
        if entry.id in seen:
            faults.append(f"{places['id']}: the id '{entry.id}' is used twice. Give each its own.")
        seen.add(entry.id)
        faults += [
            f"{places[key]}: '{entry.id}' {key} '{other}', and there is no such filler. "
            + (suggestion(other, ids) or "Mend the id.")
            for key in _TIES
            for other in getattr(entry, key)
            if other not in ids
        ]
        if entry.source:
            faults += _filler_file_faults(folder, places["source"], entry.source)
    return faults


def _ids_named(document: Document) -> list[str]:
    """Every id of the catalogue, those of faulty entries too."""
    entries = document.values.get("fillers") if isinstance(document.values, dict) else None
    listed = entries if isinstance(entries, list) else []
    named = (entry.get("id") for entry in listed if isinstance(entry, dict))
    return [str(id_) for id_ in named if id_ is not None]


def _filler_file_faults(folder: Path, at: str, source: str) -> list[str]:
    try:
        path = inside(folder, plain(source))
    except ValueError as error:
        return [f"{at}: {error}."]
    if not names_filler(path):
        return [f"{at}: '{source}' is not a .tex, .md or .pdf file. Name one that is."]
    if not path.is_file():
        return [f"{at}: the filler's file '{source}' is not there. Add it or mend the path."]
    return []


def printing_faults(
    document: Document, printings: Mapping[int, PrintingEntry], imprint: ImprintEntry | None
) -> list[str]:
    """Gaps, repeats and years that cannot be in the record, and codes that the key cannot carry."""
    record = {i: entry.entered for i, entry in printings.items()}
    faults = record_faults(record, imprint.year if imprint else None)
    if imprint and imprint.key:
        faults += code_faults(record)
    return [
        f"{document.at(('printings', fault.entry, fault.key))}: {fault.said}" for fault in faults
    ]
