"""Which line of which Markdown file holds each paragraph that was set."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from difflib import SequenceMatcher

from fitter.engines.headings import Place

KEY = 28  # letters that a paragraph is known by
_BEGINS = re.compile(r"^[ >]*(?:(?:[-*+:]|\(?(?:\d+|[a-z#]|@)[.)])\s+)*")
_NEW_ITEM = re.compile(r"^[ >]*(?:[-*+:]|\(?(?:\d+|[a-z#]|@)[.)])\s")
_NOT_SET = re.compile(
    r"\[\^[^\]]*\]:?|\]\([^)]*\)|\]\[[^\]]*\]|\{[^}]*[.#=][^}]*\}|</?[a-z][^>]*>|<!--.*?-->|&\w+;"
)
_NAMING = re.compile(
    r"\\(?:href|begin|end|label|hyperref|cite\w*|includegraphics)\b(?:\{[^{}]*\}|\[[^]]*\])"
)
_BRACES = str.maketrans("", "", "{}\\")
_MACRO = re.compile(r"\\[A-Za-z]+\*?")
_NOTE = re.compile(r"\\footnote\{(?:[^{}]|\{(?:[^{}]|\{[^{}]*\})*\})*\}")


def paragraph_places(seen: Sequence[str], sources: Mapping[str, str]) -> list[Place | None]:
    """The place of each paragraph, in order; None for one that stands in no source.

    `seen` are the words of the paragraphs, `sources` the Markdown by file name in reading order.
    """
    pieces = [(place, _key(text)) for place, text in _pieces(sources)]
    keys = [_key(words) for words in seen]
    matches = SequenceMatcher(None, keys, [key for _, key in pieces], autojunk=False)
    places: list[Place | None] = [None] * len(keys)
    known, known_piece = 0, 0
    for i, j, size in matches.get_matching_blocks():
        between = i - known if i - known == j - known_piece else 0  # as many here as there
        for step in range(-between, size):
            places[i + step] = pieces[j + step][0]
        known, known_piece = i + size, j + size
    return places


def words_of_tex(tex: str) -> str:
    """A paragraph that pandoc wrote for TeX, without notes, commands and what they only name."""
    bare = _MACRO.sub("", _NAMING.sub("", _NOTE.sub("", tex)))
    return bare.translate(_BRACES)


def _pieces(sources: Mapping[str, str]) -> Iterator[tuple[Place, str]]:
    """The beginnings of paragraphs: behind a blank line, and at each item of a list."""
    for name, text in sources.items():
        first, lines = 0, list[str]()
        for number, line in enumerate([*text.splitlines(), ""], 1):
            bare = "" if line.startswith(":::") else line.strip(" >\t")
            if lines and (not bare or _NEW_ITEM.match(line)):
                yield (name, first), " ".join(lines)
                lines = []
            if bare:
                first = first if lines else number
                lines.append(line)


def _key(words: str) -> str:
    """The first letters and digits, so that quotes, dashes and emphasis make no difference."""
    plain = _NOT_SET.sub("", _BEGINS.sub("", words)).casefold()
    return "".join(char for char in plain if char.isalnum())[:KEY]
