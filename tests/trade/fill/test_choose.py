import random
from dataclasses import replace
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from fitter.trade.fill.choose import Filler, choose, required_pages
from tests.calls import calls_of
from tests.trade.fill.solver import Solver

CASES = yaml.safe_load(Path(__file__).parents[2].joinpath("cases/choose.yaml").read_text())


def as_filler(row):
    lists = {key: tuple(row[key]) for key in ("counts", "needs", "excludes") if key in row}
    return Filler(**{**row, **lists})


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_the_one_choice(case):
    choice = choose(
        [as_filler(row) for row in case["fillers"]],
        case["left_over"],
        front_at=case.get("front_at"),
        back_at=case.get("back_at", 1),
        end_at_most=case.get("end_at_most", 2),
    )
    if case.get("impossible"):
        assert choice is None
    else:
        found = [[placed.id, placed.pages, placed.first_page] for placed in choice.placed]
        assert found == case["placed"]
        assert choice.end_blanks == case.get("end_blanks", 0)


def random_catalogue(seed):
    """A catalogue and a question, small enough for the solver, with every rule in play."""
    pick = random.Random(seed)
    ids = [f"filler-{n}" for n in range(pick.randint(1, 9))]
    chance = pick.choice([0, 0.2, 0.5])
    fillers = [random_filler(pick, ids, number, chance) for number in range(len(ids))]
    question = {
        "left_over": pick.randint(0, 20),
        "front_at": pick.choice([None, 3, 4, 5]),
        "back_at": pick.randint(90, 95),
        "end_at_most": pick.randint(0, 2),
        "back_whole": pick.random() < 0.25,
    }
    return fillers, question


def random_filler(pick, ids, number, chance):
    others = [id_ for id_ in ids if id_ != ids[number]]
    needs = [other for other in others if pick.random() < chance / len(ids)]
    return Filler(
        ids[number],
        place=pick.choice(["front", "back", "back"]),
        counts=tuple(sorted({pick.randint(1, 7) for _ in range(pick.choice([1, 1, 2, 4]))})),
        priority=pick.randint(1, 4),
        starts=pick.choice(["any", "any", "recto", "verso"]),
        required=pick.random() < 0.1,
        needs=tuple(needs),
        excludes=tuple(
            other
            for other in others
            if other not in needs and pick.random() < 2 * chance / len(ids)
        ),
    )


def as_pages(fillers, choice):
    pages = {placed.id: placed.pages for placed in choice.placed}
    return [pages.get(filler.id, 0) for filler in fillers], choice.end_blanks


def compare_with_solver(seeds):
    possible = 0
    for seed in seeds:
        fillers, question = random_catalogue(seed)
        choice = choose(fillers, **question)
        expected = Solver(fillers, **question).best()
        found = choice and as_pages(fillers, choice)
        assert found == expected, f"catalogue {seed}"
        possible += expected is not None
    return possible


def test_the_solver_finds_the_same_choice_in_400_random_catalogues():
    possible = compare_with_solver(range(400))
    assert 100 < possible < 300


def test_the_solver_finds_the_same_in_long_catalogues_with_many_ties():
    for seed in range(6):
        pick = random.Random(seed)
        ids = [f"filler-{n}" for n in range(60)]
        fillers = [random_filler(pick, ids, number, 0.6) for number in range(60)]
        fillers = [replace(filler, required=False) for filler in fillers]
        question = {"left_over": 25, "front_at": 5, "back_at": 90, "end_at_most": 1}
        expected = Solver(fillers, **question).best()
        assert as_pages(fillers, choose(fillers, **question)) == expected


def test_the_solver_finds_the_same_where_ties_are_too_many_for_the_table(monkeypatch):
    monkeypatch.setattr("fitter.trade.fill.fill.MASKS", 0)
    assert compare_with_solver(range(1000, 1100)) > 20


@st.composite
def catalogues(draw):
    return random_catalogue(draw(st.integers(0, 10**6)))


@given(catalogues())
def test_every_page_left_over_is_filled(catalogue):
    fillers, question = catalogue
    choice = choose(fillers, **question)
    if choice:
        pages = sum(placed.pages for placed in choice.placed)
        assert pages + choice.end_blanks == question["left_over"]
        assert 0 <= choice.end_blanks <= question["end_at_most"]


@given(catalogues())
def test_fillers_follow_each_other_and_start_where_they_may(catalogue):
    fillers, question = catalogue
    choice = choose(fillers, **question)
    by_id = {filler.id: filler for filler in fillers}
    front = [p for p in choice.placed if p.place == "front"] if choice else []
    back = [p for p in choice.placed if p.place == "back"] if choice else []
    moved = sum(placed.pages for placed in front)
    assert moved % 2 == 0
    for run, first_page in ((front, question["front_at"]), (back, question["back_at"] + moved)):
        for number, placed in enumerate(run):
            assert placed.first_page == first_page + sum(before.pages for before in run[:number])
            assert by_id[placed.id].starts in ("any", ("verso", "recto")[placed.first_page % 2])


@given(catalogues())
def test_names_do_not_matter_and_twice_is_the_same(catalogue):
    fillers, question = catalogue
    other = {filler.id: f"x{99 - number}" for number, filler in enumerate(fillers)}
    renamed = [
        replace(
            filler,
            id=other[filler.id],
            needs=tuple(other[need] for need in reversed(filler.needs)),
            excludes=tuple(other[need] for need in reversed(filler.excludes)),
        )
        for filler in fillers
    ]
    first, second = choose(fillers, **question), choose(renamed, **question)
    assert first == choose(fillers, **question)
    assert (first and as_pages(fillers, first)) == (second and as_pages(renamed, second))


PLACES = {"front_at": 5, "back_at": 238, "end_at_most": 2}


def long_catalogue(entries):
    pick = random.Random(5)
    ids = [f"filler-{n}" for n in range(entries)]
    fillers = [random_filler(pick, ids, number, 0.1) for number in range(entries)]
    return [replace(filler, required=False) for filler in fillers]


def test_a_thousand_entries_and_63_pages():
    choice = choose(long_catalogue(1000), 63, **PLACES)
    assert sum(placed.pages for placed in choice.placed) + choice.end_blanks == 63


def test_the_work_grows_with_the_catalogue_and_not_with_its_square():
    few, many = long_catalogue(250), long_catalogue(1000)
    fewer_calls = calls_of(lambda: choose(few, 63, **PLACES))
    assert calls_of(lambda: choose(many, 63, **PLACES)) < 2 * 4 * fewer_calls


@pytest.mark.parametrize(
    ("fillers", "pages"),
    [
        ([], 0),
        ([Filler("a", counts=(3, 4), required=True), Filler("b")], 3),
        ([Filler("a", required=True, needs=("b",)), Filler("b", needs=("c",)), Filler("c")], 3),
        ([Filler("a", "front", (1, 2), required=True)], 2),
        ([Filler("a", "front", (1,), required=True)], 2),
        ([Filler("a", "front", required=True), Filler("b", "front", (3,), required=True)], 4),
    ],
)
def test_pages_that_are_in_before_the_gathering_is_chosen(fillers, pages):
    assert required_pages(fillers) == pages
