from fractions import Fraction
from pathlib import Path

import pytest
import yaml

from fitter.book.printer import PaperEntry
from fitter.book.quantities import read_caliper, read_grammage
from fitter.errors import BadInput
from fitter.trade.paper import Figure, Paper, block_mm, leaf_mm, leaves, tolerance, weight_g

CASES = yaml.safe_load(Path(__file__).parents[1].joinpath("cases/paper.yaml").read_text("utf-8"))
A4 = Fraction(210 * 297, 10**6)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['name']} ({case['source']})")
def test_how_thick_a_block_is(case):
    keys = ("grammage", "volume", "caliper", "ppi")
    paper = PaperEntry(id="p", **{key: case[key] for key in keys if key in case}).paper
    assert float(block_mm(paper, case["pages"]).value) == pytest.approx(case["block_mm"])


def test_an_a4_leaf_of_80_grams():
    # Source: Wikipedia, "Grammage": a typical A4 sheet weighs 5 g (exactly 4.990, own arithmetic)
    leaf = weight_g(Paper("p", Fraction(80)), 2, A4)
    assert round(float(leaf.value), 3) == 4.990
    assert leaf.formula == "1 leaf x 0.06237 m2 x 80 g/m2"


def test_grammage_is_mass_by_area():
    # Source: IGT, laboratory testing page for ISO 536 / TAPPI T410
    grammage = Fraction("80.5")
    assert weight_g(Paper("p", grammage), 2, Fraction(1)).value == grammage


def test_density_is_grammage_by_caliper():
    # Source: Roberts & Etherington, s.v. apparent density
    paper = Paper("p", Fraction(80), volume=Fraction("1.8"))
    assert paper.grammage / leaf_mm(paper).value / 1000 == 1 / paper.volume


def test_caliper_may_differ_by_five_per_cent():
    # Source: Wausau Paper, "Shoptalk: Paper": 9.0 mil, 8.55 to 9.45
    nine = Figure(read_caliper("9.0 mil"), "")
    assert tolerance(nine) == (read_caliper("8.55 mil"), read_caliper("9.45 mil"))


@pytest.mark.parametrize(("pounds", "grams"), [(1, 1.4801), (50, 74.0), (60, 88.8)])
def test_pounds_of_book_paper(pounds, grams):
    # Source: Roberts & Etherington, s.v. basis weight: 25 x 38 in, ream of 500 (own arithmetic)
    assert float(read_grammage(f"{pounds} lb book")) == pytest.approx(grams, abs=0.05)


def test_fifty_pounds_run_500_to_550_pages_to_the_inch():
    # Source: Science Encyclopedia, "Paper - Paper weights"
    inch = Fraction("25.4")
    for ppi in (500, 550):
        leaf = leaf_mm(Paper("p", ppi=Fraction(ppi))).value
        assert float(leaf / inch) == pytest.approx(0.004, abs=0.0004)


def test_a_block_has_no_cover_and_counts_leaves():
    # Source: Roberts & Etherington, s.v. bulk: the gathered leaves before sewing
    paper = Paper("p", caliper_mm=Fraction("0.1"))
    assert block_mm(paper, 304).value == leaves(304) * Fraction("0.1")


def test_the_caliper_formula_says_that_single_sheets_measure_more():
    # Source: PrintWiki, "Bulking Number"
    assert "single sheets measure more" in leaf_mm(Paper("p", caliper_mm=Fraction("0.1"))).formula


@pytest.mark.parametrize("paper", [Paper("plain"), Paper("plain", Fraction(80))])
def test_a_thickness_that_is_not_said_is_not_invented(paper):
    with pytest.raises(BadInput, match="'plain' does not say how thick"):
        leaf_mm(paper)


def test_a_weight_that_is_not_said_is_not_invented():
    with pytest.raises(BadInput, match="does not say what it weighs"):
        weight_g(Paper("p", ppi=Fraction(352)), 2, A4)
