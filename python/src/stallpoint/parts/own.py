"""Parts of your own, written in Python."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ._base import Part

__all__ = ["OwnPart", "Unknown"]


@dataclass(frozen=True)
class Unknown:
    """An unknown that a part adds, with the equation of the same index."""

    name: str
    """Its name; ``run.state(part, name)`` finds it by this."""
    unit: str = "1"
    """Its unit."""
    nominal: float = 1.0
    """The size below which it does not matter: errors are measured against it."""
    initial: float = 0.0
    """Its value when a transient starts."""
    differential: bool = True
    """Whether its equation has a content ``q``; one without holds at every instant."""
    pace: Literal["fast", "slow", "accumulator"] = "fast"
    """Whether an operating point brings it to equilibrium ("fast") or holds it at its initial value."""


class OwnPart(Part):
    """A part of your own: subclass it, name its terminals and unknowns, and give its equations in :meth:`evaluate`.

    Its local values ``x`` are first the terminals' (voltages in V, shaft speeds in rad/s), then its own unknowns. Row ``i`` of a
    terminal is the flow into the part there (A, N m); row ``i`` of an own unknown is the part's own equation
    ``d/dt q + f = 0``.

    Limits: no discrete states and no events; the GIL is taken at every evaluation, some hundred times slower than a part of the
    library. It does not go into a drive's file. It pickles when its class can be imported.

    Example:
        >>> import stallpoint as sp
        >>> class Varistor(sp.OwnPart):
        ...     kind, terminals, by_differences = "varistor", ("a", "b"), True
        ...     def __init__(self, k):
        ...         self.k = k  # A/V³
        ...     def evaluate(self, t, x):
        ...         current = self.k * (x[0] - x[1]) ** 3
        ...         return (0.0, 0.0), (current, -current)
        >>> c = sp.Circuit()
        >>> c.add("source", sp.VoltageSource("2 V"), plus="p", minus="ground")
        >>> c.add("varistor", Varistor(0.5), a="p", b="ground")
        >>> round(c.operating_point().current("varistor"), 9)
        4.0
    """

    kind: str = "own part"
    """What it is, in a word."""
    terminals: Sequence[str] = ()
    """Names of its electrical terminals. A current is positive into the first."""
    shafts: Sequence[str] = ()
    """Names of its terminals on shafts; they come after the electrical ones."""
    unknowns: Sequence[Unknown] = ()
    """Unknowns it adds."""
    by_differences: bool = False
    """Whether its derivatives are made by central differences instead of :meth:`derivatives`."""

    def evaluate(self, t: float, x: Sequence[float]) -> tuple[Sequence[float], Sequence[float]]:
        """Content ``q`` and flow ``f`` of every row at time ``t`` (s). Contents belong into the equations of own unknowns
        that are differential, and must be 0 in all other rows."""
        raise NotImplementedError("give the part an `evaluate(self, t, x)` that returns (q, f)")

    def derivatives(
        self, t: float, x: Sequence[float]
    ) -> tuple[Sequence[Sequence[float]], Sequence[Sequence[float]]]:
        """``dq/dx`` and ``df/dx``, each a table of one row a row and one column a local value."""
        raise NotImplementedError("give the part a `derivatives(self, t, x)`, or set `by_differences = True`")

    def power(self, t: float, x: Sequence[float]) -> tuple[float, float]:
        """Power in W that it brings in from outside, and that it turns into heat; the energy account needs them."""
        return 0.0, 0.0

    def stored(self, t: float, x: Sequence[float]) -> float:
        """Energy in J that it stores; the energy account needs it."""
        return 0.0
