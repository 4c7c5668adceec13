"""What a model cannot see: files that must be there, ids that must agree, gaps in the record."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from fitter.book.kinds import names_filler
from fitter.book.models import BookFile, FillerEntry, ImprintEntry, PrintingEntry
from fitter.book.paths import inside, plain
from fitter.book.sentences import suggestion
from fitter.book.yaml_lines import Document
from fitter.trade.fill.catalogue import catalogue_faults
from fitter.trade.printing.printings import code_faults, record_faults


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


def filler_faults(
    folder: Path, document: Document, catalogue: Mapping[int, FillerEntry]
) -> list[str]:
    """Contradictions in the catalogue, files missing or outside the folder."""
    faults: list[str] = []
    numbers, ids = list(catalogue), _ids_named(document)
    faulty = set(ids).difference(entry.id for entry in catalogue.values())
    for fault in catalogue_faults([entry.filler for entry in catalogue.values()], faulty):
        at = document.at(("fillers", numbers[fault.entry], fault.key))
        hint = suggestion(fault.unknown, ids) if fault.unknown else ""
        faults.append(f"{at}: {fault.said}. {hint or fault.remedy}")
    for number, entry in catalogue.items():
        if entry.source:
            at = document.at(("fillers", number, "source"))
            faults += _filler_file_faults(folder, at, entry.source)
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
