"""The sample book in its two forms: one text, one set of rules, two whole numbers of gatherings."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.conftest import ROOT, fitter

SAMPLE = ROOT / "sample_book"
FORMS = ("book.yaml", "markdown.yaml")


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, dict[str, Any]]]:
    """A copy of the sample book with both forms built, and what each build reported."""
    folder = tmp_path_factory.mktemp("sample") / "book"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("build"))
    reports = {}
    for form in FORMS:
        ran = fitter("build", form, "--format", "json", cwd=folder)
        assert ran.status == 0, ran.err + ran.out
        reports[form] = json.loads(ran.out)
    return folder, reports


def test_both_forms_say_the_same_of_binding_and_imprint() -> None:
    latex, markdown = (yaml.safe_load((SAMPLE / form).read_text()) for form in FORMS)
    for key in ("title", "author", "trim", "binding", "imprint", "blanks", "printings"):
        assert latex[key] == markdown[key]


def test_both_forms_offer_the_same_fillers() -> None:
    names = ("fillers.yaml", "markdown-fillers.yaml")
    latex, markdown = (yaml.safe_load((SAMPLE / name).read_text())["fillers"] for name in names)
    for entry in [*latex, *markdown]:
        if "source" in entry:
            entry["source"] = Path(entry["source"]).stem
    assert latex == markdown


def test_both_forms_come_to_the_same_extents_rules(
    built: tuple[Path, dict[str, dict[str, Any]]],
) -> None:
    folder, reports = built
    for form, report in reports.items():
        plan = report["plan"]
        assert report["check"]["passed"]
        # Gatherings of 16 and at most one of 8, the smallest that holds the text.
        assert plan["extent"] % 8 == 0
        assert 0 <= plan["left_over"] == plan["extent"] - plan["text_pages"] < 8 + 8
        assert [size for size in plan["gatherings"] if size != 16] in ([], [8])
        pdf = folder / yaml.safe_load((SAMPLE / form).read_text())["output"]
        told = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
        assert int(re.search(r"Pages:\s+(\d+)", told)[1]) == plan["extent"]  # type: ignore[index]


def test_the_text_pages_of_both_forms_leave_something_to_fill(
    built: tuple[Path, dict[str, dict[str, Any]]],
) -> None:
    for report in built[1].values():
        assert report["plan"]["left_over"] > 0
        assert report["plan"]["fillers"]


def test_the_text_stands_in_both_pdfs_and_once_in_the_folder(
    built: tuple[Path, dict[str, dict[str, Any]]],
) -> None:
    folder, _ = built
    sentence = "I was sent to Pellhythe to count a ropewalk"
    for name in ("book", "markdown"):
        pdf = folder / f"build/{name}.pdf"
        text = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, text=True, check=True)
        assert sentence in " ".join(text.stdout.split())
    sources = [path for path in SAMPLE.rglob("*") if path.suffix in {".md", ".tex"}]
    holding = [path for path in sources if sentence in " ".join(path.read_text().split())]
    assert len(holding) == 1


def test_no_quotation_mark_is_turned_round(
    built: tuple[Path, dict[str, dict[str, Any]]],
) -> None:
    folder, _ = built
    chapters = "".join(path.read_text() for path in sorted((SAMPLE / "chapters").glob("*.md")))
    for name in ("book", "markdown"):
        pdf = folder / f"build/{name}.pdf"
        text = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, text=True, check=True)
        found = Counter(re.findall("[‘’]", text.stdout))
        wanted = Counter(re.findall("[‘’]", chapters))
        for mark in "‘’":
            assert wanted[mark] <= found[mark] <= wanted[mark] + 30, (name, mark)
