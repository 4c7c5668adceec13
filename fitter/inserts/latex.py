"""The generated file for LaTeX: read by fitter.sty, safe to delete, worth committing."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator

from fitter.book.kinds import names_pdf
from fitter.book.models import FillerEntry
from fitter.inserts.chosen import Chosen, Passage
from fitter.inserts.content import HEAD, Inserts
from fitter.inserts.escape import tex_path, tex_text

_BODY = r"\fitterBody{"
_FOR_PANDOC = (r"\fitterSetting{",)
_SETTING = re.compile(r"^\\fitterSetting\{([^{}]+)\}\{([^{}]+)\}$", re.MULTILINE)
_PASSAGE = re.compile(
    r"^\\fitter(Shorter|Longer)\{([^{}]+)\}\{([0-9A-F]{32})\}\{(\d+)\}$", re.MULTILINE
)


def render(inserts: Inserts) -> str:
    """The whole file. Raises ValueError for a file name TeX cannot open."""
    return before_choice(inserts) + "".join(f"{line}\n" for line in _placements(inserts))


def before_choice(inserts: Inserts) -> str:
    """The part that does not depend on what was chosen."""
    lines = [
        *(f"% {line}" for line in HEAD),
        *_imprint(inserts),
        *_settings(inserts),
        *_passages(inserts),
        *_trial(inserts),
        *_catalogue(inserts),
    ]
    return "".join(f"{line}\n" for line in lines)


def parse(text: str) -> Chosen:
    """What an earlier file says was chosen to win pages."""
    said = _before_bodies(text)
    passages = [
        (how, Passage(file, digest, int(number)))
        for how, file, digest, number in _PASSAGE.findall(said)
    ]
    return Chosen(
        dict(_SETTING.findall(said)),
        tuple(passage for how, passage in passages if how == "Shorter"),
        tuple(passage for how, passage in passages if how == "Longer"),
    )


def for_pandoc(text: str) -> list[str]:
    """The lines of a file that the filter makes something of: with others, pandoc runs anew."""
    said = _before_bodies(text)
    return [line for line in said.splitlines() if line.startswith(_FOR_PANDOC)]


def _before_bodies(text: str) -> str:
    """What we say ourselves of the choice: a filler's text may hold such lines too."""
    return text.partition(f"\n{_BODY}")[0]


def _settings(inserts: Inserts) -> Iterator[str]:
    for name, value in inserts.values:
        yield rf"\fitterSetting{{{name}}}{{{value}}}"


def _imprint(inserts: Inserts) -> Iterator[str]:
    blanks = inserts.book.settings.blanks
    yield rf"\fitterMark{{{tex_text(blanks.mark.fillers)}}}"
    if blanks.mark.openers != blanks.mark.fillers:
        yield rf"\fitterOpenerMark{{{tex_text(blanks.mark.openers)}}}"
    yield rf"\fitterOpeners{{{blanks.openers}}}"
    if inserts.key:
        yield rf"\fitterKey{{{_key(inserts.key)}}}"
    if inserts.isbn:
        yield rf"\fitterIsbn{{{tex_text(inserts.isbn)}}}"
    if inserts.history:
        lines = r"\\".join(tex_text(line) for line in inserts.history)
        yield rf"\fitterHistory{{{lines}}}"
    for kind, lines_of_kind in inserts.imprint:
        yield rf"\fitterImprint{{{_imprint_line(kind, lines_of_kind)}}}"


def _imprint_line(kind: str, lines: tuple[str, ...]) -> str:
    if kind in {"key", "isbn", "history"}:
        return rf"\imprint{kind}"
    return r"\\".join(tex_text(line) for line in lines)


def _key(key: str) -> str:
    """Words and line one under the other; wide gaps stay wide."""
    lines = (re.split(" {2,}", line) for line in key.splitlines())
    return r"\\".join(r"\quad ".join(tex_text(group) for group in groups) for groups in lines)


def _catalogue(inserts: Inserts) -> Iterator[str]:
    if any(names_pdf(entry.source) for entry in inserts.book.catalogue):
        yield r"\fitterNeedsGraphics"
    for entry in inserts.book.catalogue:
        if entry.id in inserts.bodies:
            yield from _body(entry.id, inserts.bodies[entry.id].rstrip("\n"))
        elif entry.source:
            yield rf"\fitterCandidate{{{entry.id}}}{{{_source(inserts, entry)}}}"
        if entry.source and not names_pdf(entry.source):
            yield rf"\fitterMeasure{{{entry.id}}}"


def _body(id_: str, text: str) -> Iterator[str]:
    """A filler as it stands, up to a line with its own MD5: no line of a text can be that one."""
    end = hashlib.md5(text.encode(), usedforsecurity=False).hexdigest().upper()
    yield rf"{_BODY}{id_}}}{{{end}}}"
    yield text
    yield end


def _passages(inserts: Inserts) -> Iterator[str]:
    chosen = inserts.chosen
    if chosen.shorter or chosen.longer or inserts.trial:
        main = inserts.book.from_source(inserts.book.typeset)
        yield r"\RequirePackage{fitter-tighten}"
        yield rf"\fitterMainFile{{{tex_path(main)}}}"
    for how, passages in (("Shorter", chosen.shorter), ("Longer", chosen.longer)):
        for each in passages:
            yield rf"\fitter{how}{{{each.file}}}{{{each.text}}}{{{each.number}}}"


def _trial(inserts: Inserts) -> Iterator[str]:
    if inserts.trial:
        yield r"\fitterRecordText"
        for number, width in inserts.trial.cuts.items():
            yield rf"\fitterCut{{{number}}}{{{width:.3f}}}"


def _source(inserts: Inserts, entry: FillerEntry) -> str:
    book = inserts.book
    path = tex_path(book.from_source(book.folder / (entry.source or "")))
    if names_pdf(entry.source):
        return rf"\fitterPdfPages{{{path}}}{{{inserts.pdf_pages[entry.id]}}}"
    return rf"\fitterSource{{{path}}}"


def _placements(inserts: Inserts) -> Iterator[str]:
    entries = {entry.id: entry for entry in inserts.book.catalogue}
    for placed in inserts.placement.placed:
        entry = entries[placed.id]
        if entry.page == "notes":
            heading = tex_text(entry.title or "Notes")
            body = rf"\fitterNotes{{{placed.pages}}}{{{entry.lines}}}{{{heading}}}"
            yield rf"\fitterCandidate{{{placed.id}}}{{{body}}}"
        elif entry.page == "marked-blank":
            yield rf"\fitterCandidate{{{placed.id}}}{{\fitterMarkedBlank{{{placed.pages}}}}}"
        yield rf"\fitterPlace{{{placed.place}}}{{{placed.id}}}"
    if inserts.placement.end_blanks:
        yield rf"\fitterEndBlanks{{{inserts.placement.end_blanks}}}"
