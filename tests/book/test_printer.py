import json
from fractions import Fraction
from pathlib import Path

import jsonschema
import pytest
import yaml
from pydantic import TypeAdapter

from fitter.book.printer import PrinterFile, load_printer
from fitter.errors import BadInput

EXAMPLE = Path(__file__).parents[2] / "sample_book" / "printer.yaml"
PLAIN = "gatherings: [32, 16]\nshort: [8]\n"


@pytest.fixture
def load(tmp_path):
    def load(text):
        path = tmp_path / "printer.yaml"
        path.write_text(text, encoding="utf-8")
        return load_printer(path, "printer.yaml")

    return load


def test_the_documented_example():
    printer = load_printer(EXAMPLE, "printer.yaml")
    assert (printer.gatherings, printer.short, printer.short_stands) == (
        (32, 16),
        (8,),
        "before-last",
    )
    assert (printer.least, printer.greatest) == (48, 640)
    assert [paper.id for paper in printer.papers] == ["cream-80", "white-90", "antique-60"]
    assert printer.prices.make_ready == {32: 120, 16: 80, 8: 55}
    assert printer.prices.run[32] == Fraction("0.021")
    assert (printer.prices.spoilage, printer.prices.paper_waste) == (
        Fraction(3, 100),
        Fraction(8, 100),
    )


def test_the_schema_accepts_the_example():
    schema = TypeAdapter(PrinterFile).json_schema()
    example = json.loads(json.dumps(yaml.safe_load(EXAMPLE.read_text("utf-8"))))
    jsonschema.validate(example, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**example, "gatherings": "many"}, schema)


def test_what_may_be_left_out(load):
    printer = load("gatherings: 16\n")
    assert printer.gatherings == (16,)
    assert (printer.short, printer.last_blank, printer.prices) == ((), 0, None)


@pytest.mark.parametrize(("said", "pages"), [("true", 1), ("false", 0), ("leaf", 2)])
def test_the_last_page_or_leaf_stays_blank(load, said, pages):
    assert load(PLAIN + f"last_page_blank: {said}\n").last_blank == pages


def test_case_boards_add_more_to_the_spine_than_a_leaf_is_thick(load):
    assert load(PLAIN + "spine_allowance: 4 mm\n").spine_allowance_mm == 4


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("gatherings: [18]\n", "printer.yaml:1: a gathering of 18 pages cannot be folded"),
        ("gatherings: [16]\nshort: [6]\n", "printer.yaml:2: a gathering of 6 pages cannot"),
        ("gatherings: [16]\nshort: [16]\n", "printer.yaml:2: no short gathering is smaller"),
        (PLAIN + "short_at_most: 9\n", "printer.yaml:3: 'short_at_most' is 8 or less, not 9."),
        (PLAIN + "pages: 640..48\n", "printer.yaml:3: a range of pages goes upwards"),
        (PLAIN + f"pages: {10**20}\n", "printer.yaml:3: a range of pages goes upwards"),
        (PLAIN + "pages: 49..50\n", "printer.yaml:3: no extent from 49 to 50 pages"),
        (PLAIN + "short_stands: first\n", "printer.yaml:3: 'short_stands' is one of"),
        (PLAIN + "shorts: [4]\n", "Did you mean 'short'?"),
        (
            PLAIN + "papers:\n  - {id: a, grammage: 80}\n",
            "printer.yaml:4: a grammage reads like 80 g/m2",
        ),
        (
            PLAIN + "papers:\n  - {id: a, grammage: 54 lb}\n",
            "does not say of which basis size",
        ),
        (
            PLAIN + "papers:\n  - {id: a, volume: V18}\n",
            "printer.yaml:4: 'a' has a 'volume' and needs a 'grammage'",
        ),
        (
            PLAIN + "papers:\n  - {id: a, caliper: 0.1 mm, ppi: 500}\n",
            "'a' says its thickness by caliper and by ppi; keep one",
        ),
        (
            PLAIN + "papers:\n  - {id: a}\n  - {id: a}\n",
            "printer.yaml:5: the paper 'a' stands twice",
        ),
        (
            PLAIN + "prices:\n  currency: EUR\n  make_ready: {32: 1, 16: 1}\n"
            "  run: {32: 1, 16: 1, 8: 1}\n",
            "printer.yaml:5: no price for a gathering of 8",
        ),
        (
            PLAIN + "prices:\n  currency: EUR\n  make_ready: {32: -1, 16: 1, 8: 1}\n"
            "  run: {32: 1, 16: 1, 8: 1}\n",
            "printer.yaml:5: the price -1 is below 0",
        ),
        (
            PLAIN + "prices:\n  currency: EUR\n  make_ready: {32: 1, 16: 1, 8: 1}\n"
            "  run: {32: 1, 16: 1, 8: 1}\n  spoilage: 3\n",
            "printer.yaml:7: a share reads like 3 %",
        ),
    ],
)
def test_mistakes_are_told_with_their_line(load, text, said):
    with pytest.raises(BadInput) as fault:
        load(text)
    assert len(fault.value.sentences) == 1
    assert said in fault.value.sentences[0]


def test_all_mistakes_at_once(load):
    with pytest.raises(BadInput) as fault:
        load("gatherings: [16]\nshort: x\npapers:\n  - {id: a, grammage: 80, caliper: 1}\n")
    assert len(fault.value.sentences) == 3
