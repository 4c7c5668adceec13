"""The rules of the gate, by family; importing this room enters them into the register."""

from fitter.trade.gate.rules import binding, blanks, imprint

__all__ = ["binding", "blanks", "imprint"]
