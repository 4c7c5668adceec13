"""`--gathering` and `--short`: a binding said on the command line."""

from __future__ import annotations

from dataclasses import replace

from fitter.errors import BadInput
from fitter.trade.fold.gatherings import Binding, size_faults

_BOTH = "--gathering, --short"
_OPTIONS = {"sizes": "--gathering", "short": "--short"}
_ELSE = {"short": "; name other short ones with --short, or none with --short 0"}


def asked_for(binding: Binding, gathering: str | None, short: str | None) -> Binding | None:
    """The binding with the sizes of the command line, None where it says none.

    Raises BadInput for what does not fold.
    """
    if gathering is None and short is None:
        return None
    if gathering is not None:
        sizes = _sizes("--gathering", gathering)
        if not sizes:
            raise BadInput(f"--gathering: name a size, like 16 or 32,16, not '{gathering}'.")
        binding = replace(binding, sizes=sizes)
    if short is not None:
        binding = replace(binding, short=_sizes("--short", short))
    faults = size_faults(binding)
    if faults and short is None:
        raise BadInput(*(f"--gathering: {said}{_ELSE.get(at, '')}." for at, said in faults))
    if faults:
        raise BadInput(*(f"{_OPTIONS.get(at, _BOTH)}: {said}." for at, said in faults))
    return binding


def _sizes(option: str, text: str) -> tuple[int, ...]:
    parts = [part for part in text.replace(",", " ").split() if part != "0"]
    if not all(part.isdecimal() and len(part) < 6 for part in parts):
        raise BadInput(f"{option}: sizes read like 16 or 32,16, not '{text}'.")
    return tuple(int(part) for part in parts)
