"""Where corrections end and a new edition begins."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class EditionLimits:
    """Where corrections end and a new edition begins; no published figure says where.

    `corrected_words`: the most words changed on a page that still count as a few;
    `changed_words`: the most words changed in the whole book, in per cent of its words;
    `new_pages`: the most pages of new text; `trim_mm`: how far the trimmed size may differ.
    """

    corrected_words: int = 20
    changed_words: float = 2.0
    new_pages: int = 2
    trim_mm: float = 1.0
