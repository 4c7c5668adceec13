from __future__ import annotations

from collections import Counter

from fitter.trade.printing.overlap import Count, Overlap, most
from tests.trade.printed import chapter, set_in_type

CHAPTERS = [chapter(seed, 900) for seed in range(3)]  # three full pages each
OLD = set_in_type(CHAPTERS).pages


def test_equal_pages_share_all_their_words() -> None:
    overlap = Overlap.of(OLD, OLD)
    assert [stretch.equal for stretch in overlap.stretches] == [True]
    assert overlap.on_new == tuple(Counter({j: 300}) for j in range(9))
    assert overlap.fresh == overlap.lost == (Count(0, 0),) * 9


def test_text_on_another_page_is_told_by_page() -> None:
    words = [*CHAPTERS[1][:310], *chapter(99, 20), *CHAPTERS[1][310:]]
    new = set_in_type([CHAPTERS[0], words, CHAPTERS[2]]).pages
    overlap = Overlap.of(OLD, new)
    assert overlap.on_new[5] == Counter({5: 280, 4: 20})
    assert overlap.on_old[5] == Counter({5: 280, 6: 20})
    assert overlap.fresh[4] == Count(20, 0)


def test_numbers_are_counted_apart() -> None:
    def book(page: str, word: str) -> list[str]:
        return [*CHAPTERS[0][:100], "(see", f"p.{page},", page, word, *CHAPTERS[0][100:]]

    old, new = (set_in_type([words]).pages for words in (book("53", "so"), book("55", "but")))
    overlap = Overlap.of(old, new)
    assert overlap.fresh[0] == Count(2, 1)
    assert overlap.lost[0] == Count(2, 1)


def test_most() -> None:
    assert most(Counter({4: 2, 3: 2, 1: 1})) == 3
    assert most(Counter()) is None
