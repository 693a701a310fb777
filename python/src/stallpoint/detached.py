"""What a run, its samples and an operating point become when they are pickled.

The parts of a circuit may be anything, so a pickle holds numbers only: every node voltage, terminal current and state at
the rows. The accessors are the same; what needs the equations (dense output) is gone: sample before pickling.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from . import _repr
from ._stallpoint import Control, Cycle, Drive, Fault
from .errors import StallpointError, UnknownNameError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from ._stallpoint import OperatingPoint, Trace
    from .records import Counters, EnergyAccount, EventList, Surge

__all__ = [
    "DetachedPoint",
    "DetachedRun",
    "DetachedTrace",
    "control",
    "cycle",
    "drive_from_toml",
    "fault",
    "reduce_operating_point",
    "reduce_trace",
]

_GONE = {"sample", "extremes", "crossing", "accumulated", "state_at_end", "as_start"}


def _find(table: dict[str, Any], kind: str, name: str, part: str | None = None) -> Any:
    try:
        return table[name]
    except KeyError:
        known = ", ".join(f'"{known}"' for known in table)
        of = "" if part is None else f' of part "{part}"'
        message = f'there is no {kind} "{name}"{of}; known are {known}'
        raise UnknownNameError(message, kind=f"unknown_{kind}", name=name, known=known, part=part) from None


@dataclass(eq=False, repr=False)
class _Values:
    """Values by name: floats of an operating point, arrays of a trace."""

    voltages: dict[str, Any]
    currents: dict[str, dict[str, Any]]
    own: dict[str, dict[str, tuple[str, Any]]]

    @property
    def nodes(self) -> list[str]:
        """Electrical nodes, the reference first."""
        return list(self.voltages)

    @property
    def parts(self) -> list[str]:
        """Parts in the order they were added, then the shafts."""
        return list(self.currents)

    def terminals(self, part: str) -> list[str]:
        """Names of a part's electrical terminals."""
        return list(_find(self.currents, "part", part))

    def states(self, part: str) -> dict[str, str]:
        """Names of a part's states and probes, each with its unit."""
        return {name: unit for name, (unit, _) in _find(self.own, "part", part).items()}

    def _voltage(self, node: str, to: str | None) -> Any:
        across = _find(self.voltages, "node", node)
        return across if to is None else across - _find(self.voltages, "node", to)

    def _current(self, part: str, terminal: str | None) -> Any:
        flows = _find(self.currents, "part", part)
        if terminal is None:
            terminal = next(iter(flows), "")
        return _find(flows, "terminal", terminal, part)

    def _state(self, part: str, name: str) -> Any:
        return _find(_find(self.own, "part", part), "state", name, part)[1]

    def __getattr__(self, name: str) -> Any:
        if name in _GONE:
            raise StallpointError(f"`{name}` needs the circuit, which a pickle does not keep; call it before pickling")
        raise AttributeError(name)


@dataclass(eq=False, repr=False)
class DetachedTrace(_Values):
    """Rows of values over time without their circuit."""

    time: NDArray[np.float64] = field(default_factory=lambda: np.empty(0))
    """Times of the rows, s."""

    def __len__(self) -> int:
        return len(self.time)

    def voltage(self, node: str, to: str | None = None) -> NDArray[np.float64]:
        """Voltage of a node to the reference, or to the node ``to``, V."""
        return np.array(self._voltage(node, to))

    def current(self, part: str, terminal: str | None = None) -> NDArray[np.float64]:
        """Current into the first terminal of a part, or into the one named, A."""
        return np.array(self._current(part, terminal))

    def state(self, part: str, name: str) -> NDArray[np.float64]:
        """A part's own state or probe, in its unit."""
        return np.array(self._state(part, name))

    def __repr__(self) -> str:
        return _repr.trace_text(self)

    def _repr_html_(self) -> str:
        return _repr.trace_html(self)


@dataclass(eq=False, repr=False)
class DetachedRun(DetachedTrace):
    """A run without its circuit."""

    events: EventList = field(default_factory=list)  # type: ignore[assignment]
    """What happened, in order."""
    energy: EnergyAccount | None = None
    """Where the energy went."""
    ending: str = ""
    """How it ended."""
    counters: Counters | None = None
    """What it cost."""
    surge: Surge | None = None
    """The surge, when it was a start."""


@dataclass(eq=False, repr=False)
class DetachedPoint(_Values):
    """An operating point without its circuit."""

    stuck: bool = False
    """Whether any shaft is held by its dry friction."""

    def voltage(self, node: str, to: str | None = None) -> float:
        """Voltage of a node to the reference, or to the node ``to``, V."""
        return float(self._voltage(node, to))

    def current(self, part: str, terminal: str | None = None) -> float:
        """Current into the first terminal of a part, or into the one named, A."""
        return float(self._current(part, terminal))

    def state(self, part: str, name: str) -> float:
        """A part's own state or probe, in its unit."""
        return float(self._state(part, name))

    def __repr__(self) -> str:
        return _repr.operating_point_text(self)

    def _repr_html_(self) -> str:
        return _repr.operating_point_html(self)


def _tables(values: Trace | OperatingPoint) -> tuple[dict[str, Any], ...]:
    voltages = {node: values.voltage(node) for node in values.nodes}
    currents = {p: {terminal: values.current(p, terminal) for terminal in values.terminals(p)} for p in values.parts}
    own = {p: {name: (unit, values.state(p, name)) for name, unit in values.states(p).items()} for p in values.parts}
    return voltages, currents, own


def reduce_trace(trace: Trace) -> tuple[Any, ...]:
    """What a trace or run pickles as."""
    from ._stallpoint import Run

    tables = (*_tables(trace), trace.time)
    if not isinstance(trace, Run):
        return DetachedTrace, tables
    surge = getattr(trace, "surge", None)
    return DetachedRun, (*tables, trace.events, trace.energy, trace.ending, trace.counters, surge)


def reduce_operating_point(point: OperatingPoint) -> tuple[Any, ...]:
    """What an operating point pickles as."""
    return DetachedPoint, (*_tables(point), point.stuck)


def drive_from_toml(text: str) -> Drive:
    """A drive from the text of its file."""
    return Drive.from_toml_text(text)


def control(forward: list[tuple[float, float]], reverse: list[tuple[float, float]]) -> Control:
    """A control from its spans."""
    made = Control()
    for start, end in forward:
        made = made.forward(start, end)
    for start, end in reverse:
        made = made.reverse(start, end)
    return made


def cycle(kind: str, spans: list[tuple[str, float]]) -> Cycle:
    """A duty cycle from its kind and its spans."""
    call, duration = spans[0]
    if kind == "S1":
        return Cycle.continuous(call)
    if kind == "S2":
        return Cycle.short_time(duration, direction=call)
    made = Cycle()
    for call, duration in spans:
        made = {"forward": made.forward, "reverse": made.reverse, "rest": made.rest}[call](duration)
    return made


def fault(part: str, mode: str, amount: float | None) -> Fault:
    """A fault from its fields."""
    return Fault(part, mode, amount=amount)
