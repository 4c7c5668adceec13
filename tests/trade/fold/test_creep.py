from fractions import Fraction

from fitter.trade.fold.creep import MODEL, creep_mm


def test_sixty_four_pages_of_a_tenth_of_a_millimetre():
    # own arithmetic on the model: no published worked example was found
    creep = creep_mm(64, Fraction("0.1"))
    assert len(creep) == 16
    assert creep[0] == 0
    assert creep[-1] == Fraction("1.5")


def test_creep_grows_from_the_outside_to_the_centre():
    # Source: PrintWiki, "Shingling"; Cowie's Printer's Pocket-Book, p. 31 note
    creep = creep_mm(48, Fraction("0.12"))
    assert list(creep) == sorted(creep)


def test_it_says_that_it_is_a_model():
    # Source: Santhi Printing weblog, "Alphabet S/6", item 28: there is no specific formula
    assert "no agreed formula" in MODEL
