"""The dummy in a real browser under mouse and keys: leaves turn, and pages are gone through."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.reports.dummy.conftest import WIDE


def test_a_click_enlarges_and_the_keys_turn_the_leaves(visit, everything: Path) -> None:
    page = visit(everything).page
    small = page.locator("#p9 .paper").bounding_box()
    page.click("#p9")
    large = page.locator("dialog figure.recto .paper").bounding_box()
    assert large["width"] > 5 * small["width"]
    assert page.inner_text("#open-title") == "Pages 8 and 9"
    assert "outer forme, beside page 8 on the sheet" in page.inner_text("dialog .recto .more")
    page.keyboard.press("ArrowRight")
    assert page.inner_text("#open-title") == "Pages 10 and 11"
    page.keyboard.press("Home")
    assert page.inner_text("#open-title") == "Page 1"
    assert page.get_attribute("#back", "aria-disabled") == "true"
    page.keyboard.press("ArrowLeft")
    assert page.inner_text("#open-title") == "Page 1"
    page.keyboard.press("End")
    assert page.inner_text("#open-title") == "Page 48"
    page.keyboard.press("Escape")
    assert not page.is_visible("dialog")
    assert page.evaluate("document.activeElement.id") == "p48"
    assert page.locator("button.page[tabindex='0']").count() == 1


def test_verso_and_recto_meet_in_the_opened_book(visit, everything: Path) -> None:
    page = visit(everything).page
    page.click("#p10")
    verso = page.locator("dialog .verso .paper").bounding_box()
    recto = page.locator("dialog .recto .paper").bounding_box()
    assert verso["x"] + verso["width"] == pytest.approx(recto["x"], abs=1.5)
    assert verso["width"] == pytest.approx(recto["width"], abs=1)
    assert verso["y"] == pytest.approx(recto["y"], abs=1)


@pytest.mark.parametrize(
    ("keys", "page"),
    [
        ("ArrowRight", 2),
        ("ArrowLeft", 1),
        ("ArrowDown", 17),
        ("PageDown", 17),
        ("PageDown PageDown PageUp", 17),
        ("End", 48),
        ("End ArrowRight", 48),
        ("n", 7),
        ("n n n", 13),
        ("n N", 26),
        ("ArrowRight ArrowDown ArrowUp", 2),
    ],
)
def test_keys_go_from_page_to_page(visit, everything: Path, keys: str, page: int) -> None:
    seen = visit(everything).page
    seen.focus("#p1")
    for key in keys.split():
        seen.keyboard.press(key)
    assert seen.evaluate("document.activeElement.id") == f"p{page}"
    assert seen.locator("button.page[tabindex='0']").count() == 1


def test_tab_comes_to_the_pages_once_and_enter_opens_the_book(visit, everything: Path) -> None:
    page = visit(everything).page
    page.focus("#p1")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    assert page.inner_text("#open-title") == "Pages 2 and 3"
    page.keyboard.press("Escape")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('button.page')") is None
    page.keyboard.press("Shift+Tab")
    assert page.evaluate("document.activeElement.id") == "p2"


def test_a_finding_jumps_to_its_page(visit, everything: Path) -> None:
    page = visit(everything).page
    page.click(".findings a[href='#p26']")
    assert page.evaluate("document.activeElement.id") == "p26"
    box = page.locator("#p26").bounding_box()
    assert 60 < box["y"] < WIDE["height"] - box["height"]
    assert "page-damaged" in page.inner_text(".findings")
