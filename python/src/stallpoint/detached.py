"""What pickles make: values without the circuit they came from."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from . import _repr
from ._stallpoint import Control, Drive, Fault
from .errors import UnknownNameError


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


def fault(part: str, resistance: float) -> Fault:
    """A fault from its fields."""
    return Fault(part, resistance=resistance)


class DetachedTrace:
    """Values over time as plain arrays: what a run or its samples become in a pickle.

    The same accessors (``time``, ``voltage``, ``current`` into the first terminal, ``state``), but no dense output: sample before
    you pickle.
    """

    def __init__(self, time: NDArray[np.float64], values: dict[str, dict[Any, NDArray[np.float64]]], extra: dict[str, Any]):
        self.time = time
        self._values = values
        self._extra = extra
        self.nodes = list(values["voltage"])
        self.parts = list(values["current"])
        self.__dict__.update(extra)

    def __len__(self) -> int:
        return len(self.time)

    def _get(self, what: str, name: Any) -> NDArray[np.float64]:
        try:
            return self._values[what][name]
        except KeyError:
            known = ", ".join(map(str, list(self._values[what])[:8]))
            raise UnknownNameError(f'there is no {what} "{name}"; known are {known}', name=name, known=known) from None

    def voltage(self, node: str, to: str | None = None) -> NDArray[np.float64]:
        """Voltage of a node to the reference, or to the node ``to``, V."""
        return self._get("voltage", node) - (self._get("voltage", to) if to else 0.0)

    def current(self, part: str) -> NDArray[np.float64]:
        """Current into the first terminal of a part, A."""
        return self._get("current", part)

    def state(self, part: str, name: str) -> NDArray[np.float64]:
        """A part's own state or probe, in its unit."""
        return self._get("state", (part, name))

    def __repr__(self) -> str:
        return _repr.trace_text(self)

    def _repr_html_(self) -> str:
        return _repr.trace_html(self)


def reduce_trace(trace: Any) -> tuple[Any, ...]:
    """How a run or samples go into a pickle."""
    electrical = [part for part in trace.parts if trace.terminals(part)]
    values = {
        "voltage": {node: trace.voltage(node) for node in trace.nodes},
        "current": {part: trace.current(part) for part in electrical},
        "state": {(part, name): trace.state(part, name) for part in trace.parts for name in trace.states(part)},
    }
    names = ("events", "energy", "ending", "counters", "surge")
    extra = {name: getattr(trace, name) for name in names if hasattr(trace, name)}
    return (DetachedTrace, (trace.time, values, extra))


class DetachedPoint:
    """An operating point as plain numbers: what it becomes in a pickle."""

    def __init__(self, stuck: bool, values: dict[str, dict[Any, float]]):
        self.stuck = stuck
        self._values = values
        self.nodes = list(values["voltage"])
        self.parts = list(values["current"])

    def voltage(self, node: str, to: str | None = None) -> float:
        """Voltage of a node to the reference, or to the node ``to``, V."""
        return self._values["voltage"][node] - (self._values["voltage"][to] if to else 0.0)

    def current(self, part: str) -> float:
        """Current into the first terminal of a part, A."""
        return self._values["current"][part]

    def state(self, part: str, name: str) -> float:
        """A part's own state or probe, in its unit."""
        return self._values["state"][(part, name)]

    def __repr__(self) -> str:
        return _repr.operating_point_text(self)


def reduce_operating_point(point: Any) -> tuple[Any, ...]:
    """How an operating point goes into a pickle."""
    electrical = [part for part in point.parts if point.terminals(part)]
    values = {
        "voltage": {node: point.voltage(node) for node in point.nodes},
        "current": {part: point.current(part) for part in electrical},
        "state": {(part, name): point.state(part, name) for part in point.parts for name in point.states(part)},
    }
    return (DetachedPoint, (point.stuck, values))
