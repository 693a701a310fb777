"""Ideal sources."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ._base import LibraryPart, Quantity, again

__all__ = ["CurrentSource", "VoltageSource"]


def _table(times: ArrayLike, values: ArrayLike) -> dict[str, Any]:
    return {name: np.asarray(given, dtype=float).tolist() for name, given in (("times", times), ("values", values))}


class VoltageSource(LibraryPart):
    """An ideal voltage source. Terminals ``plus``, ``minus``; its current is positive into ``plus``, so one that delivers shows
    a negative current.

    Equation: ``v_plus - v_minus = V(t)``.

    Args:
        voltage: Voltage of ``plus`` to ``minus``, V, the same at all times.

    Raises:
        PartError: A wrong unit.

    Example:
        >>> import stallpoint as sp
        >>> sp.VoltageSource("12.6 V").terminals
        ['plus', 'minus']
    """

    def __init__(self, voltage: Quantity) -> None:
        super().__init__({"voltage": voltage})

    @classmethod
    def table(cls, times: ArrayLike, values: ArrayLike) -> VoltageSource:
        """A voltage by a table: rising times (s) and values (V), straight between its rows, constant outside. Its corners
        are landed on exactly.

        Raises:
            PartError: Times that do not rise, lengths that differ.
        """
        return again(cls, _table(times, values))  # type: ignore[return-value]

    @classmethod
    def function(cls, function: Callable[[float], float]) -> VoltageSource:
        """A voltage by a function of time, s to V; it should be smooth, corners belong into a table. It is called at every
        step, under the GIL; what it raises ends the run. It pickles when the function does.
        """
        return again(cls, {"function": function})  # type: ignore[return-value]


class CurrentSource(LibraryPart):
    """An ideal current source: its current goes into ``plus``, through it, out of ``minus``.

    Equation: ``i = I(t)``.

    Args:
        current: Current into ``plus``, A, the same at all times.

    Raises:
        PartError: A wrong unit.

    Example:
        >>> import stallpoint as sp
        >>> sp.CurrentSource("5 A").terminals
        ['plus', 'minus']
    """

    def __init__(self, current: Quantity) -> None:
        super().__init__({"current": current})

    @classmethod
    def table(cls, times: ArrayLike, values: ArrayLike) -> CurrentSource:
        """A current by a table: rising times (s) and values (A), straight between its rows, constant outside.

        Raises:
            PartError: Times that do not rise, lengths that differ.
        """
        return again(cls, _table(times, values))  # type: ignore[return-value]

    @classmethod
    def function(cls, function: Callable[[float], float]) -> CurrentSource:
        """A current by a smooth function of time, s to A; as for ``VoltageSource.function``."""
        return again(cls, {"function": function})  # type: ignore[return-value]
