import xml.etree.ElementTree as ET

from fitter.reports.onix import NAMESPACE, onix_fragment
from fitter.trade.facts.extents import Parts, onix_extents

# Source: EDItEUR ONIX code lists 23 and 24, the codes that count pages of a printed book
LIST_23 = {"00", "03", "04", "05", "06", "07", "11", "12"}
LIST_24_PAGES = "03"


def read(text):
    extents = ET.fromstring(text).findall(f"{{{NAMESPACE}}}Extent")
    return [[child.text for child in extent] for extent in extents]


def test_the_fragment_is_well_formed_and_uses_listed_codes():
    fragment = onix_fragment(onix_extents(Parts(280, 12, 7, 8), 304))
    found = read(fragment)
    assert {code for code, _, _ in found} <= LIST_23
    assert {unit for _, _, unit in found} == {LIST_24_PAGES}
    assert [(code, pages) for code, pages, _ in found] == [
        ("00", "280"),
        ("03", "12"),
        ("04", "7"),
        ("05", "299"),
        ("06", "312"),
        ("11", "307"),
        ("12", "8"),
    ]


def test_each_extent_has_type_value_and_unit_in_this_order():
    root = ET.fromstring(onix_fragment(onix_extents(Parts(299), 304)))
    assert root.tag == f"{{{NAMESPACE}}}DescriptiveDetail"
    for extent in root:
        assert [child.tag.partition("}")[2] for child in extent] == [
            "ExtentType",
            "ExtentValue",
            "ExtentUnit",
        ]


def test_counts_of_nothing_are_left_out():
    assert [code for code, _, _ in read(onix_fragment(onix_extents(Parts(299), 304)))] == [
        "00",
        "05",
        "06",
        "11",
    ]


def test_front_matter_that_is_not_known_is_left_out():
    found = read(onix_fragment(onix_extents(Parts(299, None), 304)))
    assert [code for code, _, _ in found] == ["05", "06", "11"]


def test_the_caution_stands_in_it():
    fragment = onix_fragment(onix_extents(Parts(299), 304))
    assert "printer, binder and publisher have the last word" in fragment
