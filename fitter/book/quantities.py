"""Quantities of paper and money as people write them: the unit is read, and never guessed."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from fitter.trade.paper import INCH_MM

POUND_KG = Fraction("0.45359237")
REAM = 500
BASIS_IN2 = {"book": 25 * 38, "text": 25 * 38, "cover": 20 * 26}
WIDEST_MM = 50
HEAVIEST = 2000  # g/m2; common practice, no source
CALIPERS_MM = {
    "mm": Fraction(1),
    "µm": Fraction(1, 1000),
    "um": Fraction(1, 1000),
    "micron": Fraction(1, 1000),
    "microns": Fraction(1, 1000),
    "in": INCH_MM,
    "mil": INCH_MM / 1000,
    "mils": INCH_MM / 1000,
}
LENGTHS_MM = {**CALIPERS_MM, "cm": Fraction(10)}
GRAMMAGES = ("g/m2", "g/m²", "gsm")
VOLUMES = ("cm3/g", "cm³/g")
_QUANTITY = re.compile(r"\s*([+-]?\d{1,12}(?:\.\d{1,30})?(?:e-?\d\d)?)\s*([^\s\d.].*?)?\s*")


def read_grammage(value: Any) -> Fraction:
    """Grammage in g/m2 from `80 g/m2`, `80 gsm` or `60 lb book`. Raises ValueError.

    A pound says nothing without its basis size: book and text 25 x 38 in, cover 20 x 26 in, a ream
    of 500. Source for book and cover: Roberts & Etherington, s.v. basis weight; for text: common
    practice, no source.
    """
    number, unit = _split(value, "80 g/m2, 80 gsm or 54 lb book")
    if unit in GRAMMAGES:
        return _paper(number, value)
    weight, _, basis = unit.partition(" ")
    if weight in ("lb", "lbs") and basis in BASIS_IN2:
        ream_m2 = REAM * BASIS_IN2[basis] * (INCH_MM / 1000) ** 2
        return _paper(number * POUND_KG * 1000 / ream_m2, value)
    if weight in ("lb", "lbs"):
        raise ValueError(
            f"'{value}' does not say of which basis size: write 'lb book', 'lb text' or 'lb cover'"
        )
    raise ValueError(f"a grammage reads like 80 g/m2, 80 gsm or 54 lb book, not '{value}'")


def read_caliper(value: Any) -> Fraction:
    """The thickness of a leaf in mm from `0.144 mm`, `144 µm`, `5.7 mil` or `0.0057 in`."""
    number, unit = _split(value, "0.144 mm, 144 µm, 5.7 mil or 0.0057 in")
    if unit not in CALIPERS_MM:
        raise ValueError(f"a caliper reads like 0.144 mm, 144 µm or 5.7 mil, not '{value}'")
    thickness = _above_nothing(number * CALIPERS_MM[unit], value)
    if thickness > 2:
        raise ValueError(f"a leaf of {float(thickness):g} mm is no paper: check the unit")
    return thickness


def read_spine_allowance(value: Any) -> Fraction:
    """What cover and glue add to the spine, in mm, from `4 mm`, `0.4 cm` or `0.16 in`.

    Case boards add more than any leaf is thick. Raises ValueError below 0 and above 50 mm.
    """
    number, unit = _split(value, "0.3 mm, 0.4 cm or 0.16 in")
    if unit not in LENGTHS_MM:
        raise ValueError(f"a spine allowance reads like 0.3 mm, 0.4 cm or 0.16 in, not '{value}'")
    width = number * LENGTHS_MM[unit]
    if not 0 <= width <= WIDEST_MM:
        raise ValueError(
            f"a spine allowance of {float(width):g} mm is none: give 0 to {WIDEST_MM} mm"
        )
    return width


def read_volume(value: Any) -> Fraction:
    """Bulk in cm3/g from `1.8 cm3/g`, or from the volume factor `V18`, ten times that.

    Source for the factor: dictionary of printing and publishing, s.v. bulk (mm of 200 pages of
    100 g/m2).
    """
    factor = re.fullmatch(r"\s*[Vv]\s*(\d+(?:\.\d+)?)\s*", str(value))
    number, unit = (Fraction(factor[1]) / 10, "cm3/g") if factor else _split(value, "1.8 cm3/g")
    if unit not in VOLUMES:
        raise ValueError(f"a volume reads like 1.8 cm3/g or V18, not '{value}'")
    if not Fraction(1, 2) <= _above_nothing(number, value) <= 5:
        raise ValueError(
            f"a volume of {float(number):g} cm3/g is no paper: a factor of 18 is written V18"
        )
    return number


def read_ppi(value: Any) -> Fraction:
    """Pages per inch, a bare number or with `ppi`."""
    number, unit = _split(value, "352 or 352 ppi")
    if unit not in ("", "ppi"):
        raise ValueError(f"pages per inch read like 352 or 352 ppi, not '{value}'")
    return _above_nothing(number, value)


def read_share(value: Any) -> Fraction:
    """A part of one from `3 %` (the sign is needed)."""
    number, unit = _split(value, "3 %")
    if unit != "%":
        raise ValueError(f"a share reads like 3 %, not '{value}'; say which with the sign")
    if not 0 <= number <= 100:
        raise ValueError(f"'{value}' is no share: it lies between 0 % and 100 %")
    return number / 100


def read_money(value: Any) -> Fraction:
    """An amount in the currency of the file: a bare number, not below 0."""
    number, unit = _split(value, "1.10")
    if unit:
        raise ValueError(f"a price is a bare number, not '{value}': 'currency' says of what")
    if number < 0:
        raise ValueError(f"the price {value} is below 0; give 0 or more")
    return number


def _split(value: Any, example: str) -> tuple[Fraction, str]:
    match = None if isinstance(value, bool) else _QUANTITY.fullmatch(str(value))
    if not match:
        raise ValueError(f"'{value}' is not understood; write it like {example}")
    return Fraction(match[1]), " ".join((match[2] or "").split())


def _paper(grammage: Fraction, value: Any) -> Fraction:
    if grammage > HEAVIEST:
        raise ValueError(f"'{value}' is no paper: even board has less than {HEAVIEST} g/m2")
    return _above_nothing(grammage, value)


def _above_nothing(number: Fraction, value: Any) -> Fraction:
    if number <= 0:
        raise ValueError(f"'{value}' must be more than 0")
    return number
