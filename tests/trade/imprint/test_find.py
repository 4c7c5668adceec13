from __future__ import annotations

from fitter.trade.imprint.find import candidates, imprint_page, key_lines

IMPRINT = """Wetherlode Press, Ansey
© 2026 Elin Tarrowby
All rights reserved.
First edition 2026
ISBN 978-1-234-56789-7
1 2 3 4 5 6 7 8 9 10
VQ
30 29 28 27 26
"""


def test_the_page_that_says_most_of_it() -> None:
    pages = {
        1: "The Far End of the Walk",
        3: "For the spinners",
        4: IMPRINT,
        5: "Contents\n1\n2\n3",
    }
    assert imprint_page(pages) == 4


def test_a_page_with_nothing_but_a_key_will_do() -> None:
    assert imprint_page({1: "Title", 2: "1 2 3 4 5 6 7 8 9 10"}) == 2


def test_a_book_without_an_imprint_page_has_none() -> None:
    assert imprint_page({1: "Title", 2: "Every book has an ISBN, she said, and a price."}) is None


def test_it_stands_near_either_end() -> None:
    assert list(candidates(3)) == [1, 2, 3]
    assert list(candidates(100)) == [*range(1, 17), *range(97, 101)]


def test_a_key_that_comes_in_three_lines_is_one_key() -> None:
    assert key_lines(IMPRINT) == ("1 2 3 4 5 6 7 8 9 10\nVQ\n30 29 28 27 26",)


def test_an_isbn_is_no_key() -> None:
    assert key_lines("ISBN 978-1-234-56789-7\n978-1-234-56789-7") == ()
