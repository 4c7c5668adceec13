"""The tests in an environment of their own: python tests/packaging/elsewhere.py PYTHON [lowest]

Makes a virtual environment of that Python in a temporary folder, with the newest versions of the
dependencies or, with `lowest`, the lowest that pyproject.toml allows, and runs the tests in it.
Whatever follows goes to pytest.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]


def lowest(requirement: str) -> str:
    """`pyyaml>=6.0.1,<7` as `pyyaml==6.0.1`."""
    return re.sub(r">=\s*([^,\s]+).*", r"==\1", requirement)


def requirements(project: Any, *, at_lowest: bool) -> list[str]:
    """What the program needs, embedded engines included, and what its tests need on top."""
    extras = project["optional-dependencies"]
    needed = [*project["dependencies"], *extras["embedded"]]
    return [*(map(lowest, needed) if at_lowest else needed), *extras["test"]]


def main(python: str, *rest: str) -> int:
    """Install and run; the tests' own exit status."""
    at_lowest = "lowest" in rest[:1]
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    with tempfile.TemporaryDirectory() as name:
        subprocess.run([python, "-m", "venv", name], check=True)
        inside = str(Path(name) / "bin/python")
        install = [inside, "-m", "pip", "install", "--quiet"]
        subprocess.run([*install, *requirements(project, at_lowest=at_lowest)], check=True)
        subprocess.run([*install, "--no-deps", "--editable", str(ROOT)], check=True)
        subprocess.run([inside, "-m", "pip", "list"], check=True)
        tests = [inside, "-m", "pytest", "-q", *rest[int(at_lowest) :]]
        return subprocess.run(tests, cwd=ROOT, check=False).returncode


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
