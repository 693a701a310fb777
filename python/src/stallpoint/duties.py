"""What a duty study returns, and its picture."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from .records import _Rows


@dataclass(frozen=True)
class PartDuty:
    """How one part fares in a duty cycle.

    ``unit`` is "degC", or "1" for a contact's share of its rise at the carrying current and for a breaker's accumulated trip
    fraction. ``cold``, ``lowest``, ``highest``, ``if_held`` (where it settles if the control is held for ever) and ``limit`` are
    in that unit, infinite without end. Times in s; infinite: any time on, or no rest is enough. None: not known, or no such
    question in this cycle. ``curve``: (s, value) through the steady cycle.
    """

    part: str
    unit: str
    cold: float
    lowest: float
    highest: float
    highest_at: float
    case_highest: float | None
    if_held: float
    limit: float | None
    basis: str
    rms_current: float | None
    longest_on_from_cold: float | None
    longest_on: float | None
    shortest_rest: float | None
    largest_duty_factor: float | None
    curve: list[tuple[float, float]] = field(repr=False)


class PartDutyList(_Rows[PartDuty]):
    """How every part fares; ``parts["motor winding"]`` finds one by its name."""

    def __getitem__(self, which: Any) -> Any:
        if not isinstance(which, str):
            return super().__getitem__(which)
        for part in self:
            if part.part == which:
                return part
        raise KeyError(f"there is no part {which!r}; known are {', '.join(part.part for part in self)}")


@dataclass(frozen=True)
class SpanDuty:
    """Loads of one span: "forward", "reverse" or "rest", its ``duration`` in s, the motor's rms and settled current in A."""

    call: str
    duration: float
    motor_rms: float
    motor_settled: float
    stalled: bool


@dataclass(frozen=True)
class BatteryDuty:
    """Charge taken in a cycle (in S1 in an hour), C and as a ``share`` of the capacity; cycles (hours) that the charge ``lasts``."""

    charge: float
    share: float
    lasts: float


@dataclass(frozen=True)
class ContactorAnswer:
    """What a cycle asks of the contactor: ``longest_on`` at a stretch in s, ``duty_factor``, operations an hour, the busiest
    ``contact`` with its rms current, the largest settled current, A; ``words`` says it."""

    longest_on: float
    duty_factor: float | None
    operations_per_hour: float | None
    contact: str
    rms_current: float
    settled_current: float
    words: str

    def __str__(self) -> str:
        return self.words


def plot(study: Any, ax: Any = None) -> Any:
    """Temperatures of the parts through the steady cycle (in S2 while energised), with their limits.

    Args:
        study: a duty study.
        ax: matplotlib axes; new ones when left out.

    Returns:
        The axes.
    """
    from . import plot as looks

    ax = looks._axes(ax, (8.0, 5.0))
    lines = [("-", looks.BLACK), ("--", looks.ORANGE), ("-.", looks.BLUE), (":", looks.GREEN), ((0, (5, 1, 1, 1, 1, 1)), looks.RED)]
    groups: list[tuple[str, Any]] = []
    for part in study.parts:
        if part.unit != "degC" or not part.curve:
            continue
        for place, (names, other) in enumerate(groups):  # cables of one kind warm alike: one line for them
            if part.limit == other.limit and np.allclose(part.curve, other.curve, rtol=0, atol=0.05):
                groups[place] = (f"{names}, {part.part}", other)
                break
        else:
            groups.append((part.part, part))
    for place, (names, part) in enumerate(groups):
        dash, colour = lines[place % len(lines)]
        time, value = np.array(part.curve).T
        if len(time) == 1:  # S1: one settled value
            time, value = np.array([0.0, 1.0]), np.repeat(value, 2)
        ax.plot(time, value, ls=dash, color=colour, lw=1.8, label=names)
        if part.limit is not None:
            ax.axhline(part.limit, ls=dash, color=colour, lw=0.8, alpha=0.7)
            spot = (0.99, part.limit)
            coordinates = ("axes fraction", "data")
            ax.annotate(f"limit: {names}", spot, xycoords=coordinates, ha="right", va="bottom", fontsize=7)
    ax.set(xlabel="time in the cycle, s", ylabel="temperature, °C", title=f"{study.drive.name}: {repr(study.cycle)[8:-1]}")
    ax.grid(True, lw=0.3)
    ax.legend(loc="best", fontsize=8)
    return ax
