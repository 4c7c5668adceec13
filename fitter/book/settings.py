"""`settings:` of book.yaml: what the designer allows to vary, checked and put in order."""

from __future__ import annotations

import re
from math import isfinite, prod
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    WithJsonSchema,
    model_validator,
)

from fitter.trade.tighten.settings import Setting

MOST_VALUES = 20
MOST_COMBINATIONS = 5_000
_WORD = re.compile(r"[A-Za-z0-9][A-Za-z0-9.+-]{0,31}|[+-]\.?[0-9][A-Za-z0-9.]{0,30}")

Value = int | float | str


def _values(given: Any) -> Any:
    if not isinstance(given, list) or len(given) < 2:
        raise ValueError("'values' is a list of two values or more, like [1.00, 0.99, 0.98]")
    if len(given) > MOST_VALUES:
        raise ValueError(f"'values' has {len(given)} entries; {MOST_VALUES} are the most")
    for value in given:
        _value(value)
    numbers = sum(not isinstance(value, str) for value in given)
    if numbers not in (0, len(given)):
        raise ValueError("'values' mixes numbers and words; give one kind")
    written = [as_written(value) for value in given]
    twice = [text for i, text in enumerate(written) if text in written[:i]]
    if twice:
        raise ValueError(f"'values' has {twice[0]} twice; keep one of them")
    return given


def _value(given: Any) -> Any:
    if given is None:
        return given
    if isinstance(given, bool) or not isinstance(given, (int, float, str)):
        raise ValueError(f"a value is a number or one word, not {given!r}")
    if isinstance(given, str) and not _WORD.fullmatch(given):
        raise ValueError(
            f"the value '{given}' has more in it than one word of letters, digits, '.', '+' and "
            "'-', 32 at most"
        )
    if isinstance(given, float) and not isfinite(given):
        raise ValueError(f"a value is a number or one word, not {given!r}")
    return given


def as_written(value: Value) -> str:
    """A value as the source gets it: numbers without needless zeros (`1.00` is `1`)."""
    if isinstance(value, float):
        return f"{value:.6f}".rstrip("0").rstrip(".")
    return str(value)


_ANY = WithJsonSchema({"type": ["number", "string"]})
_LIST = WithJsonSchema({"type": "array", "items": {"type": ["number", "string"]}, "minItems": 2})


class SettingEntry(BaseModel):
    """One setting: the values it may take, the one it has now, how much a step is disliked."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    values: Annotated[tuple[Value, ...], BeforeValidator(_values), _LIST]
    default: Annotated[Value | None, BeforeValidator(_value), _ANY] = None
    dislike: float = Field(1.0, ge=0, le=1_000_000)
    unit: str = Field("", max_length=32)

    @model_validator(mode="after")
    def _default_is_a_value(self) -> SettingEntry:
        if self.default is not None and as_written(self.default) not in self._written:
            raise ValueError(
                f"the default {as_written(self.default)} is none of the values "
                f"{', '.join(self._written)}"
            )
        return self

    @property
    def _written(self) -> tuple[str, ...]:
        return tuple(as_written(value) for value in self.values)

    def setting(self, name: str) -> Setting:
        """The same in the trade's terms: numbers in rising order, words in the order given."""
        default = self._written[0] if self.default is None else as_written(self.default)
        ordered = sorted(self.values, key=_number)
        written = tuple(as_written(value) for value in ordered)
        words = isinstance(ordered[0], str)
        return Setting(name, written, written.index(default), self.dislike, self.unit, words)


def _number(value: Value) -> float:
    return 0.0 if isinstance(value, str) else float(value)


def _few_enough(settings: dict[str, SettingEntry]) -> dict[str, SettingEntry]:
    number = prod(len(entry.values) for entry in settings.values())
    if number > MOST_COMBINATIONS:
        raise ValueError(
            f"the values of 'settings' combine in {number} ways; {MOST_COMBINATIONS} are the most, "
            "so give fewer"
        )
    return settings


Id = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$")]
Settings = Annotated[
    dict[Id, SettingEntry],
    AfterValidator(_few_enough),
]
