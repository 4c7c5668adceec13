"""Contradictions in a catalogue."""

import pytest

from fitter.errors import BadInput
from fitter.trade.fill.catalogue import catalogue_faults
from fitter.trade.fill.choose import Filler
from fitter.trade.fold.gatherings import Binding
from fitter.trade.plan import Draft, make_plan


@pytest.mark.parametrize(
    ("fillers", "place", "said"),
    [
        ([Filler("a"), Filler("a")], (1, "id"), "'a' is used twice"),
        ([Filler("a", needs=("b",))], (0, "needs"), "'a' needs 'b', and there is no such filler"),
        (
            [Filler("a", excludes=("b",))],
            (0, "excludes"),
            "'a' excludes 'b', and there is no such filler",
        ),
        ([Filler("a", excludes=("a",))], (0, "excludes"), "'a' excludes itself"),
        ([Filler("b"), Filler("a", needs=("a",))], (1, "needs"), "'a' needs itself"),
        (
            [Filler("a", needs=("b",), excludes=("b",)), Filler("b")],
            (0, "excludes"),
            "both needs and excludes 'b'",
        ),
        ([Filler("a", counts=())], (0, "pages"), "'a' takes no pages"),
        ([Filler("a", counts=(0, 1))], (0, "pages"), "'a' takes no pages"),
        (
            [
                Filler("a", required=True, needs=("b",)),
                Filler("b", excludes=("c",)),
                Filler("c", required=True),
            ],
            (1, "excludes"),
            "yet 'b' excludes 'c'",
        ),
    ],
)
def test_contradictions_in_a_catalogue(fillers, place, said):
    [fault] = catalogue_faults(fillers)
    assert (fault.entry, fault.key) == place
    assert said in fault.said
    assert fault.remedy.endswith(".")


def test_a_catalogue_without_faults():
    good = [Filler("a", needs=("b",)), Filler("b", excludes=("c",)), Filler("c")]
    assert catalogue_faults(good) == []


def test_what_cannot_be_judged_is_no_unknown_id():
    assert catalogue_faults([Filler("a", needs=("b",), required=True)], ["b"]) == []


def test_no_plan_is_made_from_a_contradiction():
    with pytest.raises(BadInput, match=r"The catalogue: 'a' needs itself\. Take that out\."):
        make_plan(Binding(), [Filler("a", needs=("a",))], Draft(13, None, 14), 2)
