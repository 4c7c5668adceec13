"""Find the imprint page by what it says."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from fitter.errors import BadInput
from fitter.trade.key.line import MARK, marks_of
from fitter.trade.key.read import read

FRONT, BACK = 16, 4  # pages from either end among which an imprint page is looked for
ENOUGH = 2
LINES_OF_KEY = 3
LONGEST_KEY = 200
_KEY_MARK = re.compile(r"\d{1,4}|[A-Za-z]|[A-Z][A-Z0-9]{1,5}")
_SIGNS = {
    r"\bISBN(-1[03])?[\s:]{0,3}\d[\d -]{7,15}[\dX]": 2,
    r"©|\(c\) ?\d{4}|\bcopyright\b": 1,
    r"\ball rights reserved|alle rechte|tous droits|todos los derechos|tutti i diritti"
    r"|todos os direitos|alle rechten|wszelkie prawa|všechna práva|alla rättigheter": 1,
    r"\b(first|second|third|\d+(st|nd|rd|th)) (published|edition|printing|impression)"
    r"|\bpublished (by|in)\b|\b\d+\. ?(auflage|druck|vydání)\b|dépôt légal|\bimpressum\b": 1,
    r"\bprinted (and bound )?(in|by)\b|\bprinted on\b|gedruckt|imprimé|impreso|stampato|impresso"
    r"|gedrukt|wydrukowano|vytiskl|tryckt": 1,
}


def candidates(extent: int) -> Iterator[int]:
    """The sheet positions, from 1, at which an imprint page may stand."""
    yield from range(1, min(FRONT, extent) + 1)
    yield from range(max(FRONT, extent - BACK) + 1, extent + 1)


def imprint_page(pages: Mapping[int, str]) -> int | None:
    """The page, of texts by sheet position, that says most of what imprint pages say."""
    scores = {page: score(text) for page, text in pages.items()}
    best = max(scores, key=lambda page: (scores[page], -page), default=None)
    return best if best is not None and scores[best] >= ENOUGH else None


def score(text: str) -> int:
    """How much of an imprint page a text holds; a key line counts as much as an ISBN."""
    signs = sum(worth for sign, worth in _SIGNS.items() if re.search(sign, text, re.IGNORECASE))
    return signs + (2 if key_lines(text) else 0)


def keys_on(text: str, wanted: str) -> tuple[str, ...]:
    """The keys on an imprint page: `wanted` alone if it stands there, else all that read as one.

    A key may be set on up to four lines, and its spaces do not matter.
    """
    lines, marks = _lines(text), texts_of(wanted)
    spans = (
        lines[i:j] for i in range(len(lines)) for j in range(i + 1, min(i + 5, len(lines) + 1))
    )
    if any(texts_of(" ".join(span)) == marks for span in spans):
        return (wanted,)
    return key_lines(text, min(len(marks), 4))


def says(text: str, words: str) -> bool:
    """Whether words stand on a line of their own."""
    return " ".join(words.split()).casefold() in (line.casefold() for line in _lines(text))


def texts_of(key: str) -> list[str]:
    """The numbers, letters and codes of a key in order."""
    return [mark.text for mark in marks_of(key)]


def _lines(text: str) -> list[str]:
    return [" ".join(line.split()) for line in text.splitlines() if line.strip()]


def key_lines(text: str, least: int = 4) -> tuple[str, ...]:
    """What reads on a page as a printer's key of at least `least` marks.

    A key may stand on up to three lines, or come out of a PDF so where its gaps are wide.
    """
    lines = _lines(text)
    found: list[str] = []
    at = 0
    while at < len(lines):
        for end in range(min(at + LINES_OF_KEY, len(lines)), at, -1):
            key = "\n".join(lines[at:end])
            if _is_key(key, least):
                found.append(key)
                at = end - 1
                break
        at += 1
    return tuple(found)


def _is_key(line: str, least: int) -> bool:
    if len(line) > LONGEST_KEY or not all(
        _KEY_MARK.fullmatch(mark.group()) for mark in MARK.finditer(line)
    ):
        return False
    if len(marks_of(line)) < least:
        return False
    try:
        return bool(read(line))
    except BadInput:
        return False
