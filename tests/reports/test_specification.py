from fractions import Fraction

from fitter.reports.specification import Commission, escaped, specification
from fitter.trade.facts.extents import Parts
from fitter.trade.facts.facts import Block, facts
from fitter.trade.fold.gatherings import Folding
from fitter.trade.paper import Paper
from fitter.trade.size import Size

CREAM = Paper("cream-80", Fraction(80), Fraction("1.8"), price=Fraction("1.1"))
BLOCK = Block("sewn", CREAM, Fraction(129 * 198, 10**6))
COMMISSION = Commission("The *Ferry*", "N. N.", "978-1-234-56789-7", 2000, Size(129, 198), CREAM)


def test_one_page_with_all_a_printer_asks_for():
    page = specification(facts(Folding((32,) * 9 + (16,)), 299, Parts(299), BLOCK), COMMISSION)
    assert len(page.splitlines()) < 40
    for said in (
        "2,000",
        "129 × 198 mm",
        "304 pages, 152 leaves",
        "9 gatherings of 32, 1 of 16",
        "A-I16 K8",
        "cream-80, 80 g/m2, 1.8 cm3/g",
        "21.89 mm",
        "printer, binder and publisher have the last word",
    ):
        assert said in page


def test_a_title_is_text_and_no_markup():
    assert escaped("The *Ferry* [1]") == "The \\*Ferry\\* \\[1\\]"
    found = facts(Folding((16,)), 15, Parts(15), Block())
    assert specification(found, COMMISSION).startswith("# The \\*Ferry\\* – N. N.")


def test_what_is_not_known_is_said_to_be_so():
    page = specification(facts(Folding((16,)), 15, Parts(15), Block()), Commission())
    assert page.startswith("# Specification")
    assert "**Spine:** not known" in page


def test_the_spine_has_its_range():
    page = specification(facts(Folding((32,) * 9 + (16,)), 299, Parts(299), BLOCK), COMMISSION)
    [spine] = [line for line in page.splitlines() if "**Spine:**" in line]
    # Source: Wausau Paper, "Shoptalk: Paper": caliper may differ by 5 %; own arithmetic on 21.888
    assert spine.endswith("; from 20.8 to 23.0 mm, as paper may differ by 5 %")
    assert "²" not in page
    assert "³" not in page


def test_a_stitched_book_has_no_spine():
    block = Block("saddle", CREAM, Fraction(129 * 198, 10**6))
    page = specification(facts(Folding((64,), 16, (16,) * 4), 60, Parts(60), block), COMMISSION)
    assert "**Spine:** none: a stitched book has no spine to print on" in page
