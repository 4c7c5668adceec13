from __future__ import annotations

from dataclasses import replace

from fitter.trade.printing.comparison import Comparison, compare
from fitter.trade.printing.fingerprint import BookPrint, print_of
from fitter.trade.size import Size
from tests.trade.printed import chapter, set_in_type

CHAPTERS = [chapter(seed, 1400) for seed in range(6)]  # five pages each: the last one short
OLD = set_in_type(CHAPTERS)


def _kinds(found: Comparison, kind: str) -> list[int]:
    return [page.page for page in found.pages if page.kind == kind]


def _with(number: int, words: list[str]) -> BookPrint:
    return set_in_type([*CHAPTERS[:number], words, *CHAPTERS[number + 1 :]])


def test_the_same_book_is_the_same() -> None:
    found = compare(OLD, OLD)
    assert _kinds(found, "same") == list(range(1, 31))
    assert (found.movements, found.gone) == ((), ())


def test_one_word_changed_is_found_on_its_page_alone() -> None:
    words = [*CHAPTERS[1]]
    words[400] = "misprint"  # second page of the second chapter: page 7
    found = compare(OLD, _with(1, words))
    assert _kinds(found, "corrected") == [7]
    assert len(_kinds(found, "same")) == 29
    assert next(page for page in found.pages if page.page == 7).changed_words == 1


def test_words_lost_count_as_changed() -> None:
    words = CHAPTERS[1][:-3]
    (page,) = compare(OLD, _with(1, words)).of_kind("corrected")
    assert (page.page, page.changed_words) == (10, 3)


def test_a_paragraph_put_in_moves_text_until_the_chapter_ends() -> None:
    """Eighty words are eight lines here: they move on and settle where the next chapter begins."""
    words = CHAPTERS[1][:350] + chapter(99, 80) + CHAPTERS[1][350:]
    found = compare(OLD, _with(1, words))
    assert _kinds(found, "reset") == [7, 8, 9, 10]
    (moved,) = found.movements
    assert (moved.first, moved.last, moved.settled) == (8, 10, 11)
    assert (moved.words, moved.lines) == (80, 8)


def test_text_taken_out_moves_back() -> None:
    words = CHAPTERS[1][:350] + CHAPTERS[1][410:]
    (moved,) = compare(OLD, _with(1, words)).movements
    assert (moved.words, moved.lines, moved.settled) == (-60, 6, 11)


def test_movement_to_the_end_of_the_book_never_settles() -> None:
    words = CHAPTERS[5][:10] + chapter(99, 40) + CHAPTERS[5][10:]
    (moved,) = compare(OLD, _with(5, words)).movements
    assert moved.settled is None


def test_a_chapter_put_in_is_new_and_moves_nothing_else() -> None:
    found = compare(OLD, set_in_type([*CHAPTERS[:3], chapter(99, 700), *CHAPTERS[3:]]))
    assert _kinds(found, "new") == [16, 17, 18]
    assert _kinds(found, "reset") == []
    assert found.pages[18].old_page == 16
    assert found.movements == ()


def test_a_chapter_taken_out_is_gone() -> None:
    found = compare(OLD, set_in_type([*CHAPTERS[:3], *CHAPTERS[4:]]))
    assert found.gone == (16, 17, 18, 19, 20)
    assert _kinds(found, "same") == list(range(1, 26))


def test_chapters_that_changed_places_are_the_same_pages() -> None:
    order = [0, 1, 3, 2, 4, 5]
    found = compare(OLD, set_in_type([CHAPTERS[n] for n in order]))
    assert _kinds(found, "same") == list(range(1, 31))
    assert [page.old_page for page in found.pages[10:20]] == [*range(16, 21), *range(11, 16)]


def test_a_blank_page_put_in_is_no_new_text() -> None:
    pages = (*OLD.pages[:10], print_of([]), *OLD.pages[10:])
    found = compare(OLD, BookPrint(OLD.trim, pages))
    assert found.pages[10].empty
    assert found.of_kind("new") == ()


def test_another_picture_under_the_same_words_is_a_correction() -> None:
    pages = list(OLD.pages)
    pages[4] = replace(pages[4], picture="0" * 64)
    redrawn = [*pages]
    redrawn[4] = replace(pages[4], picture="f" * 64)
    found = compare(BookPrint(OLD.trim, tuple(pages)), BookPrint(OLD.trim, tuple(redrawn)))
    assert _kinds(found, "corrected") == [5]


def test_the_imprint_page_is_left_out_of_the_kinds() -> None:
    def with_imprint(key: str) -> BookPrint:
        imprint = print_of(["First edition 2026", key], role="imprint")
        return BookPrint(OLD.trim, (imprint, *OLD.pages))

    found = compare(with_imprint("1 2 3 4 5"), with_imprint("2 3 4 5"))
    assert found.pages[0].kind == "corrected"
    assert found.of_kind("corrected") == ()


def test_fillers_may_come_and_go() -> None:
    notes, titles = (print_of([f"{word} of the walk"], role="filler") for word in ("notes", "list"))
    found = compare(
        BookPrint(OLD.trim, (*OLD.pages, notes)), BookPrint(OLD.trim, (*OLD.pages, titles, titles))
    )
    assert (found.of_kind("new"), found.gone) == ((), ())
    assert [page.role for page in found.pages[-2:]] == ["filler", "filler"]


def test_trims_and_extents_are_told() -> None:
    found = compare(OLD, set_in_type(CHAPTERS[:5], Size(120, 190)))
    assert (found.old_extent, found.new_extent) == (30, 25)
    assert (str(found.old_trim), str(found.new_trim)) == ("129 × 198 mm", "120 × 190 mm")


def test_marked_blanks_and_pictures_are_told_apart_by_what_stands_around_them() -> None:
    mark = print_of(["This page is left blank on purpose."])
    plates = [print_of([], picture=f"{(1 << 80) - 1 << 80 * n:064x}") for n in range(3)]
    old = [*OLD.pages[:5], mark, plates[0], *OLD.pages[5:10], mark, plates[1], print_of([])]
    words = [*CHAPTERS[0]]
    words[1350] = "misprint"
    changed = set_in_type([words]).pages
    new = [*changed, mark, plates[0], *OLD.pages[5:10], mark, plates[2], print_of([])]
    found = compare(BookPrint(OLD.trim, tuple(old)), BookPrint(OLD.trim, tuple(new)))
    assert _kinds(found, "corrected") == [5, 14]
    assert _kinds(found, "new") == []


def test_a_long_book_with_a_blank_page_behind_every_other_is_no_burden() -> None:
    one, other = (
        BookPrint(OLD.trim, tuple(page for text in pages for page in (text, print_of([]))))
        for pages in (
            set_in_type([chapter(seed, 300) for seed in range(start, start + 1000)]).pages
            for start in (0, 5000)
        )
    )
    found = compare(one, other)
    assert len(found.of_kind("new")) == 1000
    assert sum(page.empty and page.kind == "same" for page in found.pages) == 1000
