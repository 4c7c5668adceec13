"""The size of a page."""

from fitter.trade.size import MM_PER_POINT, Size


def test_a_size_is_told_in_mm():
    assert str(Size(129, 198)) == "129 × 198 mm"
    assert str(Size(152.4, 228.6)) == "152.4 × 228.6 mm"


def test_72_points_are_an_inch():
    # Source for 72 units to the inch: ISO 32000-1, 8.3.2.3 (from memory)
    assert round(72 * MM_PER_POINT, 9) == 25.4
