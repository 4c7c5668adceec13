from fractions import Fraction

from fitter.trade.facts.extents import Parts
from fitter.trade.facts.facts import Block, facts
from fitter.trade.fold.gatherings import Folding
from fitter.trade.paper import Paper

CREAM = Paper("cream-80", Fraction(80), Fraction("1.8"))
TEN = Folding((32,) * 10)
AREA = Fraction(129 * 198, 10**6)


def test_the_figures_of_a_sewn_book():
    found = facts(TEN, 318, Parts(318), Block("sewn", CREAM, AREA))
    # Source: dictionary of printing and publishing, s.v. bulk: 320 pages, 80 g, V18 (own
    # arithmetic: 23.04 mm)
    assert found.block_mm.value == found.spine_mm.value == Fraction("23.04")
    assert found.weight_g.value == 160 * AREA * 80
    assert (found.extent, found.leaves, found.collation) == (320, 160, "A-K16")
    assert found.onix["06"] == 320
    assert found.missing == ()


def test_what_cover_and_glue_add():
    found = facts(TEN, 318, Parts(318), Block("perfect", CREAM, AREA, Fraction("0.5")))
    assert found.spine_mm.value - found.block_mm.value == Fraction("0.5")
    assert "0.5 mm spine_allowance" in found.spine_mm.formula
    # Source for 5 %, of the caliper of a paper: Wausau Paper, "Shoptalk: Paper". A block has no
    # covers (Roberts & Etherington, s.v. bulk), so their allowance does not vary with its paper.
    # own arithmetic: 23.04 mm less and plus 1.152, and 0.5
    assert found.spine_range_mm == (Fraction("22.388"), Fraction("24.692"))


def test_a_stitched_book_has_creep_and_no_spine():
    found = facts(Folding((64,)), 62, Parts(62), Block("saddle", CREAM, AREA))
    assert found.spine_mm is None
    assert found.creep_mm[-1] == 15 * Fraction("0.144")
    assert "no spine" in found.missing[0]


def test_nothing_is_invented():
    found = facts(TEN, 318, Parts(318), Block("sewn", Paper("plain", Fraction(80)), None))
    assert found.spine_mm is found.block_mm is found.weight_g is None
    assert len(found.missing) == 2
    assert "'plain' does not say how thick" in found.missing[0]


def test_without_paper():
    found = facts(TEN, 318, Parts(318), Block())
    assert found.block_mm is None
    assert any("no paper is known" in sentence for sentence in found.missing)
