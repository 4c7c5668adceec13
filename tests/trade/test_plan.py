"""The plan of a book: what is told where nothing fits."""

import pytest

from fitter.errors import CannotFit
from fitter.trade.fold.bindery import Unpriced
from fitter.trade.fold.gatherings import Binding
from fitter.trade.fold.printer import Printer
from fitter.trade.plan import Draft, make_plan

SIXTEENS = Binding("sewn", (16,))


@pytest.mark.parametrize(
    ("pages", "said"), [(1, "1 text page makes 16, and no"), (2, "2 text pages make 16, and no")]
)
def test_one_page_is_told_as_one(pages, said):
    assert make_plan(SIXTEENS, [], Draft(pages, None, pages + 1), 2).refusal.startswith(said)


def test_a_book_too_long_for_the_printer_is_no_plan():
    bindery = Unpriced(SIXTEENS, Printer((16,), greatest=8))
    with pytest.raises(CannotFit, match=r"^1 page makes 16, and this printer binds at most 8"):
        make_plan(bindery, [], Draft(1, None, 2), 2)
