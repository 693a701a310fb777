"""Circuits out of pickles."""

from __future__ import annotations

from typing import Any

from ._stallpoint import Circuit


def rebuild(reference: str, log: list[tuple[str, tuple[Any, ...], dict[str, str]]]) -> Circuit:
    """A circuit made by the same calls again."""
    circuit = Circuit(reference)
    for method, arguments, keywords in log:
        getattr(circuit, method)(*arguments, **keywords)
    return circuit
