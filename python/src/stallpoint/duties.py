"""What a duty study returns, and its picture."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from .records import _Rows


@dataclass(frozen=True)
class PartDuty:
    """How one part fares in a duty cycle.

    Attributes:
        part: "motor winding", "supply cable", "contact supply to motor A", "coil A", "breaker, fastest device", ...
        unit: "degC", or "1" for a contact's share of its rise at the carrying current and for a breaker's accumulated trip
            fraction. ``cold``, ``lowest``, ``highest``, ``if_held`` and ``limit`` are in it.
        cold: Value after a long rest.
        lowest: Lowest value in the steady cycle; infinite when it grows for ever.
        highest: Highest value in the steady cycle, at ``highest_at`` s.
        case_highest: Highest temperature of the motor's case, degC, for a winding that has one.
        if_held: Where it settles if the busiest direction is held for ever; infinite when it never does.
        limit: Its limit, None when not known; ``basis`` says where it comes from, or what is missing.
        rms_current: Rms current over the cycle, A.
        longest_on_from_cold: How long one run from cold may be, s; infinite without end.
        longest_on: How long one run "forward" and one "reverse" may be, s, when all runs of the cycle are made longer alike and the
            rests stay. Never more than from cold; empty where no cycle repeats.
        shortest_rest: The least rest in each cycle, s, all its rests together; infinite when none is enough. After one short-time
            run: until it is cold again.
        largest_duty_factor: The largest share of a cycle of this length for which it may be energised, up to 1.
        curve: (s, value) through the steady cycle.

    None: not known, or no such question in this cycle.
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
    longest_on: dict[str, float]
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
