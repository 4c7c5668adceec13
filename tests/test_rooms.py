"""The house stands: imports go one way, without circles, and each library lives in one room."""

from __future__ import annotations

import ast
import graphlib
import sys
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).parent.parent / "fitter"
FLOORS = {
    "errors": 0,
    "cores": 1,
    "lock": 1,
    "meanwhile": 1,
    "trade": 1,
    "writing": 1,
    "package": 1,
    "data": 2,
    "book": 2,
    "pdf": 2,
    "inserts": 3,
    "reports": 3,
    "engines": 4,
    "printings": 4,
    "steps": 5,
    "commands": 6,
    "options": 7,
    "printing_cli": 8,
    "cli": 9,
    "__main__": 10,
}


def modules() -> dict[str, Path]:
    files = sorted(PACKAGE.rglob("*.py"))
    return {
        ".".join(file.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(
            ".__init__"
        ): file
        for file in files
    }


def imported(file: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def floor(module: str) -> int:
    _, _, inside = module.partition(".")
    return FLOORS.get(inside.split(".")[0], 0)


def test_imports_never_go_up() -> None:
    ours = modules()
    up = [
        f"{module} imports {name}"
        for module, file in ours.items()
        for name in imported(file)
        if name in ours and module != "fitter" and floor(name) > floor(module)
    ]
    assert up == []


def test_there_are_no_circles() -> None:
    ours = modules()
    graph = {
        module: {name for name in imported(file) if name in ours and name != module}
        for module, file in ours.items()
    }
    for module, others in graph.items():
        others -= {other for other in others if module.startswith(f"{other}.")}
    graphlib.TopologicalSorter(graph).prepare()


def test_the_trade_knows_only_the_standard_library() -> None:
    allowed = {*sys.stdlib_module_names} - {"pathlib", "os", "io", "datetime", "time", "tempfile"}
    strange = [
        f"{module} imports {name}"
        for module, file in modules().items()
        if module.startswith("fitter.trade")
        for name in imported(file)
        if name.split(".")[0] not in allowed
        and not name.startswith(("fitter.trade", "fitter.errors"))
    ]
    assert strange == []


def test_the_pdf_libraries_live_in_one_room() -> None:
    outside = [
        f"{module} imports {name}"
        for module, file in modules().items()
        if not module.startswith("fitter.pdf")
        for name in imported(file)
        if name.split(".")[0] in {"pymupdf", "pypdf", "fitz"}
    ]
    assert outside == []
