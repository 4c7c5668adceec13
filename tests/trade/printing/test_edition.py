from __future__ import annotations

import pytest

from fitter.trade.printing.comparison import compare
from fitter.trade.printing.edition import advise
from fitter.trade.printing.fingerprint import BookPrint
from fitter.trade.printing.limits import EditionLimits
from fitter.trade.size import Size
from tests.trade.printed import chapter, set_in_type

CHAPTERS = [chapter(seed, 1400) for seed in range(6)]
OLD = set_in_type(CHAPTERS)


def _changed(words: int) -> BookPrint:
    """The first words of each chapter changed, so many of them."""
    return set_in_type([[f"x{n}" for n in range(words)] + text[words:] for text in CHAPTERS])


def test_an_unchanged_reprint_keeps_isbn_statement_and_key() -> None:
    """Sources: ISBN Users' Manual 5.1 (older text on isbn.org): not "to an unchanged impression
    or unchanged reprint"; International ISBN Agency FAQ (older): "The original number must be
    retained"; U.S. ISBN Agency: "REGARDLESS OF PRICE CHANGE"; Carter, as given by J. Flavell:
    printed "at any time or times from one setting-up of type without substantial change"."""
    advice = advise(compare(OLD, OLD))
    assert advice.verdict == "new printing"
    assert advice.follows[0].startswith("Keep the ISBN")
    assert advice.follows[1].startswith("Keep the edition statement")
    assert advice.follows[2].startswith("The key continues")
    assert advice.caution == ("This is advice from the text of the pages; the publisher decides.")


def test_a_tenth_printing_is_still_the_first_edition() -> None:
    """Source: Carter, as given by J. Flavell, "Edition and Impression", July 2014: "a ' tenth
    impression ' … would still be part of the first edition". However often it is printed, what
    decides is the text."""
    verdicts = {advise(compare(OLD, OLD)).verdict for _ in range(10)}
    assert verdicts == {"new printing"}


def test_misprints_corrected_ask_for_no_new_isbn() -> None:
    """Source: UK agency rules as listed by C. Peake (weak): "Misprints and typos corrected"."""
    advice = advise(compare(OLD, _changed(1)))
    assert advice.verdict == "corrected printing"
    assert "6 corrected pages (1, 6, 11, 16, 21, 26)." in advice.evidence
    assert advice.follows[0].startswith("Keep the ISBN")


def test_a_substantial_change_asks_for_isbn_and_statement() -> None:
    """Sources: ISBN Users' Manual 5.1: "Revised editions require a new ISBN"; International ISBN
    Agency FAQ (older): "it should state that the book is a revised edition, and the new ISBN
    should be printed there"."""
    advice = advise(compare(OLD, _changed(200)))
    assert advice.verdict == "new edition"
    assert advice.follows[0].startswith("Take a new ISBN")
    assert "new edition statement" in advice.follows[1]
    assert "key at 1" in advice.follows[2]


def test_another_format_is_another_edition() -> None:
    """Sources: Roberts & Etherington, s.v. impression: "If, however, the pages are reimposed to
    produce a different format, the resultant impression is a different edition"; ISBN Users'
    Manual 5.3: "A separate ISBN must be assigned to the different formats"."""
    advice = advise(compare(OLD, set_in_type(CHAPTERS, Size(148, 210))))
    assert advice.verdict == "new edition"
    assert "The trim was 129 × 198 mm and is 148 × 210 mm." in advice.evidence


def test_a_trim_within_the_limit_is_the_same_format() -> None:
    advice = advise(compare(OLD, set_in_type(CHAPTERS, Size(129.5, 198))))
    assert advice.verdict == "new printing"


@pytest.mark.parametrize(("pages", "verdict"), [(2, "corrected printing"), (3, "new edition")])
def test_so_many_new_pages_make_an_edition(pages: int, verdict: str) -> None:
    """The limit is a setting; no published figure says where corrections end."""
    limits = EditionLimits(changed_words=50, new_pages=2)
    longer = set_in_type([*CHAPTERS, chapter(99, 300 * pages)])
    assert advise(compare(OLD, longer), limits).verdict == verdict


def test_limits_are_settings_and_are_told() -> None:
    found = compare(OLD, _changed(30))
    assert advise(found, EditionLimits(changed_words=1)).verdict == "new edition"
    advice = advise(found, EditionLimits(changed_words=10))
    assert advice.verdict == "corrected printing"
    assert advice.limits.changed_words == 10
    assert any("More than 20 words changed on 6 pages" in said for said in advice.evidence)


def test_movement_and_extent_are_told_and_decide_nothing_alone() -> None:
    words = CHAPTERS[1][:350] + chapter(99, 80) + CHAPTERS[1][350:]
    advice = advise(compare(OLD, set_in_type([CHAPTERS[0], words, *CHAPTERS[2:]])))
    assert advice.verdict == "corrected printing"
    assert (
        "From page 8 to 10 the text moved on by up to 80 words (about 8 lines) "
        "and settled at page 11." in advice.evidence
    )
