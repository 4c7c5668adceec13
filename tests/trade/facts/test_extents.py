from fitter.trade.facts.extents import MEANINGS, Parts, onix_extents

BOOK = Parts(main=280, front=12, back=7, inserts=8)


def test_numbered_pages_are_the_sum_of_three():
    # Source: EDItEUR ONIX code list 23, code 05: main content, front matter and back matter
    found = onix_extents(BOOK, 304)
    assert (found["00"], found["03"], found["04"]) == (280, 12, 7)
    assert found["05"] == 299 == found["00"] + found["03"] + found["04"]


def test_production_page_count_has_the_blanks_at_the_back():
    # Source: EDItEUR ONIX code list 23, code 06
    assert onix_extents(Parts(299), 304)["06"] == 304
    assert onix_extents(Parts(299), 304)["05"] == 299


def test_back_matter_leaves_out_what_only_fills():
    # Source: EDItEUR ONIX code list 23, code 04
    assert onix_extents(BOOK, 320)["04"] == onix_extents(BOOK, 304)["04"] == 7


def test_content_page_count_both_ways():
    # Source: EDItEUR ONIX code list 23, code 11: 00 + 03 + 04 + 12, also 05 + 12
    found = onix_extents(BOOK, 304)
    assert found["11"] == 307 == found["05"] + found["12"]
    assert found["11"] == found["00"] + found["03"] + found["04"] + found["12"]


def test_inserts_are_unnumbered():
    # Source: EDItEUR ONIX code list 23, code 12
    found = onix_extents(BOOK, 304)
    assert found["12"] == 8
    assert found["06"] == 312


def test_absolute_page_count_only_for_fixed_pages():
    # Source: EDItEUR ONIX code list 23, code 07
    assert "07" not in onix_extents(BOOK, 304)
    assert onix_extents(BOOK, 304, fixed_pages=308)["07"] == 308


def test_numbered_blanks_count_as_main_content():
    # Source: EDItEUR ONIX code list 23, code 00: numbered but otherwise blank pages
    assert onix_extents(Parts(main=280), 288)["00"] == 280
    assert set(onix_extents(BOOK, 304)) <= set(MEANINGS)


def test_without_front_matter_known_main_content_is_not_known_either():
    # Source: EDItEUR ONIX code list 23, codes 00, 03 and 05
    found = onix_extents(Parts(292, None, back=7, inserts=8), 304)
    assert (found["00"], found["03"]) == (None, None)
    assert (found["04"], found["05"], found["11"]) == (7, 299, 307)
