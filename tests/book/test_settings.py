"""What `settings:` of book.yaml may say, and what is said about the rest."""

from __future__ import annotations

import pytest

from fitter.book.loader import load_book
from fitter.errors import BadInput
from fitter.trade.tighten.settings import Setting
from tests.conftest import BookFolder


def allowed(book: BookFolder, settings: str) -> tuple[Setting, ...]:
    book.write("book.tex", "").write("book.yaml", f"source: book.tex\nsettings:\n{settings}")
    return load_book(book.folder).settings.allowed


def test_settings_as_a_designer_writes_them(book_folder: BookFolder) -> None:
    assert allowed(
        book_folder,
        "  leading:     {values: [1.00, 0.99, 0.98], default: 1.00, dislike: 2}\n"
        "  text-height: {values: [0, 1], unit: lines, dislike: 1}\n"
        "  measure:     {values: [wide, narrow]}\n",
    ) == (
        Setting("leading", ("0.98", "0.99", "1"), 2, 2, ""),
        Setting("text-height", ("0", "1"), 0, 1, "lines"),
        Setting("measure", ("wide", "narrow"), 0, 1, "", words=True),
    )


def test_numbers_stand_in_rising_order_with_the_default_between(book_folder: BookFolder) -> None:
    (setting,) = allowed(book_folder, "  tracking: {values: [0, -5, 5, -2.50]}\n")
    assert setting.values == ("-5", "-2.5", "0", "5")
    assert [setting.cost(i) for i in range(4)] == [2, 1, 0, 1]


@pytest.mark.parametrize(
    ("entry", "sentence"),
    [
        ("{values: 3}", "'values' is a list of two values or more"),
        ("{values: [3]}", "'values' is a list of two values or more"),
        ("{values: [1, tight]}", "'values' mixes numbers and words; give one kind"),
        ("{values: [1, 2], default: 3}", "the default 3 is none of the values 1, 2"),
        ("{values: [1, 2], dislik: 3}", "unknown key 'dislik'. Did you mean 'dislike'?"),
        ("{values: [1, 2], dislike: -1}", "'dislike' is 0 or more, not -1"),
        ("{values: [1, 2], dislike: much}", "'dislike' should be"),
        ("{values: [true, 2]}", "a value is a number or one word, not True"),
        ("{values: [1, 1.0]}", "'values' has 1 twice"),
        ("{values: [.nan, 1]}", "a value is a number or one word, not nan"),
        ("{values: [.inf, 1]}", "a value is a number or one word, not inf"),
        ("{values: [a, '\\x']}", "the value '\\x' has more in it than one word"),
        ("{values: [a, 'b c']}", "the value 'b c' has more in it than one word"),
        ("{default: 1}", "the key 'values' is missing"),
    ],
)
def test_a_wrong_value_is_told_with_its_line(
    book_folder: BookFolder, entry: str, sentence: str
) -> None:
    with pytest.raises(BadInput) as raised:
        allowed(book_folder, f"  leading: {entry}\n")
    (told,) = raised.value.sentences
    assert told.startswith("book.yaml:3: ")
    assert sentence in told


def test_more_combinations_than_anyone_could_try_are_refused(book_folder: BookFolder) -> None:
    values = ", ".join(map(str, range(20)))
    with pytest.raises(BadInput, match="160000 ways"):
        allowed(book_folder, "".join(f"  s{i}: {{values: [{values}]}}\n" for i in range(4)))
