"""Small results: frozen dataclasses that print, pickle and show as tables in notebooks."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from . import _repr

if TYPE_CHECKING:
    from .parts import Battery, PermanentMagnetMotor

_Record = TypeVar("_Record", bound=Any)


@dataclass(frozen=True)
class Event:
    """One line of a run's list of events: ``time`` in s, ``part``, ``what`` happened."""

    time: float
    part: str
    what: str

    def __str__(self) -> str:
        return f"{self.time:.6f} s: {self.part} {self.what}"


class _Rows(list[_Record]):
    """A list of records that shows as a table."""

    def __repr__(self) -> str:
        return "\n".join(str(row) for row in self) or "(none)"

    def _repr_html_(self) -> str:
        return _repr.records_html(tuple(self))

    def to_pandas(self) -> Any:
        """The records as a pandas DataFrame, one row a record."""
        import pandas as pd

        return pd.DataFrame([{f.name: getattr(row, f.name) for f in fields(row)} for row in self])


class EventList(_Rows[Event]):
    """What happened during a run, in order."""


class CheckList(_Rows["Check"]):
    """Requirements with their verdicts."""


@dataclass(frozen=True)
class Extremes:
    """Largest and smallest value of a signal, and when (s)."""

    max: float
    max_at: float
    min: float
    min_at: float


@dataclass(frozen=True)
class PartEnergy:
    """Energy of one part over a run, J."""

    part: str
    delivered: float
    dissipated: float
    stored: float
    lost_at_jumps: float


@dataclass(frozen=True)
class EnergyAccount:
    """Energy of every part over a run: ``parts`` by name; ``delivered`` in all and the ``residual``, J."""

    parts: dict[str, PartEnergy]
    delivered: float
    residual: float

    def __getitem__(self, part: str) -> PartEnergy:
        return self.parts[part]

    def _repr_html_(self) -> str:
        return _repr.records_html(tuple(self.parts.values()))


@dataclass(frozen=True)
class Counters:
    """What a run cost, independent of the machine."""

    steps: int
    rejected_by_error: int
    rejected_by_newton: int
    redone_for_events: int
    events: int
    restarts: int
    newton_iterations: int
    evaluations: int
    jacobians: int
    factorisations: int
    repivots: int
    solves: int


@dataclass(frozen=True)
class Surge:
    """The start-up surge in figures. Currents in A, voltages in V, times in s, ``surge_i2t`` in A²s.

    ``time_to_speed`` is the time to 95 % of the settled speed, or None; ``trips`` is "no", "may" or "will" by both edges of the
    trip band; ``tripped_at`` is when the breaker or fuse at its band position opened, or None.
    """

    peak_current: float
    time_of_peak: float
    peak_motor_current: float
    time_to_speed: float | None
    surge_i2t: float
    lowest_stud_voltage: float
    lowest_coil_voltage: float
    stalled: bool
    trips: str
    tripped_at: float | None
    dropouts: int

    def _repr_html_(self) -> str:
        return _repr.fields_html(self)


@dataclass(frozen=True)
class StallThreshold:
    """Values at which a drive fails: of a joint's resistance, ohm, or of the parameter asked for, in SI.

    Attributes:
        stalls_at: the value beyond which the motor cannot break away; None: never.
        drops_out_at: the value beyond which the contactor lets go under locked-rotor current, and chatters; None: never.
        which_first: "stalls", "drops out" or "neither".
    """

    stalls_at: float | None
    drops_out_at: float | None
    which_first: str


@dataclass(frozen=True)
class Check:
    """A requirement: ``value`` and ``limit`` in ``unit``, relative ``margin`` (positive passes), ``verdict`` ("pass", "marginal",
    "fail", "may", "not checked"), ``basis`` of the limit (or the missing datum), ``when``; the stable ``key`` of its kind, the ``time``
    in its run (s) and the ``corner`` of the tolerances, where there are such."""

    requirement: str
    value: float | None
    limit: float | None
    unit: str
    margin: float | None
    verdict: str
    basis: str
    when: str
    key: str = ""
    time: float | None = None
    corner: str | None = None

    def __str__(self) -> str:
        number = "" if self.value is None else f" {self.value:.4g}"
        limit = "" if self.limit is None else f" (limit {self.limit:.4g} {self.unit})"
        return f"{self.verdict}: {self.requirement}:{number}{limit}"


@dataclass(frozen=True)
class Peak:
    """Largest current of a ``part`` in a ``run`` of a ``direction``: ``current`` in A, ``time`` in s."""

    part: str
    direction: str
    run: str
    current: float
    time: float


@dataclass(frozen=True)
class Drop:
    """Volts lost over one ``element`` of the loop, from one point to another."""

    element: str
    start: str
    end: str
    volts: float


@dataclass(frozen=True)
class VoltsLost:
    """The loop's voltages in one state of the drive: ``when``, the ``battery``'s volts, the ``drops`` round the loop."""

    when: str
    battery: float
    drops: list[Drop]


@dataclass(frozen=True)
class StalledCase:
    """The drive stalled with its control held. Times in s; None where it never happens or a datum is missing."""

    direction: str
    joint: str
    joint_resistance: float
    what: str
    current: float
    joint_power: float
    fastest_trips_after: float | None
    slowest_trips_after: float | None
    winding_limit_after: float | None
    cable_limit_after: float | None
    hold_limit: float | None
    protected: bool | None


@dataclass(frozen=True, eq=False)
class Curve:
    """A curve: ``current`` in A against ``time`` in s."""

    current: NDArray[np.float64]
    time: NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class TripPicture:
    """Curves of the picture that lays the surge over the trip band, and what decides in one sentence."""

    fastest: Curve
    slowest: Curve
    cable: Curve
    rms: Curve
    ampacity: float | None
    rated: float
    caption: str


@dataclass(frozen=True)
class Reading:
    """What an instrument shows: ``value`` in ``unit``, and a ``word`` beside it: how bright a lamp is ("dark", "glow", "dim",
    "bright"), "open" beyond an ohmmeter's range, else None."""

    value: float
    unit: str
    word: str | None
    text: str

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True)
class Gate:
    """What a standard asks of a breaker or fuse at a ``multiple`` of its rated current: it ``holds_for`` so long (s; infinite
    for ever), it ``trips_within`` so long (s). ``status`` says how well the row is known: "read", or "memory", which is no limit."""

    standard: str
    multiple: float
    holds_for: float | None = None
    trips_within: float | None = None
    status: str = "read"


@dataclass(frozen=True)
class GateCheck:
    """One requirement of a ``gate``: the ``edge`` that it binds ("fastest" must hold, "slowest" must trip), when that edge trips
    (``trips_in``, s; None when never), whether the device ``holds`` it."""

    gate: Gate
    edge: str
    trips_in: float | None
    holds: bool
    text: str

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True)
class Misfit:
    """One number of a data sheet beside that of the fitted motor: ``quantity``, ``unit``, as ``given``, as ``fitted``."""

    quantity: str
    unit: str
    given: float
    fitted: float

    @property
    def relative(self) -> float:
        """The difference as a share of what the sheet says."""
        return self.fitted / self.given - 1


@dataclass(frozen=True)
class FittedMotor:
    """A ``motor`` fitted to a data sheet, with every number of the sheet beside the motor's own; ``ratio_of_constants`` is torque
    over back-EMF constant."""

    motor: PermanentMagnetMotor
    misfits: list[Misfit]
    ratio_of_constants: float

    @property
    def worst(self) -> Misfit:
        """The misfit that is largest as a share."""
        return max(self.misfits, key=lambda misfit: abs(misfit.relative))

    def _repr_html_(self) -> str:
        return _repr.records_html(tuple(self.misfits))


@dataclass(frozen=True, eq=False)
class FittedBattery:
    """A ``battery`` fitted to measured discharges: at each point the ``measured`` voltage and the battery's own, ``fitted``, V."""

    battery: Battery
    measured: NDArray[np.float64]
    fitted: NDArray[np.float64]

    @property
    def worst(self) -> float:
        """The largest difference between the two, V."""
        return float(np.max(np.abs(self.fitted - self.measured)))

    @property
    def rms(self) -> float:
        """Root of the mean squared difference, V."""
        return float(np.sqrt(np.mean((self.fitted - self.measured) ** 2)))


@dataclass(frozen=True)
class Conformance:
    """What a trial of a part found: the ``modes`` that were reached, how many ``states`` were tried, whether it ``is_source`` of
    energy, whether its content is linear (``linear_content``, which the fifth-order method needs), whether its energy was
    ``balanced``."""

    modes: list[int]
    states: int
    is_source: bool
    linear_content: bool
    balanced: bool
