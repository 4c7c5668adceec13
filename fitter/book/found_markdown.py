"""What a folder shows of the Markdown book in it: its files in order, title, author, language."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from fitter.book.at_hand import engine_at_hand
from fitter.book.kinds import names_markdown
from fitter.book.matching import matching
from fitter.book.this_year import this_year

_NOT_TEXT = {"readme", "license", "licence", "changelog", "contributing", "todo", "notes"}
_NOT_CHAPTERS = {"build", "fillers", "node_modules"}
_BLOCK = re.compile(r"\A---[ \t]*\n(.*?)\n(?:---|\.\.\.)[ \t]*$", re.DOTALL | re.MULTILINE)
_KEY = re.compile(r"^:::+.*\.imprint-(?:key|page)\b", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class FoundMarkdown:
    """The source patterns of a folder, the metadata of the first file that has any, all text."""

    folder: Path
    sources: tuple[str, ...]
    metadata: dict[str, Any]
    whole: str

    def values(self) -> dict[str, str]:
        """What the starter files are filled with, ready for YAML."""
        sources = self.sources[0] if len(self.sources) == 1 else list(self.sources)
        return {
            "title": _yaml(_words(self.metadata.get("title"))),
            "author": _yaml(_words(self.metadata.get("author"))),
            "language": _yaml(_words(self.metadata.get("lang")) or "en"),
            "source": _yaml(sources),
            "engine": engine_at_hand(),
            "output": _yaml("build/book.pdf"),
            "trim": "# trim: 129 x 198 mm          # the trimmed page; 148 x 210 mm if left out",
            "year": str(this_year()),
        }

    @property
    def missing_lines(self) -> tuple[str, ...]:
        """The lines the source still lacks, as advice."""
        if _KEY.search(self.whole):
            return ()
        return (
            "Add on the imprint page, where the printer's key shall stand, two lines: "
            "'::: {.imprint-key}' and ':::'",
        )


def find_markdown(where: Path) -> FoundMarkdown | None:
    """The Markdown book of a folder, or in the one file named; None where there is none."""
    alone = where.is_file()
    folder = where.parent if alone else where
    sources = (where.name,) if names_markdown(where) else () if alone else tuple(_sources(where))
    files = [path for source in sources for path in matching(folder, source)]
    if not files:
        return None
    texts = [path.read_text(encoding="utf-8", errors="replace") for path in files]
    metadata = next((block for text in texts if (block := _metadata(text))), {})
    return FoundMarkdown(folder, sources, metadata, "\n".join(texts))


def _sources(folder: Path) -> Iterator[str]:
    """The files beside each other first, then the subfolder that has most."""
    for path in _markdown(folder, "*"):
        if path.stem.casefold() not in _NOT_TEXT:
            yield path.name
    counts = Counter(
        f"{sub.name}/*{path.suffix}"
        for sub in sorted(folder.iterdir())
        if sub.is_dir() and sub.name not in _NOT_CHAPTERS and sub.name[0] != "."
        for path in _markdown(folder, f"{sub.name}/*")
    )
    yield from (pattern for pattern, _ in counts.most_common(1))


def _markdown(folder: Path, pattern: str) -> list[Path]:
    return [path for path in matching(folder, pattern) if names_markdown(path)]


def _metadata(text: str) -> dict[str, Any]:
    match = _BLOCK.match(text)
    try:
        block = yaml.safe_load(match[1]) if match else None
    except yaml.YAMLError:
        return {}
    return block if isinstance(block, dict) else {}


def _words(value: Any) -> str:
    if isinstance(value, list):
        return ", ".join(filter(None, map(_words, value)))
    if isinstance(value, dict):
        return _words(value.get("name") or value.get("text"))
    return " ".join(str(value).split()) if value is not None else ""


def _yaml(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)
