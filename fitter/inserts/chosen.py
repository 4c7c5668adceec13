"""What was chosen to win pages, remembered in the generated file and nowhere else."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fitter.trade.tighten.settings import Setting


@dataclass(frozen=True, slots=True, order=True)
class Passage:
    """A paragraph or a chapter known by its text, not by its place.

    `text` is the MD5 of the block of source lines it begins in; `number` counts the paragraphs, or
    the chapters, that begin in such a block, from 1. `file` is named as the source names it.
    """

    file: str
    text: str
    number: int


@dataclass(frozen=True, slots=True)
class Chosen:
    """Values of settings by name, only those that differ from the default; and passages.

    `shorter` are paragraphs set a line shorter, `longer` chapters whose pages run a line longer.
    """

    settings: Mapping[str, str] = field(default_factory=dict)
    shorter: tuple[Passage, ...] = ()
    longer: tuple[Passage, ...] = ()


def allowed_values(
    settings: Sequence[Setting], chosen: Mapping[str, str]
) -> tuple[dict[str, str], tuple[str, ...]]:
    """The values that differ from the defaults, and a sentence for each one no longer allowed."""
    kept: dict[str, str] = {}
    lost = []
    for setting in settings:
        value = chosen.get(setting.name, setting.values[setting.default])
        if value not in setting.values:
            lost.append(
                f"the chosen value {value} of '{setting.name}' is none of its values any more: "
                f"left out, so {setting.values[setting.default]} holds."
            )
        elif value != setting.values[setting.default]:
            kept[setting.name] = value
    return kept, tuple(lost)
