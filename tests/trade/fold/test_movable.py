from fitter.trade.fold.gatherings import Binding, smallest
from fitter.trade.fold.movable import Matter, savings

BIO = Matter("about-the-author", 2, "elsewhere")
HALF_TITLE = Matter("half-title", 2, "prelims")
VERSOS = Matter("blank versos", 2, "blank-versos")
INDEX = Matter("index", 3, "end-matter")


def fold(pages):
    return smallest(Binding("sewn", (16,)), pages)


def test_a_biography_on_the_jacket_saves_a_gathering():
    [saving] = savings([BIO], 290, fold)
    assert saving.matter == (BIO,)
    assert (saving.before.extent, saving.after.extent) == (304, 288)
    assert saving.pages == 16


def test_nothing_is_told_where_nothing_is_saved():
    assert savings([BIO, HALF_TITLE], 300, fold) == []
    assert savings([], 290, fold) == []


def test_each_piece_that_is_enough_alone():
    found = savings([HALF_TITLE, BIO, INDEX], 290, fold)
    assert [saving.matter for saving in found] == [(BIO,), (HALF_TITLE,), (INDEX,)]


def test_together_in_the_order_of_remedies():
    # Source: New Hart's Rules, ch. 1 sect. 1.8: first the prelims, blank versos among them, and
    # the end matter after that
    [saving] = savings([INDEX, HALF_TITLE, VERSOS], 292, fold)
    assert saving.matter == (VERSOS, HALF_TITLE)
    [saving] = savings([INDEX, HALF_TITLE, VERSOS], 295, fold)
    assert saving.matter == (VERSOS, HALF_TITLE, INDEX)


def test_a_book_of_nothing_else_keeps_its_matter():
    assert savings([HALF_TITLE], 2, fold) == []
