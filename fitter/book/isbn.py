"""ISBNs: checked, hyphenated, compared, and found in a text; python-stdnum knows the ranges."""

from __future__ import annotations

import re
from dataclasses import dataclass

_HYPHENS = "\u00ad\u2010\u2011\u2012\u2013\u2014\u2212-"
_BETWEEN = rf"[ \t\u00a0{_HYPHENS}]"
_AFTER_WORD = re.compile(
    rf"\bISBN(?:-?1[03])?(?:\s*\([^)\n]{{0,30}}\))?[\s:]{{0,4}}"
    rf"(\d(?:{_BETWEEN}{{0,2}}\d){{7,11}}{_BETWEEN}{{0,2}}[\dXx])"
)


@dataclass(frozen=True, slots=True)
class Isbn:
    """A valid ISBN: `printed` hyphenated as it stands in a book, `number` its 13 digits.

    An ISBN of 10 signs keeps its form in print; with 9 digits it is an SBN and gets its 0.
    """

    printed: str
    number: str


def read_isbn(text: str) -> Isbn:
    """Check and hyphenate an ISBN. Raises ValueError with a sentence that says what is wrong."""
    from stdnum import isbn
    from stdnum.exceptions import InvalidChecksum, ValidationError

    plain = re.sub(rf"[\s{_HYPHENS}]", "", text.upper().removeprefix("ISBN").strip(": "))
    try:
        number = isbn.validate(plain)
    except InvalidChecksum:
        raise ValueError(
            f"'{text}' is no ISBN: by its other digits the last one should be {_last(plain)}; "
            "compare it with the agency's list"
        ) from None
    except ValidationError:
        raise ValueError(
            f"'{text}' is no ISBN: it has 13 digits from 978 or 979, or 10 with a digit or X last"
        ) from None
    return Isbn(isbn.format(number), isbn.compact(number, convert=True))


def as_printed(text: str) -> str:
    """The ISBN with the hyphens of its group and publisher; what is none stays as typed."""
    try:
        return read_isbn(text).printed
    except ValueError:
        return text


def isbns_in(text: str) -> tuple[str, ...]:
    """What stands after the word ISBN, right or wrong; the word must precede it in print."""
    return tuple(" ".join(found.split()) for found in _AFTER_WORD.findall(text))


def _last(plain: str) -> str:
    from stdnum import ean, isbn

    if len(plain) == 13:
        return str(ean.calc_check_digit(plain[:-1]))
    nine = plain.zfill(10)[:-1]
    return str(isbn.to_isbn10(f"978{nine}{ean.calc_check_digit(f'978{nine}')}")[-1])
