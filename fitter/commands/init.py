"""`fitter init`: the three YAML files for a book found in a folder."""

from __future__ import annotations

import re
from pathlib import Path

from fitter.book.found import Found, find_book, latex_mains
from fitter.book.found_markdown import FoundMarkdown, find_markdown
from fitter.data.known_marks import mark_in
from fitter.errors import DONE, BadInput
from fitter.package import data_file
from fitter.reports.voice import Voice
from fitter.writing import write_whole

NAMES = ("book.yaml", "fillers.yaml", "printings.yaml")


def init(where: Path, voice: Voice) -> int:
    """Write what is missing of the three files; what is there stays as it is."""
    if not where.exists():
        raise BadInput(f"{where}: there is no such folder.")
    found = _found(where)
    for name in NAMES:
        path = found.folder / name
        if path.exists():
            voice.step(f"{name} is there already and stays as it is.")
        else:
            write_whole(path, _filled(name, found))
            voice.step(f"{name} is written.")
    for line in found.missing_lines:
        voice.step(line)
    return DONE


def _found(where: Path) -> Found | FoundMarkdown:
    """The LaTeX book of the folder, else the Markdown book."""
    markdown = find_markdown(where)
    return markdown if markdown and not latex_mains(where) else find_book(where)


def _filled(name: str, found: Found | FoundMarkdown) -> str:
    text = data_file(f"starters/{name}").read_text(encoding="utf-8")
    found_values = found.values()
    values = {**found_values, "mark": mark_in(found_values["language"].strip('"'))}
    words = re.compile(f"@({'|'.join(values)})@")
    return words.sub(lambda word: values[word[1]], text)
