from fractions import Fraction

import pytest

from fitter.book.quantities import (
    read_caliper,
    read_grammage,
    read_money,
    read_ppi,
    read_share,
    read_spine_allowance,
    read_volume,
)


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (read_grammage, "80 g/m2", "80"),
        (read_grammage, "80 g/m²", "80"),
        (read_grammage, "80gsm", "80"),
        (read_grammage, " 90.5  gsm ", "90.5"),
        (read_caliper, "0.144 mm", "0.144"),
        (read_caliper, "144 µm", "0.144"),
        (read_caliper, "0.004 in", "0.1016"),
        (read_caliper, "4 mil", "0.1016"),
        (read_volume, "1.8 cm3/g", "1.8"),
        (read_volume, "V18", "1.8"),
        (read_ppi, 352, "352"),
        (read_ppi, "352 ppi", "352"),
        (read_spine_allowance, "4 mm", "4"),
        (read_spine_allowance, "0.25 in", "6.35"),
        (read_spine_allowance, "0 mm", "0"),
        (read_share, "3 %", "0.03"),
        (read_share, "0%", "0"),
        (read_money, 1.1, "1.1"),
        (read_money, 120, "120"),
        (read_money, 1e-05, "0.00001"),
    ],
)
def test_units_are_read(read, text, value):
    assert read(text) == Fraction(value)


def test_pounds_of_cover_are_heavier_than_of_book():
    # Source: Roberts & Etherington, s.v. basis weight: cover 20 x 26 in, book 25 x 38 in
    cover, book = read_grammage("60 lb cover"), read_grammage("60 lb book")
    assert cover / book == Fraction(25 * 38, 20 * 26)


@pytest.mark.parametrize(
    ("read", "text", "said"),
    [
        (read_grammage, 80, "reads like 80 g/m2"),
        (read_grammage, "60 lb", "does not say of which basis size"),
        (read_grammage, "60 lb bond", "does not say of which basis size"),
        (read_grammage, "80 mm", "reads like 80 g/m2"),
        (read_grammage, "0 gsm", "must be more than 0"),
        (read_grammage, "-80 gsm", "must be more than 0"),
        (read_grammage, "heavy", "not understood"),
        (read_caliper, 0.144, "reads like 0.144 mm"),
        (read_caliper, "0.144 gsm", "reads like 0.144 mm"),
        (read_caliper, "4 mm", "check the unit"),
        (read_spine_allowance, 4, "reads like 0.3 mm, 0.4 cm"),
        (read_spine_allowance, "4 in", "give 0 to 50 mm"),
        (read_spine_allowance, "-1 mm", "give 0 to 50 mm"),
        (read_volume, 1.8, "reads like 1.8 cm3/g or V18"),
        (read_volume, "18 cm3/g", "a factor of 18 is written V18"),
        (read_ppi, "352 mm", "read like 352"),
        (read_ppi, True, "not understood"),
        (read_share, 3, "say which with the sign"),
        (read_share, 0.03, "say which with the sign"),
        (read_share, "103 %", "between 0 % and 100 %"),
        (read_money, -1, "is below 0"),
        (read_money, "1.10 USD", "'currency' says of what"),
        (read_money, "nan", "not understood"),
        (read_money, float("inf"), "not understood"),
        (read_money, 1e300, "is a bare number"),
        (read_money, "1e999999999", "is a bare number"),
        (read_money, "9" * 5000, "not understood"),
        (read_grammage, "3000 g/m2", "is no paper"),
    ],
)
def test_what_is_not_said_is_not_guessed(read, text, said):
    with pytest.raises(ValueError, match=said):
        read(text)
