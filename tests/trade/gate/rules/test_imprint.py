from __future__ import annotations

from dataclasses import replace

from fitter.trade.gate.evidence import Evidence, ImprintSeen
from fitter.trade.gate.gate import judge, passed
from fitter.trade.gate.verdicts import PageVerdict

PAGES = tuple(PageVerdict(n, str(n), "printed", "body") for n in range(1, 5))
GOOD = ImprintSeen(
    page=4,
    key_wanted="3 4 5   QX   30 29",
    keys_found=("3 4 5   QX   30 29",),
    isbn_wanted="978-1-234-56789-7",
    isbn_stands=True,
    isbns_found=("978-1-234-56789-7",),
)


def told(seen: ImprintSeen | None) -> list[tuple[str, int | None, str]]:
    found = judge(Evidence(PAGES, imprint=seen))
    return [(finding.rule, finding.page, finding.message) for finding in found]


def test_a_good_imprint_page_passes() -> None:
    assert told(GOOD) == []


def test_an_imprint_page_not_looked_at_says_nothing() -> None:
    assert told(None) == []


def test_a_key_that_is_missing() -> None:
    assert told(replace(GOOD, keys_found=())) == [
        (
            "key-missing",
            4,
            "no printer's key stands on the imprint page, so the key '3 4 5 QX 30 29' is missing",
        )
    ]


def test_no_imprint_page_at_all() -> None:
    seen = ImprintSeen(key_wanted="1 2 3", isbn_wanted="978-1-234-56789-7")
    assert [(rule, page) for rule, page, _ in told(seen)] == [
        ("isbn-missing", None),
        ("key-missing", None),
    ]


def test_no_key_wanted_is_no_key_missing() -> None:
    assert told(replace(GOOD, key_wanted=None, keys_found=())) == []


def test_a_key_of_another_printing_is_stale() -> None:
    assert told(replace(GOOD, keys_found=("2 3 4 5\nQX\n30 29 28",))) == [
        (
            "key-stale",
            4,
            "the key '2 3 4 5 QX 30 29 28' says printing 2, "
            "and the record printing 3: '3 4 5 QX 30 29'",
        )
    ]


def test_words_of_a_first_printing_must_go_at_the_second() -> None:
    """Source: C. Stark, BookThink 91, answer 1: "the statement is still removed on the second
    printing"."""
    seen = replace(GOOD, words_wanted=False, words_found=True)
    assert told(seen) == [
        ("key-stale", 4, "the words of a first printing still stand over the key")
    ]
    assert told(replace(seen, words_found=False)) == []
    assert told(replace(GOOD, words_wanted=True, words_found=False)) == [
        ("key-stale", 4, "the words of a first printing are missing over the key")
    ]


def test_an_isbn_that_is_missing() -> None:
    """Source: U.S. ISBN Agency, "major" page: "The ISBN should be printed on the verso of the
    title page"; ISBN Users' Manual 5.6 (older): "The ISBN must also be printed in the first
    available reprint of a backlist title"."""
    seen = replace(GOOD, isbn_stands=False, isbns_found=("978-0-306-40615-7",))
    assert told(seen) == [
        (
            "isbn-missing",
            4,
            "the ISBN 978-1-234-56789-7 is not on the imprint page but 978-0-306-40615-7",
        )
    ]


def test_a_number_that_is_no_isbn() -> None:
    (found,) = told(replace(GOOD, isbns_wrong=("'978-1-234-56789-8' is no ISBN",)))
    assert found == ("isbn-invalid", 4, "'978-1-234-56789-8' is no ISBN")


def test_an_old_isbn_on_a_new_edition_is_a_warning() -> None:
    """Source: ISBN Users' Manual 5.1 (older): "Revised editions require a new ISBN"."""
    findings = judge(Evidence(PAGES, imprint=replace(GOOD, old_edition="First edition")))
    assert [(finding.rule, finding.severity) for finding in findings] == [("isbn-old", "warning")]
    assert passed(findings)
