from __future__ import annotations

import pytest
from stdnum import isbn as stdnum_isbn

from fitter.book.isbn import as_printed, isbns_in, read_isbn


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        # Source: truevue.org, "ISBN-13": sum 93, check digit 7
        ("978-0-306-40615-7", "978-0-306-40615-7"),
        # Source: Cambridge IGCSE Computer Science, p. 184, Fig. 9.9: (36 + 75), check digit 9
        ("9780340983829", "978-0-340-98382-9"),
        # Source: Wikipedia, ISBN (infobox): sum 100, check digit 0
        ("978-3-16-148410-0", "978-3-16-148410-0"),
        # Source: python-stdnum, stdnum/isbn.py doctest
        ("978-9024538270", "978-90-245-3827-0"),
        ("9780471117094", "978-0-471-11709-4"),
        ("1-85798-218-5", "1-85798-218-5"),
        # Source: python-stdnum, tests/test_isbn.doctest: a 9-digit SBN
        ("85152-629-2", "0-85152-629-2"),
        # Source: isbn_hyphenate README
        ("9781590593561", "978-1-59059-356-1"),
        # Source: mneia-isbn README: 978, 960, 503, 111, 4
        ("9789605031114", "978-960-503-111-4"),
        # Source: Regular Expressions Cookbook, 2nd ed., 4.13
        ("978-0-596-52068-7", "978-0-596-52068-7"),
        ("0-596-52068-9", "0-596-52068-9"),
        # Source: The Chicago Manual of Style, 17th ed., copyright page
        ("978-0-226-28705-8", "978-0-226-28705-8"),
        # Source: European Union, Interinstitutional Style Guide, 2011
        ("978-92-78-40701-8", "978-92-78-40701-8"),
        # Source: The One King Lear, 2016
        ("978-0-674-50484-4", "978-0-674-50484-4"),
        # Source: NISO, ANSI/NISO Z39.48-1992, its own imprint
        ("1-880124-00-9", "1-880124-00-9"),
        # Source: U.S. ISBN Agency, an ISBN that ends in X
        ("0-937383-18-X", "0-937383-18-X"),
    ],
)
def test_a_valid_isbn_is_hyphenated(typed: str, printed: str) -> None:
    assert read_isbn(typed).printed == printed
    assert read_isbn(typed.replace("-", "")).printed == printed


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        # Source: truevue.org, "ISBN-13": the check digit is 7
        ("978-0-306-40615-8", "the last one should be 7"),
        # Source: Cambridge IGCSE Computer Science, p. 184, Fig. 9.9: the check digit is 9
        ("9780340983824", "the last one should be 9"),
        # Source: liquisearch copy of Wikipedia, ISBN-13 check digit: "A 10 is replaced by a 0"
        ("978-3-16-148410-5", "the last one should be 0"),
        # Source: python-stdnum, stdnum/isbn.py doctest
        ("978-9024538271", "the last one should be 0"),
        # Source: python-stdnum, tests/test_isbn.doctest: X never ends an ISBN-13
        ("978-902453827X", "is no ISBN"),
        ("85152-629-1", "the last one should be 2"),
        # Source: U.S. ISBN Agency, an ISBN that ends in X
        ("0-937383-18-1", "the last one should be X"),
        ("no number", "is no ISBN"),
        ("", "is no ISBN"),
        # common practice, no source: a music number is no ISBN of a book's prefix
        ("977-0-306-40615-0", "is no ISBN"),
    ],
)
def test_what_is_no_isbn_is_refused_with_the_reason(typed: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        read_isbn(typed)
    assert as_printed(typed) == typed


def test_ten_signs_and_thirteen_are_one_number() -> None:
    """Source: python-stdnum, stdnum/isbn.py doctest: 1-85798-218-5 is 978-1-85798-218-3."""
    assert read_isbn("1-85798-218-5").number == read_isbn("978-1-85798-218-3").number


def test_parts_that_the_ranges_do_not_know() -> None:
    """Source: python-stdnum, stdnum/isbn.py: split('9024538270'); unknown registrant 99996;
    979-20-… has no group."""
    assert stdnum_isbn.split("9024538270") == ("", "90", "245", "3827", "0")
    assert stdnum_isbn.split("9999678270") == ("", "99996", "", "7827", "0")
    assert stdnum_isbn.split("9792012345675")[1] == ""
    assert read_isbn("9999678270").printed == "99996-7827-0"
    assert read_isbn("9792012345675").printed == "979-201234567-5"


@pytest.mark.parametrize(
    ("group", "registrant"),
    [
        *(("0", r) for r in ("00", "19", "200", "699", "7000", "8499", "85000", "89999")),
        *(("0", r) for r in ("900000", "949999", "9500000", "9999999")),
        *(("3", r) for r in ("00", "02", "030", "033", "0340", "0369", "03700", "03999", "04")),
        ("3", "19"),
    ],
)
def test_publishers_at_the_ends_of_their_ranges(group: str, registrant: str) -> None:
    """Source: python-stdnum stdnum/isbn.dat, from RangeMessage.xml of 19 June 2014."""
    digits = f"978{group}{registrant}".ljust(12, "1")
    assert stdnum_isbn.split(f"{digits}0")[2] == registrant


def test_the_word_isbn_precedes_the_number() -> None:
    """Source: U.S. ISBN Agency, "major" page: "it must be preceded by the letters "ISBN"", and
    "each part must be separated by a hyphen"."""
    text = "ISBN 978-0-306-40615-7\nISBN-13: 978‑0‑226‑28705‑8 (cloth)\nISBN (cloth): 0-937383-18-X"
    assert [read_isbn(found).number for found in isbns_in(text)] == [
        "9780306406157",
        "9780226287058",
        "9780937383186",
    ]
    assert isbns_in("978-0-306-40615-7") == ()


def test_a_wrong_number_after_the_word_is_found_too() -> None:
    assert isbns_in("ISBN 978-0-306-40615-8\n1 2 3 4 5") == ("978-0-306-40615-8",)
