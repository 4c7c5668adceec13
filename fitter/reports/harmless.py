"""What is printed shows signs and runs nothing: terminal escapes and their like are spelt out."""

from __future__ import annotations

import json
import re
from typing import Any

# C0 and C1 controls but tab and newline, direction overrides, halves of a surrogate pair.
_ACTS = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]"
)
_STYLE = re.compile(r"(\x1b\[(?:(?:[0-4]|[39][0-7])(?:;|(?=m)))+m)")


def harmless(text: str) -> str:
    """The text with every sign that would act spelt out, like \\x1b."""
    return _ACTS.sub(lambda sign: sign[0].encode("unicode_escape", "surrogatepass").decode(), text)


def harmless_but_styled(text: str) -> str:
    """The same, with weights and colours left in."""
    return "".join(
        part if number % 2 else harmless(part) for number, part in enumerate(_STYLE.split(text))
    )


def harmless_json(text: str) -> str:
    """The same for JSON, which stays JSON and says the same."""
    return _ACTS.sub(lambda sign: f"\\u{ord(sign[0]):04x}", text)


def as_json(value: Any) -> str:
    """A value as JSON to be read by people too."""
    return harmless_json(json.dumps(value, indent=2, ensure_ascii=False))
