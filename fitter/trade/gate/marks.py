"""Marks: words on an otherwise empty page that say it is meant to be empty."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

NOT_DECOMPOSED = str.maketrans("łøđı", "lodi")
MARKED_AT_MOST = 500  # letters; a page that says more is text


class Marks:
    """Recognises the given phrases in any case, spacing, punctuation and line breaking."""

    def __init__(self, phrases: Iterable[str]) -> None:
        plain = sorted({letters(phrase) for phrase in phrases} - {""}, key=len, reverse=True)
        said = "|".join(re.escape(phrase) for phrase in plain)
        self._only_marks = re.compile(f"(?:{said})+") if plain else None

    def recognises(self, text: str) -> bool:
        """Whether the text is one mark or several of them, and nothing else."""
        said = letters(text)
        if self._only_marks is None or not said or len(said) > MARKED_AT_MOST:
            return False
        return self._only_marks.fullmatch(said) is not None


def letters(text: str) -> str:
    """The letters and digits alone, without case and accents, so that breaks do not matter.

    >>> letters("Diese Seite bleibt ab-\\nsichtlich frei.")
    'dieseseitebleibtabsichtlichfrei'
    """
    folded = unicodedata.normalize("NFKD", text.casefold()).translate(NOT_DECOMPOSED)
    return "".join(char for char in folded if char.isalnum())
