"""Text from YAML as pandoc's Markdown has it in metadata: every character stands for itself."""

from __future__ import annotations

import re

_ACTIVE = re.compile(r"[!-/:-@\[-`{-~]")


def markdown_text(text: str) -> str:
    """Running text: ASCII punctuation is escaped, an apostrophe is set as one."""
    return _ACTIVE.sub(r"\\\g<0>", text.replace("'", "\u2019"))
