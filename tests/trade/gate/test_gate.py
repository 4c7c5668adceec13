from fitter.trade.gate.evidence import Evidence, Source
from fitter.trade.gate.gate import judge, passed
from fitter.trade.gate.rule import RULES
from fitter.trade.gate.verdicts import PageVerdict

BOOK = Evidence(
    (
        PageVerdict(1, "i", "printed", "body"),
        PageVerdict(2, "ii", "blank", "body"),
        PageVerdict(3, "1", "printed", "body"),
    ),
    sources={2: Source("book.tex", 12)},
)


def test_a_finding_names_page_folio_and_source() -> None:
    (finding,) = judge(BOOK)
    assert (finding.page, finding.folio) == (2, "ii")
    assert (finding.file, finding.line) == ("book.tex", 12)


def test_an_error_fails_the_gate_and_a_warning_does_not() -> None:
    assert not passed(judge(BOOK))
    findings = judge(BOOK, {"blank-unmarked": "warning"})
    assert [finding.severity for finding in findings] == ["warning"]
    assert passed(findings)


def test_a_rule_switched_off_is_silent() -> None:
    assert judge(BOOK, {"blank-unmarked": "off"}) == []


def test_every_rule_explains_itself() -> None:
    assert all(rule.explanation.endswith(".") for rule in RULES.values())
