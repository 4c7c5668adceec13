"""The README's pictures show what the program says today about the sample book."""

from __future__ import annotations

import re
from pathlib import Path

import pymupdf

from tests.pictures import PICTURES, ROOT, make, without_progress

README = (ROOT / "README.md").read_text(encoding="utf-8")
REMEDY = "the pictures are out of date: python -m tests.pictures makes them anew"


def test_the_terminal_still_says_what_the_picture_shows(tmp_path: Path) -> None:
    now = make(tmp_path)
    shown = (PICTURES / "terminal.txt").read_text(encoding="utf-8")
    assert without_progress(now.words) == without_progress(shown), REMEDY
    sentence = re.search(r'<p class="sentence">(.*?)</p>', now.dummy.read_text(encoding="utf-8"))
    assert sentence and sentence[1] in shown


def test_the_readme_shows_both_pictures_and_says_what_is_on_them() -> None:
    shown = re.findall(r"!\[([^\]]+)\]\(([^)]+)\)", README)
    assert [name for _, name in shown] == [".pictures/terminal.png", ".pictures/dummy.png"]
    for words, name in shown:
        assert len(words) > 60
        picture = pymupdf.Pixmap(str(ROOT / name))
        assert picture.width >= 700 and picture.height >= 500
