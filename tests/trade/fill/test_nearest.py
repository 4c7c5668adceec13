import random

import pytest

from fitter.trade.fill.choose import Filler, choose
from fitter.trade.fill.nearest import nearest, odd_in_front
from tests.calls import calls_of

PLACES = {"front_at": None, "back_at": 1, "end_at_most": 2}


def test_a_new_filler_of_the_missing_pages():
    assert "a 3-page filler" in nearest([], 5, **PLACES)


def test_more_blanks():
    assert "end_at_most 3" in nearest([Filler("a", counts=(2,))], 5, **PLACES)


def test_a_longer_range():
    fillers = [Filler("bio"), Filler("notes", counts=(1, 2), priority=5)]
    assert "notes 1..4" in nearest(fillers, 7, **PLACES)


def test_a_start_given_up():
    fillers = [Filler("bio", counts=(2,), starts="verso", required=True)]
    assert nearest(fillers, 2, **PLACES)[0] == "'bio' starts: any"


def test_the_smallest_change_comes_first():
    fillers = [Filler("bio", counts=(2,)), Filler("notes", counts=(1, 2), priority=5)]
    assert nearest(fillers, 7, **PLACES) == [
        "a 1-page filler",
        "notes 1..3",
        "end_at_most 3",
    ]


def test_nothing_helps_where_required_fillers_shut_each_other_out():
    fillers = [
        Filler("a", required=True, excludes=("b",)),
        Filler("b", required=True),
    ]
    assert nearest(fillers, 4, **PLACES) == []


def carried_out(change, fillers, places):
    """The catalogue and the places with the change made, read from its words alone."""
    words = change.split()
    if words[0] in ("a", "an"):
        pages = int(words[1].removesuffix("-page"))
        place = "front" if words[2] == "front" else "back"
        new = Filler("new", place, counts=(pages,), priority=99)
        return [*fillers, new], places
    if words[0] == "end_at_most":
        return fillers, {**places, "end_at_most": int(words[1])}
    changed = []
    for filler in fillers:
        if f"'{filler.id}'" == words[0] and words[1:] == ["starts:", "any"]:
            changed.append(Filler(filler.id, filler.place, filler.counts, filler.priority))
        elif filler.id == words[0]:
            first, last = map(int, words[1].split(".."))
            counts = tuple(range(first, last + 1))
            changed.append(Filler(filler.id, filler.place, counts, filler.priority, filler.starts))
        else:
            changed.append(filler)
    return changed, places


@pytest.mark.parametrize("seed", range(60))
def test_every_change_told_makes_it_possible(seed):
    pick = random.Random(seed)
    fillers = [
        Filler(
            f"f{number}",
            pick.choice(["front", "back"]),
            tuple(sorted({pick.randint(2, 5) for _ in range(pick.choice([1, 2]))})),
            pick.randint(1, 3),
            pick.choice(["any", "recto", "verso"]),
        )
        for number in range(pick.randint(0, 3))
    ]
    places = {"front_at": pick.choice([None, 4]), "back_at": 8, "end_at_most": pick.randint(0, 1)}
    left_over = pick.randint(3, 30)
    if choose(fillers, left_over, **places) is None:
        changes = nearest(fillers, left_over, **places)
        assert 1 <= len(changes) <= 4
        for change in changes:
            changed, there = carried_out(change, fillers, places)
            assert choose(changed, left_over, **there), change
            assert len(changes) == len(set(changes))


def test_the_smaller_change_would_not_do():
    fillers = [Filler("a", counts=(4,)), Filler("b", counts=(6,))]
    assert nearest(fillers, 15, **PLACES) == ["a 3-page filler", "end_at_most 5"]
    for pages in (1, 2):
        assert choose([*fillers, Filler("new", counts=(pages,))], 15, **PLACES) is None


def test_a_long_catalogue_takes_no_longer_than_a_few_choices():
    fillers = [Filler(f"f{n}", counts=(2, 4, 6), priority=n % 7 + 1) for n in range(1000)]
    places = {"front_at": None, "back_at": 1, "end_at_most": 0}
    assert "a 1-page filler" in nearest(fillers, 63, **places)
    one = calls_of(lambda: choose(fillers, 63, **places))
    assert calls_of(lambda: nearest(fillers, 63, **places)) < 20 * one


def test_an_odd_front_filler_wants_another_in_front():
    fillers = [
        Filler("dedication", "front", required=True),
        Filler("n", counts=tuple(range(1, 10)), priority=5),
    ]
    assert nearest(fillers, 3, front_at=1, back_at=14, end_at_most=2) == ["a 1-page front filler"]


def test_why_an_odd_front_filler_does_not_fit_is_told():
    one = Filler("dedication", "front", required=True)
    assert odd_in_front([one]) == (
        "Front fillers take an even number of pages in all, and those required ('dedication') "
        "take 1."
    )
    two = Filler("maps", "front", counts=(2,), required=True)
    assert odd_in_front([one, two]).endswith("('dedication', 'maps') take 3.")
    either = Filler("maps", "front", counts=(1, 2), required=True)
    for even in ([], [two], [one, either], [Filler("bio", required=True)], [one, one]):
        assert odd_in_front(even) == ""


@pytest.mark.parametrize(("pages", "told"), [(8, "an 8-page"), (11, "an 11-page"), (12, "a 12-")])
def test_pages_have_the_article_that_is_said(pages, told):
    ways = nearest([], pages, front_at=None, back_at=1, end_at_most=0)
    assert ways[0].startswith(told)
