from __future__ import annotations

from fitter.trade.printing.fingerprint import Block, bodies, print_of, words_of


def _page(head: str, body: str, folio: str) -> list[Block]:
    return [Block(10, 14, (head,)), Block(20, 90, tuple(body.split("/"))), Block(95, 99, (folio,))]


def test_any_changed_sign_changes_the_digest() -> None:
    one, other = print_of(["A rope is twice laid."]), print_of(["A rope is twice laid,"])
    assert one.digest != other.digest
    assert one.words[:-1] == other.words[:-1]


def test_a_word_parted_at_the_end_of_a_line_is_the_same_word() -> None:
    assert words_of(["the rope-", "maker's walk"]) == words_of(["the ropemaker's walk"])


def test_each_sign_of_a_script_without_spaces_is_a_word() -> None:
    assert len(words_of(["縄をなう"])) == 4


def test_running_heads_and_folios_are_left_out() -> None:
    pages = [
        _page("14 The Far End", "It rained./All day.", ""),
        _page("The Far End 15", "Then it did not.", ""),
        _page("16 The Far End", "The rope held.", ""),
        _page("The Far End 17", "Nobody spoke.", ""),
        _page("18 The Far End", "Until noon.", ""),
        _page("The Far End 19", "Then all did.", ""),
    ]
    assert bodies(pages)[0] == ["It rained.", "All day."]
    assert bodies(pages)[1] == ["Then it did not."]


def test_a_folio_at_the_foot_is_left_out_and_a_lone_last_line_stays() -> None:
    pages = [
        _page(f"Beginning {letter}", f"Text {letter}.", str(n))
        for n, letter in enumerate("abcd", 7)
    ]
    assert bodies(pages)[2] == ["Beginning c", "Text c."]
    pages[2] = [Block(10, 14, ("and that was all.",))]
    assert bodies(pages)[2] == ["and that was all."]


def test_a_text_that_comes_on_several_pages_is_no_running_head() -> None:
    """One reader of PDFs gives a page of text as one block, another a block for each paragraph."""
    refrain = tuple(f"And so say all of us, line {line}." for line in "abcde")
    pages = [[Block(10, 80, refrain), Block(95, 99, (str(n),))] for n in range(1, 5)]
    assert bodies(pages)[3] == list(refrain)
