"""Two printings compared: for a person, and for scripts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from fitter.trade.printing.comparison import Comparison
from fitter.trade.printing.edition import Advice


def advice_json(comparison: Comparison, advice: Advice) -> dict[str, Any]:
    """Verdict, evidence, limits and what follows; then every page."""
    return {
        **asdict(advice),
        "extents": {"old": comparison.old_extent, "new": comparison.new_extent},
        "trims_mm": {
            "old": [comparison.old_trim.width_mm, comparison.old_trim.height_mm],
            "new": [comparison.new_trim.width_mm, comparison.new_trim.height_mm],
        },
        "pages": [asdict(page) for page in comparison.pages],
        "gone": list(comparison.gone),
        "movements": [asdict(movement) for movement in comparison.movements],
    }


def advice_text(advice: Advice) -> str:
    """The verdict, why, what follows, and by which limits."""
    return "\n".join(_lines(advice))


def _lines(advice: Advice) -> Iterator[str]:
    yield f"{advice.verdict[0].upper()}{advice.verdict[1:]}."
    yield from (f"  {sentence}" for sentence in advice.evidence)
    yield "What follows:"
    yield from (f"  {sentence}" for sentence in (*advice.follows, *advice.warnings))
    limits = advice.limits
    yield (
        f"Limits ('compare:' in book.yaml): {limits.corrected_words} words on a page are a few; a "
        f"new edition from more than {limits.changed_words:g} % of the words, {limits.new_pages} "
        f"pages of new text, or {limits.trim_mm:g} mm of trim."
    )
    yield advice.caution
