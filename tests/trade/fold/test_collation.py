import re

from hypothesis import given
from hypothesis import strategies as st

from fitter.trade.fold.collation import ALPHABET, collation, letter


def read(formula):
    """Pages of each gathering, read from a formula by its own rules."""
    order = [f"{times}{char}" for times in ("", 2, 3, 4, 5, 6) for char in ALPHABET]
    found = []
    for run in formula.split():
        first, last, leaves = re.fullmatch(r"(\d?[A-Z])(?:-(\d?[A-Z]))?(\d+)", run).groups()
        many = order.index(last or first) - order.index(first) + 1
        assert order.index(first) == len(found)
        found += [2 * int(leaves)] * many
    return found


def test_a_four_and_thirteen_eights():
    # Source: D. Hinchen, "Considering Collation: Decoding the Formula (2)", The Beehive, Nov 2013
    gatherings = [8] + [16] * 13
    assert collation(gatherings) == "A4 B-O8"
    assert sum(gatherings) == 216 == 8 + 205 + 3
    assert sum(read("A4 B-O8")) // 2 == 108


def test_five_quarto_sheets():
    # Source: Comedias Sueltas USA, glossary, "collation": 5 gatherings, 20 leaves, pp. 1-40
    assert collation([8] * 5) == "A-E4"
    assert sum(read("A-E4")) == 40


def test_twenty_three_letters_without_j_u_w():
    # Source: D. Hinchen, as above
    assert len(ALPHABET) == 23
    assert not set("JUW") & set(ALPHABET)
    named = [letter(number) for number in (8, 9, 19, 20, 22, 23, 46)]
    assert named == ["I", "K", "V", "X", "Z", "2A", "3A"]


def test_mixed_gatherings_in_the_order_of_the_book():
    assert collation([32] * 9 + [16, 8]) == "A-I16 K8 L4"
    assert collation([32] * 9 + [8, 16]) == "A-I16 K4 L8"


def test_single_leaves_have_no_letters():
    assert collation([2] * 150) == "150 single leaves"


@given(st.lists(st.sampled_from([4, 8, 16, 32, 64]), min_size=1, max_size=100))
def test_a_formula_can_be_read_back(gatherings):
    assert read(collation(gatherings)) == gatherings
