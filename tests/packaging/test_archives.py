"""Wheel, sdist and the LaTeX package's zip: made, installed away from the checkout, and used."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

from tests.conftest import ROOT
from tests.packaging.ctan import pack
from tests.packaging.elsewhere import lowest, requirements


@pytest.fixture(scope="module")
def archives(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """A wheel and an sdist by their kinds."""
    made = tmp_path_factory.mktemp("dist")
    command = [sys.executable, "-m", "hatchling", "build", "-d", str(made)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    return {"wheel": next(made.glob("*.whl")), "sdist": next(made.glob("*.tar.gz"))}


def installed(archive: Path, folder: Path) -> dict[str, str]:
    """Install it into a folder without its dependencies, which are here; the environment for it."""
    command = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps"]
    command += ["--no-build-isolation", "--target", str(folder), str(archive)]
    subprocess.run(command, check=True, capture_output=True)
    return {**os.environ, "PYTHONPATH": str(folder)}


def tell(environment: dict[str, str], folder: Path, *arguments: str) -> str:
    """What the installed program says."""
    done = subprocess.run(
        [sys.executable, "-P", "-m", "fitter", *arguments],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.mark.parametrize("kind", ["wheel", "sdist"])
def test_what_is_installed_elsewhere_builds_the_sample(
    archives: dict[str, Path], tmp_path: Path, kind: str
) -> None:
    environment = installed(archives[kind], tmp_path / "site")
    ignored = shutil.ignore_patterns("build", "*-inserts*")
    book = shutil.copytree(ROOT / "sample_book", tmp_path / "book", ignore=ignored)
    for name in ("latex", "pandoc"):
        assert Path(tell(environment, book, "path", name).strip()).is_relative_to(tmp_path)
    assert "The gate passed" in tell(environment, book, "build", "-q")
    assert "The gate passed" in tell(environment, book, "check")


def test_a_checkout_finds_its_own_latex_package(tmp_path: Path) -> None:
    said = tell({**os.environ, "PYTHONPATH": str(ROOT)}, tmp_path, "path", "latex")
    assert Path(said.strip()) == ROOT / "latex"


def test_the_sdist_holds_what_the_tests_need(archives: dict[str, Path]) -> None:
    listed = subprocess.run(
        ["tar", "tzf", archives["sdist"]], capture_output=True, text=True, check=True
    ).stdout
    for wanted in ("latex/fitter.sty", "tests/conftest.py", "sample_book/book.yaml", "README.md"):
        assert f"/{wanted}" in listed


def test_the_latex_package_is_shaped_for_ctan(tmp_path: Path) -> None:
    with zipfile.ZipFile(pack(tmp_path)) as packed:
        assert packed.testzip() is None
        names = packed.namelist()
        assert "fitter/fitter.sty" in names
        assert packed.read("fitter/fitter-doc.pdf").startswith(b"%PDF")
    assert all(name.startswith("fitter/") and name.count("/") == 1 for name in names)


def test_every_dependency_has_a_lowest_version() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert lowest("pymupdf>=1.24.3,<2") == "pymupdf==1.24.3"
    needed = [*project["dependencies"], *project["optional-dependencies"]["embedded"]]
    direct = requirements(project, at_lowest=True)[: len(needed)]
    assert all("==" in one for one in direct), direct
