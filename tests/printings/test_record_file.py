from __future__ import annotations

import multiprocessing
from pathlib import Path

import pytest
import yaml

from fitter.errors import BadInput
from fitter.lock import held
from fitter.printings.record_file import append

SECOND = {"printing": 2, "year": 2028, "printer": "QX", "note": "two misprints: “a” & 'b' # c"}
RECORDS = {
    "flow entries": (
        "# by hand\nprintings:\n  - {printing: 1, year: 2026}   # the first\n# the end\n",
        "# by hand\nprintings:\n  - {printing: 1, year: 2026}   # the first\n  - {} \n# the end\n",
    ),
    "block entries": (
        "printings:\n- printing: 1\n  year: 2026   # so it is\n\n# the end",
        "printings:\n- printing: 1\n  year: 2026   # so it is\n- {} \n\n# the end",
    ),
    "no line end at the end": (
        "printings:\n  - {printing: 1, year: 2026}",
        "printings:\n  - {printing: 1, year: 2026}\n  - {} \n",
    ),
    "Windows line ends": (
        "printings:\r\n  - {printing: 1, year: 2026}\r\n",
        "printings:\r\n  - {printing: 1, year: 2026}\r\n  - {} \r\n",
    ),
    "an empty list": ("printings: []  # none\n", "printings:  # none\n  - {} \n"),
    "nothing after the key": ("# a\nprintings: # b\n# c\n", "# a\nprintings: # b\n  - {} \n# c\n"),
    "comments alone": ("# nothing yet\n", "# nothing yet\nprintings:\n  - {} \n"),
}


@pytest.mark.parametrize("name", RECORDS)
def test_an_entry_goes_in_and_all_else_stays(tmp_path: Path, name: str) -> None:
    before, after = RECORDS[name]
    record = tmp_path / "printings.yaml"
    record.write_bytes(before.encode())
    append(record, SECOND)
    text = record.read_bytes().decode()
    added = next(line.strip() for line in text.splitlines() if "misprints" in line)
    assert text == after.replace("- {} ", added)
    assert yaml.safe_load(text)["printings"][-1] == SECOND


def test_a_record_that_is_not_there_is_begun(tmp_path: Path) -> None:
    append(tmp_path / "printings.yaml", SECOND)
    assert yaml.safe_load((tmp_path / "printings.yaml").read_text())["printings"] == [SECOND]


@pytest.mark.parametrize(
    "text",
    [
        "printings: [{printing: 1, year: 2026}]\n",
        "printings:\n  - {printing: 1, year: 2026}\n...\n# after the end\n---\nmore: 1\n",
        "- {printing: 1, year: 2026}\n",
    ],
)
def test_what_cannot_be_done_safely_is_told_and_left(tmp_path: Path, text: str) -> None:
    record = tmp_path / "printings.yaml"
    record.write_text(text)
    with pytest.raises(BadInput, match="Add this entry by hand"):
        append(record, SECOND)
    assert record.read_text() == text


def _add(record: Path, times: int) -> None:
    for _ in range(times):
        with held(record.parent, print):
            there = yaml.safe_load(record.read_text())["printings"]
            append(record, {"printing": len(there) + 1, "year": 2026})


def test_runs_at_the_same_moment_lose_nothing(tmp_path: Path) -> None:
    record = tmp_path / "printings.yaml"
    record.write_text("printings:\n  - {printing: 1, year: 2026}\n")
    runs = [multiprocessing.Process(target=_add, args=(record, 10)) for _ in range(4)]
    for run in runs:
        run.start()
    for run in runs:
        run.join()
    there = yaml.safe_load(record.read_text())["printings"]
    assert [entry["printing"] for entry in there] == list(range(1, 42))
    assert [path.name for path in tmp_path.iterdir()] == ["printings.yaml"]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    real, link = tmp_path / "real.yaml", tmp_path / "printings.yaml"
    real.write_text("printings:\n  - {printing: 1, year: 2026}\n", encoding="utf-8")
    link.symlink_to(real)
    append(link, SECOND)
    assert link.is_symlink()
    assert len(yaml.safe_load(real.read_text(encoding="utf-8"))["printings"]) == 2
