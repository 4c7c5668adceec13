from itertools import combinations_with_replacement
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from fitter.errors import CannotFit
from fitter.trade.fold.gatherings import (
    Binding,
    Folding,
    alternatives,
    left_over,
    size_faults,
    smallest,
)

CASES = yaml.safe_load(Path(__file__).parents[2].joinpath("cases/gatherings.yaml").read_text())


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['name']} ({case['source']})")
def test_what_a_book_folds_into(case):
    binding = Binding(
        case.get("style", "sewn"),
        tuple(case.get("sizes", ())),
        tuple(case.get("short", ())),
        case.get("at_most", 1),
    )
    folding = smallest(binding, case["pages"])
    assert len(folding.gatherings) == case["count"]
    assert folding.extent == case["extent"]
    assert folding.extent - case["pages"] == case["over"]
    last = case.get("last", [])
    assert list(folding.gatherings[-len(last) :]) == last or not last


@pytest.mark.parametrize(
    ("pages", "gathering", "over"),
    [
        (318, 32, 2),  # Source: Wikipedia, "Intentionally blank page", sect. Uses
        (258, 16, 14),  # Source: Wikipedia, "Even working"
        (6, 8, 2),  # Source: W. Savage, A Dictionary of the Art of Printing, s.v. Imposing
        (250, 32, 6),  # Source: "LDS Publisher" weblog, "Signatures", June 2007
        (77, 4, 3),  # Source: Wikipedia, "Intentionally blank page", caption
        (3, 8, 5),  # Source: Straight Dope board, thread 220312 (weak)
        (299, 4, 1),  # common practice, no source
        (299, 32, 21),  # common practice, no source
        (299, 16, 5),
        (304, 16, 0),
    ],
)
def test_left_over(pages, gathering, over):
    assert left_over(pages, gathering=gathering) == over


def test_the_ladder_of_extents_in_sixteens():
    # Source: "Count the Pages", Cook the Book weblog
    ladder = [32, 48, 64, 80, 96, 112, 128, 144]
    steps = {smallest(Binding("sewn", (16,)), pages).extent for pages in range(17, 145)}
    assert sorted(steps) == ladder


@pytest.mark.parametrize("size", [4, 8, 16, 32, 64])
def test_sizes_a_gathering_may_have(size):
    # Source: New Hart's Rules, ch. 1 sect. 1.8
    assert size_faults(Binding("sewn", (size,))) == []


@pytest.mark.parametrize("size", [8, 12, 16, 24, 32])
def test_sizes_of_folded_units(size):
    # Source: U.S. GPO Style Manual 2008, rule 1.15
    assert size_faults(Binding("sewn", (size,))) == []


@pytest.mark.parametrize("size", [16, 24, 32])
def test_a_section_of_one_and_a_half_or_two_sheets(size):
    # Source: Roberts & Etherington, Bookbinding and the Conservation of Books, s.v. section: it
    # may consist of 1 1/2 or 2 sheets (sheets of 16 pages here)
    assert size_faults(Binding("sewn", (size,))) == []
    assert smallest(Binding("sewn", (size,)), size).gatherings == (size,)


@pytest.mark.parametrize(
    ("binding", "field", "said"),
    [
        (Binding("sewn", (6,)), "sizes", "6 pages cannot be folded for a sewn book: use"),
        (Binding("sewn", (16, 68)), "sizes", "a gathering of 68 pages"),
        (Binding("sewn", (0,)), "sizes", "a gathering of 0 pages"),
        (Binding("sewn", (16,), (-4,)), "short", "a gathering of -4 pages"),
        (Binding("cut-sheet", (3,)), "sizes", "use a multiple of 2 from 2 to 64"),
        (Binding("sewn", (16,), (16,)), "short", "no short gathering is smaller"),
        (Binding("saddle", (4,), (4,)), "short", "a saddle book has no short gatherings"),
        (Binding("sewn", (16,), (8,), -1), "short_at_most", "short_at_most is -1"),
        (Binding("glued", (16,)), "style", "sewn, perfect, saddle, cut-sheet"),
    ],
)
def test_sizes_that_cannot_be_folded(binding, field, said):
    [(found, sentence)] = size_faults(binding)
    assert found == field
    assert said in sentence


def test_a_leaf_is_enough_for_single_leaves():
    assert size_faults(Binding("cut-sheet", (2,))) == []
    assert smallest(Binding("cut-sheet"), 5).gatherings == (2, 2, 2)


def test_without_sizes_the_usual_ones():
    assert smallest(Binding("perfect"), 299).gathering == 16
    assert smallest(Binding("saddle"), 37).gatherings == (40,)


def test_saddle_sheets_that_fold_to_eight():
    assert smallest(Binding("saddle", (8,)), 36) == Folding((40,), 8, (8,) * 5)
    assert smallest(Binding("saddle", (8, 4)), 36).extent == 36


def test_a_stitched_book_is_the_same_only_when_its_sheets_are():
    eights, mixed = Folding((16,), 8, (8, 8)), Folding((16,), 8, (8, 4, 4))
    assert smallest(Binding("saddle", (8,)), 13).is_same_as(eights)
    assert not eights.is_same_as(mixed)
    assert Folding((16, 16)).is_same_as(Folding((16, 16), 16))


@pytest.mark.parametrize("pages", [0, -3])
def test_nothing_to_fold(pages):
    with pytest.raises(CannotFit, match="nothing to fold"):
        smallest(Binding("sewn", (16,)), pages)


def test_the_table_of_alternatives():
    found = alternatives(Binding("sewn", (16,), (8,)), 299)
    assert [(way.gathering, way.extent, len(way.gatherings)) for way in found] == [
        (4, 300, 75),
        (8, 304, 38),
        (16, 304, 19),
        (32, 320, 10),
    ]


def test_the_table_shows_short_gatherings_where_they_save_pages():
    found = alternatives(Binding("sewn", (32, 24), (8,)), 290)
    assert [(way.gathering, way.extent) for way in found if way.gathering >= 24] == [
        (24, 312),
        (24, 296),
        (32, 320),
        (32, 296),
    ]


def test_the_table_of_single_leaves_and_of_plain_sizes():
    assert [way.extent for way in alternatives(Binding("cut-sheet"), 299)] == [300]
    assert [way.gathering for way in alternatives([12], 20)] == [4, 8, 12, 16, 32]


SIZES = st.sampled_from([4, 8, 12, 16, 24, 32, 64])
BINDINGS = st.builds(
    Binding,
    st.just("sewn"),
    st.lists(SIZES, min_size=1, max_size=3).map(tuple),
    st.lists(SIZES, max_size=3).map(tuple),
    st.integers(0, 3),
)


@given(BINDINGS, st.integers(1, 400))
def test_no_other_way_is_smaller_or_has_fewer_gatherings(binding, pages):
    folding = smallest(binding, pages)
    assert (folding.extent, len(folding.gatherings)) == min(every_way(binding, pages))


def every_way(binding, pages):
    for size in binding.sizes:
        allowed = [short for short in binding.short if short < size]
        for many in range(binding.short_at_most + 1):
            for shorts in combinations_with_replacement(allowed, many):
                for regular in range(pages // size + 2):
                    extent = regular * size + sum(shorts)
                    if extent >= pages:
                        yield extent, regular + many


@given(BINDINGS, st.integers(1, 400))
def test_short_ones_stand_last_and_are_not_too_many(binding, pages):
    folding = smallest(binding, pages)
    shorts = [size for size in folding.gatherings if size != folding.gathering]
    assert len(shorts) <= binding.short_at_most
    assert list(folding.gatherings) == sorted(folding.gatherings, reverse=True)
