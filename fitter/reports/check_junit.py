"""Judged PDFs as JUnit XML: a suite for each PDF, a case for each rule of the gate."""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree import ElementTree as Xml

from fitter.reports.words import place_in_words
from fitter.trade.gate.gate import Finding
from fitter.trade.gate.judged import UNREAD, Judged, Refused
from fitter.trade.gate.rule import RULES

_NOT_IN_XML = re.compile(r"[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def check_junit(judged: Iterable[Judged | Refused]) -> str:
    """A case fails when its rule found an error; warnings stand in its output.

    What could not be read is one case more, which ends in an error.
    """
    suites = Xml.Element("testsuites", name="fitter")
    for one in judged:
        suites.append(_suite(one))
    for count in ("tests", "failures", "errors"):
        suites.set(count, str(sum(int(suite.get(count, "0")) for suite in suites)))
    Xml.indent(suites)
    return Xml.tostring(suites, encoding="unicode", xml_declaration=True)


def _suite(judged: Judged | Refused) -> Xml.Element:
    name = _text(judged.pdf)
    suite = Xml.Element("testsuite", name=name, skipped="0")
    for rule in RULES if isinstance(judged, Judged) else ():
        suite.append(_case(name, rule, [found for found in judged.findings if found.rule == rule]))
    if judged.sentences:
        case = Xml.SubElement(suite, "testcase", classname=name, name=UNREAD, time="0")
        told = _text("\n".join(judged.sentences))
        Xml.SubElement(case, "error", message=_text(judged.sentences[0]), type=UNREAD).text = told
    for count, found in (("tests", ""), ("failures", "/failure"), ("errors", "/error")):
        suite.set(count, str(len(suite.findall(f"testcase{found}"))))
    return suite


def _case(pdf: str, rule: str, findings: list[Finding]) -> Xml.Element:
    case = Xml.Element("testcase", classname=pdf, name=rule, time="0")
    errors = [_line(finding) for finding in findings if finding.severity == "error"]
    others = [_line(finding) for finding in findings if finding.severity != "error"]
    if errors:
        first = errors[0] if len(errors) == 1 else f"{errors[0]} (and {len(errors) - 1} more)"
        Xml.SubElement(case, "failure", message=first, type=rule).text = "\n".join(errors)
    if others:
        Xml.SubElement(case, "system-out").text = "\n".join(others)
    return case


def _line(finding: Finding) -> str:
    source = f" [{finding.file}:{finding.line}]" if finding.file else ""
    return _text(f"{place_in_words(finding)}: {finding.message}{source}")


def _text(text: str) -> str:
    """Without the characters that XML 1.0 does not have (section 2.2)."""
    return _NOT_IN_XML.sub("\ufffd", text)
