"""Circuits out of pickles."""

from __future__ import annotations

from typing import Any

from ._stallpoint import Circuit


def rebuild(origin: Any, log: list[tuple[str, tuple[Any, ...], dict[str, str]]]) -> Circuit:
    """A circuit from what it began as, the name of its reference or a drive and its control, and what was done to it."""
    circuit = Circuit(origin) if isinstance(origin, str) else origin[0].circuit(origin[1])
    for method, arguments, keywords in log:
        getattr(circuit, method)(*arguments, **keywords)
    return circuit
