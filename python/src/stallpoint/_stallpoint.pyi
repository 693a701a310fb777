import os
from collections.abc import Callable, Mapping, Sequence
from typing import Any, ClassVar, TypeAlias, final

import numpy as np
from numpy.typing import ArrayLike, NDArray
from typing_extensions import disjoint_base

from .duties import BatteryDuty, ContactorAnswer, PartDutyList, SpanDuty
from .faults import Comparison, NextTest, Report, Rows
from .parts import Description, Part
from .records import (
    CheckList,
    Conformance,
    Counters,
    EnergyAccount,
    EventList,
    Extremes,
    Gate,
    GateCheck,
    Misfit,
    Peak,
    Reading,
    StalledCase,
    StallThreshold,
    Surge,
    TripPicture,
    VoltsLost,
)

_Quantity: TypeAlias = float | str
_Progress: TypeAlias = bool | Callable[[float], Any] | None
_Names: TypeAlias = str | tuple[str, str]

__all__ = [
    "Circuit",
    "CommissioningSheet",
    "Control",
    "Cycle",
    "Drive",
    "DutyStudy",
    "Fault",
    "FaultFinder",
    "NativePart",
    "OperatingPoint",
    "ProtectiveDevice",
    "Run",
    "Start",
    "State",
    "SurgeStudy",
    "Trace",
    "__version__",
    "_panic",
    "all_corners",
    "check_part",
    "check_wiring",
    "clamp_peak_hold",
    "clamp_read",
    "clamp_read_run",
    "commissioning_sheet",
    "compare",
    "duty_study",
    "fault_catalogue",
    "find_worst_corners",
    "fit_discharges",
    "fit_motor",
    "miniature_breaker",
    "monte_carlo_table",
    "motor_reverses_on",
    "part_kinds",
    "readings",
    "sensitivity_rows",
    "size_outcome",
    "standard_gates",
    "surge_study",
    "swap_table",
    "sweep_table",
    "wiring_map",
    "worst_day_corner",
]

__version__: str

def part_kinds() -> list[str]:
    """The kinds of parts that the library makes from parameters."""

def _panic(message: str) -> None:
    """For the package's own tests: panics inside a long call."""

@final
class NativePart:
    """A part of the library, checked."""

    def __new__(cls, kind: str, parameters: dict[str, Any]) -> NativePart: ...
    @property
    def terminals(self) -> list[str]: ...
    @property
    def kind(self) -> str: ...

@final
class ProtectiveDevice:
    """A breaker or a fuse, to be asked for its trip times."""

    def __new__(cls, kind: str, parameters: dict[str, Any]) -> ProtectiveDevice: ...
    def trip_time(self, current: _Quantity, position: float) -> float | None: ...
    def trips_from(self, position: float) -> float: ...
    def meets(self, gates: list[Gate]) -> list[GateCheck]: ...
    def position_at(self, i2t: float) -> float: ...
    @property
    def band_position(self) -> float: ...
    @property
    def rated_at_ambient(self) -> float: ...
    @property
    def melting_i2t(self) -> list[float] | None: ...
    @property
    def gates(self) -> list[Gate]: ...
    @property
    def band(self) -> dict[str, Any]: ...

def miniature_breaker(kind: str, rated: _Quantity) -> dict[str, Any]:
    """A miniature breaker of a type, as a file holds it; see ``Breaker.miniature``."""

def standard_gates(standard: str, kind: str, rated: _Quantity) -> list[Gate]:
    """The gates of a standard; see :mod:`stallpoint.gates`."""

def fit_motor(sheet: dict[str, Any], equal_constants: bool) -> tuple[dict[str, Any], list[Misfit], float]:
    """A motor from a data sheet; see ``PermanentMagnetMotor.from_data_sheet``."""

def fit_discharges(
    battery: dict[str, Any], current: ArrayLike, taken: ArrayLike, voltage: ArrayLike, pieces: int
) -> tuple[dict[str, Any], list[float]]:
    """A battery from measured discharges; see ``Battery.fit_discharges``."""

def motor_reverses_on(motor: dict[str, Any], swap: str) -> bool:
    """Whether a swap of wires reverses a motor."""

def clamp_read(parameters: dict[str, Any], circuit: Circuit, part: str) -> Reading:
    """See ``ClampAmmeter.read``."""

def clamp_read_run(
    parameters: dict[str, Any], run: Run, part: str
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """See ``ClampAmmeter.read_run``."""

def clamp_peak_hold(parameters: dict[str, Any], run: Run, part: str, start: _Quantity) -> tuple[Reading, float]:
    """See ``ClampAmmeter.peak_hold``."""

def check_part(
    part: Part,
    *,
    samples: int = 60,
    volts: float = 20.0,
    speed: float = 300.0,
    own: float = 50.0,
    seed: int = 1,
) -> Conformance:
    """Tries a part alone, in every mode that it reaches and at random states, against the contract of a part: names and
    sizes, derivatives against differences, energy. Meant for a part of your own.

    Args:
        part: the part.
        samples: random states tried in each mode.
        volts: largest voltage tried at a terminal against the first, V.
        speed: largest shaft speed tried, rad/s.
        own: largest own unknown tried, in multiples of its nominal size from its initial value.
        seed: start of the random numbers: the same number tries the same states.

    Raises:
        NotConformingError: ``findings`` says what is wrong.

    It tries, it does not prove. What the part's own methods raise comes through.

    Example:
        >>> import stallpoint as sp
        >>> found = sp.check_part(sp.Resistor("30 mohm"))
        >>> found.is_source, found.balanced
        (False, True)
    """

@final
class State:
    """The whole state of a circuit at an instant, to start another run from: ``start=state``."""

    @property
    def time(self) -> float: ...
    def mode(self, part: str) -> int | None:
        """The mode of a part, as the part numbers them; None when there is no such part."""

@disjoint_base
class Trace:
    """Values over time: a run, or samples of one.

    Arrays are float64, one value a row; ``time`` in s. At an event two rows share the time: before and after.
    """

    @property
    def time(self) -> NDArray[np.float64]: ...
    @property
    def nodes(self) -> list[str]: ...
    @property
    def parts(self) -> list[str]: ...
    def terminals(self, part: str) -> list[str]:
        """Names of a part's electrical terminals."""
    def states(self, part: str) -> dict[str, str]:
        """Names of a part's states and probes, each with its unit."""
    def voltage(self, node: str, to: str | None = None) -> NDArray[np.float64]:
        """Voltage of a node to the reference, or to the node ``to``, V.

        Raises:
            UnknownNameError: no such node.
        """
    def current(self, part: str, terminal: str | None = None) -> NDArray[np.float64]:
        """Current into the first terminal of a part, or into the one named, A.

        Raises:
            UnknownNameError: no such part or terminal.
        """
    def state(self, part: str, name: str) -> NDArray[np.float64]:
        """A part's own state or probe, in its unit.

        Raises:
            UnknownNameError: no such part or state.
        """
    def __len__(self) -> int: ...
    def __reduce__(self) -> tuple[Any, ...]: ...
    def _repr_html_(self) -> str: ...

@disjoint_base
class Run(Trace):
    """A transient: values at the accepted steps, dense output between them, events, energy."""

    @property
    def events(self) -> EventList: ...
    @property
    def energy(self) -> EnergyAccount: ...
    @property
    def ending(self) -> str: ...
    @property
    def counters(self) -> Counters: ...
    def sample(self, times: ArrayLike) -> Trace:
        """Values on a grid of times (s) within the run, from the dense output; at an event the later value.

        Raises:
            ArgumentError: a time outside the run.
        """
    def extremes(
        self,
        *,
        voltage: _Names | None = None,
        current: _Names | None = None,
        state: tuple[str, str] | None = None,
        after: float | None = None,
        before: float | None = None,
    ) -> Extremes:
        """Largest and smallest value of one signal over the dense output."""
    def accumulated(
        self,
        *,
        voltage: _Names | None = None,
        current: _Names | None = None,
        state: tuple[str, str] | None = None,
        power: int = 1,
    ) -> NDArray[np.float64]:
        """Running integral of one signal, or of a power of it, one value a row."""
    def crossing(
        self,
        level: float,
        *,
        voltage: _Names | None = None,
        current: _Names | None = None,
        state: tuple[str, str] | None = None,
        rising: bool = True,
        after: float = 0.0,
    ) -> float | None:
        """First time after ``after`` at which one signal crosses ``level``; None when it does not."""
    def state_at_end(self) -> State | None:
        """The state at the end, to start another run from."""

@final
class Start(Run):
    """A start of a drive: a run with its surge."""

    @property
    def surge(self) -> Surge: ...

@final
class OperatingPoint:
    """An equilibrium of a circuit. ``stuck``: whether any shaft is held by its dry friction."""

    @property
    def stuck(self) -> bool: ...
    @property
    def nodes(self) -> list[str]: ...
    @property
    def parts(self) -> list[str]: ...
    def terminals(self, part: str) -> list[str]: ...
    def states(self, part: str) -> dict[str, str]: ...
    def voltage(self, node: str, to: str | None = None) -> float:
        """Voltage of a node to the reference, or to the node ``to``, V."""
    def current(self, part: str, terminal: str | None = None) -> float:
        """Current into the first terminal of a part, or into the one named, A."""
    def state(self, part: str, name: str) -> float:
        """A part's own state or probe, in its unit."""
    def as_start(self) -> State:
        """The state, to start a transient from."""
    def __reduce__(self) -> tuple[Any, ...]: ...
    def _repr_html_(self) -> str: ...

@final
class Circuit:
    """A circuit: parts by name between nodes by name.

    Args:
        reference: name of the reference node.

    Example:
        >>> import stallpoint as sp
        >>> c = sp.Circuit()
        >>> c.add("source", sp.VoltageSource("12.6 V"), plus="p", minus="ground")
        >>> c.add("lamp", sp.Resistor("6.3 ohm"), a="p", b="ground")
        >>> round(c.operating_point().current("lamp"), 9)
        2.0
    """

    def __new__(cls, reference: str = "ground") -> Circuit: ...
    @property
    def reference(self) -> str: ...
    @property
    def nodes(self) -> list[str]: ...
    @property
    def parts(self) -> list[str]: ...
    def add(self, name: str, part: Part, /, **connections: str) -> None:
        """Adds a part; the keywords give the node of each terminal. A shaft left out gets one of its own.

        Raises:
            TopologyError: a name taken, a terminal left out, an electrical node on a shaft.
            UnknownNameError: no such terminal.
        """
    def attach(self, on: str, part: Part, /) -> str:
        """Puts a load on the shaft of the part ``on``; returns the name it gets."""
    def replace(self, name: str, part: Part, /) -> None:
        """Puts another part in the place of one with the same terminals."""
    def warnings(self) -> list[str]:
        """Warnings about the topology that do not forbid a solution."""
    def operating_point(self, *, start: str = "standstill", settled: bool = False) -> OperatingPoint:
        """The operating point: electrical and mechanical states at equilibrium, slow states held.

        Args:
            start: "standstill" or "running": which of two equilibria is sought.
            settled: brings slow states (temperatures, polarisation) to equilibrium too.

        Raises:
            TopologyError, NoEquilibriumError, SolveError
        """
    def measure(self, instrument: Description, plus: str, minus: str) -> Reading:
        """What an instrument shows between two nodes at the operating point, with the instrument in the circuit.

        Args:
            instrument: an ``sp.Voltmeter``, ``sp.TestLamp`` or ``sp.Ohmmeter``.
            plus, minus: nodes of the first and the second probe.

        Raises:
            InstrumentError: an ohmmeter on a voltage; a lamp on more than it may be put on.
            UnknownNameError: no such node.
            NoEquilibriumError, SolveError: no operating point.
        """
    def transient(
        self,
        until: _Quantity,
        *,
        rtol: float = 1e-4,
        atol: Mapping[str, float] | None = None,
        max_step: _Quantity | None = None,
        max_steps: int = 2_000_000,
        start: Run | OperatingPoint | State | None = None,
        progress: _Progress = None,
        stop_at_event_of: str | None = None,
        energy: bool = True,
    ) -> Run:
        """The transient from the parts' initial states to the time ``until``.

        Args:
            until: s.
            rtol: relative tolerance of a step.
            atol: absolute tolerances by unit ("V", "A", "rad/s" …).
            max_step: longest step, s.
            max_steps: steps after which the run ends.
            start: a run (its end), an operating point or a state to start from.
            progress: True for a bar, or a function of the fraction done; one that returns False cancels and keeps what was computed.
            stop_at_event_of: ends the run after the first event of this part.
            energy: whether to keep the energy account.

        Raises:
            TopologyError, SolveError (``partial`` is the run up to then), ArgumentError
        """
    def __reduce__(self) -> tuple[Any, ...]: ...

@final
class Drive:
    """A complete reversing motor circuit, battery to load. A value: a change makes a copy.

    Made from parts and tables by name, as in its file: ``battery``, ``isolator``, ``breaker`` or ``fuse``, ``supply_cable``, ``contactor``,
    ``motor``, ``load`` (one or a list), ``ground_cable``, ``battery_lead``, ``isolator_lead``, ``motor_lead``, ``joints`` (a dict of
    :class:`Joint` or total resistance, ohm), ``name``, ``note``, ``case``, ``control``, ``limits``; or by :meth:`from_toml`. It compares,
    hashes and pickles by its description, floats to the bit.

    Example:
        >>> import stallpoint as sp
        >>> drive = sp.Drive.demo("boat_lift")
        >>> drive.with_values({"supply_cable.length": "14 m"}) == drive
        False
    """

    def __new__(cls, **description: Any) -> Drive: ...
    @staticmethod
    def demo(name: str) -> Drive:
        """A demo drive by its name: "boat_lift" (12 V), "conveyor_gate" (24 V) or "stage_lift" (48 V). All its data are invented."""
    @staticmethod
    def from_toml(path: str | os.PathLike[str]) -> Drive:
        """Reads a drive's TOML file.

        Raises:
            DriveFileError: with line and column.
            FileError: the file cannot be read.
        """
    @staticmethod
    def from_toml_text(text: str) -> Drive:
        """Reads a drive from the text of a TOML file."""
    def to_toml(self, path: str | os.PathLike[str] | None = None) -> str:
        """The drive as TOML text; written to a file too when a path is given."""
    @staticmethod
    def json_schema() -> str:
        """JSON Schema of drive files, as text."""
    @property
    def name(self) -> str: ...
    @property
    def protection(self) -> str:
        """What protects it, "breaker" or "fuse": the name of its part in a run, and the beginning of its two points' names."""
    @property
    def description(self) -> dict[str, Any]:
        """The drive as nested dicts, as its file holds it."""
    def circuit(self, control: Control | None = None) -> Circuit:
        """The drive's circuit with the control switch worked as ``control`` says, at rest without one: to add meters and lamps, to
        look inside. Its reference is ``battery_negative``."""
    def with_values(self, values: dict[str, Any]) -> Drive:
        """A copy with other values: a dict of paths in the drive's file to numbers in SI or texts with units.

        Raises:
            ValueKeyError: a key that does not exist or a value that does not read.
        """
    def doubts(self) -> list[str]:
        """What in the description looks like a slip, in words: a unit mistaken, a coil of another voltage.

        Nothing is refused for it; the surge study's report says it. The limits are typical, without a source.

        Example:
            >>> import stallpoint as sp
            >>> sp.Drive.demo("boat_lift").with_values({"supply_cable.length": "18 km"}).doubts()
            ['supply_cable.length is 18000 m: is the prefix right?']
        """

    def with_fault(self, fault: Fault) -> Drive:
        """A copy with a fault in it."""
    def start(
        self,
        direction: str = "forward",
        *,
        hold: _Quantity,
        rtol: float = 1e-4,
        max_step: _Quantity | None = None,
        energy: bool = True,
        progress: _Progress = None,
    ) -> Start:
        """Starts the drive from rest and holds the control for ``hold`` seconds; the run ends with the hold."""
    def run(
        self,
        control: Control,
        until: _Quantity,
        *,
        rtol: float = 1e-4,
        max_step: _Quantity | None = None,
        start: Run | OperatingPoint | State | None = None,
        energy: bool = True,
        progress: _Progress = None,
    ) -> Run:
        """Works the control as given, from rest or from ``start``, until a time in s."""
    def operating_point(
        self, control: str = "at rest", *, start: str = "standstill", settled: bool = False
    ) -> OperatingPoint:
        """The operating point with the control "at rest", "forward" or "reverse".

        Raises:
            NoEquilibriumError: the contactor chatters.
        """
    def measure(
        self, instrument: Description, plus: str, minus: str, control: str = "at rest"
    ) -> Reading:
        """What an instrument shows between two points of the drive with the control "at rest", "forward" or "reverse", once
        all has settled; instruments and errors as for :meth:`Circuit.measure`.

        Example:
            >>> import stallpoint as sp
            >>> lamp = sp.TestLamp("12 V", "21 W")
            >>> sp.Drive.demo("boat_lift").measure(lamp, "supply_stud", "ground_stud").word
            'bright'
        """
    def reverses_on(self, swap: str) -> bool:
        """Whether a swap of wires reverses the drive: "motor_wires", "signal_wires", "motor_and_signal_wires" or
        "supply_and_ground".

        Raises:
            ArgumentError: another swap.
        """
    @property
    def joint_names(self) -> list[str]:
        """Names of its joints; a wound field has more."""
    def stall_threshold(self, joint: str, direction: str = "forward") -> StallThreshold:
        """The resistances of a joint at which the drive stalls and at which the contactor lets go, ohm.

        Args:
            joint: one of :attr:`joint_names`.
            direction: "forward" or "reverse".

        Raises:
            ArgumentError: no such joint.
        """
    def stall_threshold_of(self, key: str, good: float, bad: float, direction: str = "forward") -> StallThreshold:
        """The values of any parameter at which the drive stalls and at which the contactor lets go, by bisection.

        Args:
            key: path in the drive's file: "battery.series_resistance", "supply_cable.length", "ground_stud_joint.resistance".
            good: a value with which it works, SI.
            bad: a value to search up (or down) to, SI.
            direction: "forward" or "reverse".

        Returns:
            The values in SI: ``good`` where it fails there already, None where it works at ``bad`` still.

        Raises:
            ValueKeyError: no such parameter, or a value that does not fit it.
            ArgumentError: good and bad that are not two finite numbers.

        Example:
            >>> import stallpoint as sp
            >>> worn = sp.Drive.demo("boat_lift").stall_threshold_of("battery.series_resistance", 1e-3, 10.0)
            >>> 0.01 < worn.stalls_at < 1
            True
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __reduce__(self) -> tuple[Any, ...]: ...
    def _repr_html_(self) -> str: ...

@final
class Control:
    """When the control switch calls for which direction; nothing is called for outside the spans."""

    def __new__(cls) -> Control: ...
    def forward(self, start: _Quantity, end: _Quantity) -> Control:
        """A copy that also calls for forward between two times, s."""
    def reverse(self, start: _Quantity, end: _Quantity) -> Control:
        """A copy that also calls for reverse between two times, s."""
    def spans(self, direction: str) -> list[tuple[float, float]]:
        """Spans in which a direction is called for, (start, end) in s."""
    @property
    def last_time(self) -> float:
        """The last time at which anything is called for, s."""
    def __eq__(self, other: object, /) -> bool: ...
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __reduce__(self) -> tuple[Any, ...]: ...

@final
class Cycle:
    """A duty cycle: S1, S2 or S3 of IEC 60034-1, or any spans of forward, reverse and rest that repeat.

    Each start's surge, braking and reversal counts.

    Example:
        >>> import stallpoint as sp
        >>> sp.Cycle().forward("40 s").rest("2 min")
        <Cycle: forward 40 s, rest 120 s, repeated>
        >>> sp.Cycle.intermittent("25 %").duty_factor
        0.25
    """

    def __new__(cls) -> Cycle: ...
    @staticmethod
    def continuous(direction: str = "forward") -> Cycle:
        """S1: held in one direction for ever."""
    @staticmethod
    def short_time(on: _Quantity, *, direction: str = "forward") -> Cycle:
        """S2: held for a time from cold, then at rest until cold again."""
    @staticmethod
    def intermittent(duty_factor: _Quantity, cycle_time: _Quantity | None = None, *, direction: str = "forward") -> Cycle:
        """S3: held for a share of the cycle, which takes 10 min when not said otherwise."""
    def forward(self, duration: _Quantity) -> Cycle:
        """A copy with a span of forward added, s."""
    def reverse(self, duration: _Quantity) -> Cycle:
        """A copy with a span of reverse added, s."""
    def rest(self, duration: _Quantity) -> Cycle:
        """A copy with a span of rest added, s."""
    @property
    def kind(self) -> str:
        """ "S1", "S2" or "repeated"."""
    @property
    def spans(self) -> list[tuple[str, float]]:
        """Its spans: "forward", "reverse" or "rest", and the duration in s."""
    @property
    def time(self) -> float | None:
        """How long it takes, s; None when it does not repeat."""
    @property
    def duty_factor(self) -> float | None:
        """Cyclic duration factor: the share in which the motor is energised; None for S2."""
    def __eq__(self, other: object, /) -> bool: ...
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __reduce__(self) -> tuple[Any, ...]: ...

@final
class Fault:
    """A fault of one part of a drive: a joint whose total resistance is ``resistance``, ohm, or any fault of the catalogue by its
    part and mode, as bad as ``amount`` says in the catalogue's unit (typically bad when left out)."""

    def __new__(
        cls, part: str, mode: str = "corroded", *, resistance: _Quantity | None = None, amount: float | None = None
    ) -> Fault: ...
    @property
    def part(self) -> str: ...
    @property
    def mode(self) -> str: ...
    @property
    def amount(self) -> float | None: ...
    @property
    def resistance(self) -> float | None: ...
    def __eq__(self, other: object, /) -> bool: ...
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __reduce__(self) -> tuple[Any, ...]: ...

def fault_catalogue(drive: Drive) -> Rows:
    """The faults that a drive may have: part, mode, words, section, range of severity, prior (common practice, no source), hazard.

    Args:
        drive: the drive.

    Returns:
        A list of :class:`CatalogueEntry <stallpoint.CatalogueEntry>`, section by section.
    """

def readings(drive: Drive) -> Rows:
    """What every instrument shows on a drive, healthy or not: probe pair x control position x instrument, with tolerance.

    Steady readings come from operating points (a mean while the contactor chatters), those "surge" from a start. Tolerances are
    two deviations over drives drawn from their parameters' spread, with the meter's accuracy (typical, no source). Nothing is shown
    finer than the instrument's display.

    Args:
        drive: the drive. A motor is called slow against this drive as it is.

    Returns:
        A list of :class:`ReadingRow <stallpoint.ReadingRow>`.

    Raises:
        ArgumentError: a description that cannot be a drive.
    """

def compare(healthy: Drive, faulty: Drive, direction: str = "forward") -> Comparison:
    """Volts along the loop of two drives: at rest, at the surge peak, at the end of a hold of 2 s.

    Args:
        healthy: a drive.
        faulty: the same with a fault.
        direction: "forward" or "reverse".

    Returns:
        A :class:`Comparison <stallpoint.Comparison>`.

    Raises:
        SolveError: a start that cannot be solved.
    """

@final
class FaultFinder:
    """Finds the fault of a drive from readings.

    Every fault of the catalogue is simulated at three severities on ``draws`` drives drawn from their spread. Readings weigh
    those cases; a fault's probability is the sum over its cases. Faults that no instrument tells apart are one answer. One fault at
    a time.

    Args:
        drive: the drive as it should be.
        draws: drives drawn for each fault and severity.
        seed: seed of the draws.
        progress: called with the share done; returning False stops.

    Raises:
        ArgumentError: a description that cannot be a drive; no draws.
        CancelledError: ``progress`` stopped it.
    """

    def __new__(cls, drive: Drive, *, draws: int = 8, seed: int = 1, progress: _Progress = None) -> FaultFinder: ...
    @property
    def points(self) -> list[str]:
        """Points at which a probe may be put."""
    def next_test(self) -> NextTest | None:
        """The measurement that tells most per minute and danger; None when the fault is found or nothing tells more."""
    def observe(
        self, plus: str = "", minus: str = "", *, control: str, instrument: str = "voltmeter", reading: float | str
    ) -> None:
        """Enters a reading.

        Args:
            plus: first probe, or the conductor in the clamp; nothing to look or listen.
            minus: second probe.
            control: "at rest", "forward", "reverse" or "isolated".
            instrument: "voltmeter", "low-impedance voltmeter", "test lamp", "ohmmeter", "clamp ammeter", "listen", "watch the motor",
                "watch the breaker".
            reading: a number in SI, a text with a unit, or one of the instrument's words ("bright", "clicks", "stands", "slow forward",
                "open").

        Raises:
            UnknownNameError: there is no such point.
            ArgumentError: a reading that the instrument cannot show.
            ImplausibleReadingError: a reading that no drive of this kind can show. Nothing is entered then.
        """
    def shown(
        self, drive: Drive, plus: str = "", minus: str = "", *, control: str, instrument: str = "voltmeter"
    ) -> float | str:
        """What an instrument shows on a drive of this kind, healthy or not, as its display shows it; arguments as for :meth:`observe`."""
    def ranking(self) -> Rows:
        """Faults (:class:`Ranked <stallpoint.Ranked>`), the most probable first, with what would tell each from the next; faults that no
        instrument tells apart in one row."""
    def reason(self) -> str:
        """Why, in plain words: "supply good, ground good, signals good: contactor". Good is what readings have tested; what they have
        not is said to be not tested."""
    def contradiction(self) -> tuple[str, int] | None:
        """Readings that no fault explains, in words, with the index of the one most likely wrong; None without."""
    def forget(self, index: int) -> None:
        """Takes back the reading of this index."""
    def reset(self) -> None:
        """Forgets all readings."""
    def steps(self) -> Rows:
        """The steps of common practice (:class:`ProcedureStep <stallpoint.ProcedureStep>`): what each tests, the healthy value, published
        limits, what other values mean, and its caution."""
    def procedure(self) -> Report:
        """The procedure of common practice as a document."""

def wiring_map(drive: Drive) -> Rows:
    """Every wire of a drive with the studs it belongs on, whatever is swapped on it now.

    Returns:
        A list of :class:`Wire <stallpoint.Wire>`.
    """

def check_wiring(drive: Drive, found: Sequence[tuple[str, str, str]]) -> list[str]:
    """What is wrong with wires as found, in words; empty when all is right.

    Args:
        drive: the drive.
        found: (wire, from, to) each; wires not looked at may be left out, either end may come first.

    Raises:
        ArgumentError: a wire that the drive does not have.
    """

def swap_table(drive: Drive) -> Rows:
    """The truth table of swapped wires to direction.

    Returns:
        Sixteen :class:`SwapRow <stallpoint.SwapRow>`: each of four swaps or not.
    """

def commissioning_sheet(drive: Drive) -> CommissioningSheet:
    """Expected readings of a drive with bands, wiring map and truth table, to be filled in after a refit."""

@final
class CommissioningSheet:
    """Expected readings with bands, to be filled in."""

    @property
    def lines(self) -> Rows: ...
    def fill(self, line: int, reading: float | str) -> str:
        """Fills in a reading; the verdict of its line: "pass", "marginal" or "fail".

        Args:
            line: index of the line.
            reading: a number in the line's unit (0.0146 V, not 14.6), a text with a unit ("14.6 mV"), or a word.

        Raises:
            ArgumentError: there is no such line.
        """
    @property
    def report(self) -> Report: ...

@final
class SurgeStudy:
    """The result of a surge study."""

    @property
    def drive(self) -> Drive: ...
    @property
    def checks(self) -> CheckList: ...
    def start(self, direction: str = "forward") -> Start:
        """The start in a direction, with its surge."""
    def run(self, name: str, direction: str = "forward") -> Run:
        """One of the runs: "start", "release", "stalled start", "stalled release", "reversal"."""
    @property
    def peaks(self) -> list[Peak]: ...
    @property
    def volts(self) -> list[VoltsLost]: ...
    @property
    def stalled(self) -> list[StalledCase]: ...
    @property
    def picture(self) -> TripPicture: ...
    def plot(self, ax: Any = None) -> Any:
        """The picture: surge over trip band. Needs matplotlib; returns the axes."""
    def to_text(self) -> str:
        """The report as text."""
    def to_markdown(self) -> str:
        """The report as Markdown."""
    def to_html(self) -> str:
        """The report as one HTML page."""
    def _repr_html_(self) -> str: ...

@final
class DutyStudy:
    """The result of a duty study."""

    @property
    def drive(self) -> Drive: ...
    @property
    def cycle(self) -> Cycle: ...
    @property
    def checks(self) -> CheckList: ...
    @property
    def parts(self) -> PartDutyList:
        """How each part fares; ``parts["motor winding"]`` finds one."""
    @property
    def not_known(self) -> list[tuple[str, str]]:
        """Parts of which too little is known: the part, and what is missing."""
    @property
    def spans(self) -> list[SpanDuty]:
        """Loads span by span."""
    @property
    def battery(self) -> BatteryDuty:
        """What a cycle takes out of the battery."""
    @property
    def contactor(self) -> ContactorAnswer:
        """Continuous or intermittent contactor, in numbers."""
    def plot(self, ax: Any = None) -> Any:
        """Temperatures through the steady cycle. Needs matplotlib; returns the axes."""
    def to_text(self) -> str:
        """The report as text."""
    def to_markdown(self) -> str:
        """The report as Markdown."""
    def to_html(self) -> str:
        """The report as one HTML page."""
    def _repr_html_(self) -> str: ...

def duty_study(
    drive: Drive,
    cycle: Cycle,
    *,
    follow: _Quantity | None = None,
    ambient_c: _Quantity | None = None,
    rtol: float = 1e-4,
    progress: _Progress = None,
) -> DutyStudy:
    """How warm each part gets in a duty cycle, how long each may be on, how long it must rest.

    The steady cycle is found directly, as the fixed point of one cycle's heat; no hours are simulated.

    Args:
        drive: the drive.
        cycle: the cycle.
        follow: how long each span is followed, s; 20 s when left out. What it has settled to by then goes on.
        ambient_c: air around everything, °C; left out: ``motor.ambient_c`` for motor and coils, 30 °C for cables.
        rtol: relative tolerance of the runs.
        progress: True for a bar, or a function of the fraction done.

    Raises:
        ArgumentError: a cycle that never calls for a direction.
        CancelledError: the progress function returned False.

    Example:
        >>> import stallpoint as sp
        >>> study = sp.duty_study(sp.Drive.demo("boat_lift"), sp.Cycle().forward("40 s").rest("2 min"))
        >>> study.parts["motor winding"].highest > 100
        True
    """

def surge_study(
    drive: Drive,
    *,
    hold: _Quantity | None = None,
    joint: str | None = None,
    rtol: float = 1e-4,
    progress: _Progress = None,
) -> SurgeStudy:
    """Start, release, stalled release and reversal in both directions, held against every rating.

    Args:
        drive: the drive.
        hold: how long the control is held, s; 3 s when left out.
        joint: the joint whose corrosion is studied; the ground stud's when left out.
        rtol: relative tolerance of the runs.
        progress: True for a bar, or a function of the fraction done.

    Raises:
        CancelledError: the progress function returned False.

    Example:
        >>> import stallpoint as sp
        >>> study = sp.surge_study(sp.Drive.demo("boat_lift"))
        >>> study.start("forward").surge.trips
        'no'
    """

def sweep_table(
    drive: Drive,
    values: dict[Any, Any],
    measure: Sequence[str],
    *,
    direction: str = "forward",
    hold: _Quantity | None = None,
    rtol: float = 1e-4,
    threads: int | None = None,
    progress: _Progress = None,
) -> Any:
    """Starts a drive at every point of a grid; see :func:`stallpoint.sweep`."""

def size_outcome(
    drive: Drive,
    choices: list[Any],
    corners: list[Any],
    without: list[str],
    requirements: list[Any],
    rule: str,
    *,
    hold: _Quantity | None = None,
    bounds: bool = False,
    rtol: float = 1e-4,
    threads: int | None = None,
    progress: _Progress = None,
) -> Any:
    """Tries every combination of the choices in every corner; see :func:`stallpoint.size`."""

def all_corners(drive: Drive, tolerances: list[Any]) -> dict[str, dict[str, Any]]:
    """Every combination of the tolerances' ends; see :func:`stallpoint.corners`."""

def worst_day_corner(
    drive: Drive,
    *,
    state_of_charge: float | None = None,
    battery_resistance: float | None = None,
    hot_c: float | None = None,
    joint: float | None = None,
    load: float | None = None,
) -> dict[str, dict[str, Any]]:
    """The corner on which everything is against the drive; see :func:`stallpoint.worst_day`."""

def find_worst_corners(
    drive: Drive,
    tolerances: list[Any],
    samples: int,
    seed: int,
    without: list[str],
    requirements: list[Any],
    *,
    hold: _Quantity | None = None,
    rtol: float = 1e-4,
    threads: int | None = None,
    progress: _Progress = None,
) -> Any:
    """The corners in which each requirement is worst; see :func:`stallpoint.worst_corners`."""

def monte_carlo_table(
    drive: Drive,
    tolerances: list[Any],
    measure: list[str],
    samples: int,
    seed: int,
    *,
    direction: str = "forward",
    hold: _Quantity | None = None,
    rtol: float = 1e-4,
    threads: int | None = None,
    progress: _Progress = None,
) -> Any:
    """Starts a drive many times with its tolerances drawn; see :func:`stallpoint.monte_carlo`."""

def sensitivity_rows(
    drive: Drive,
    parameters: list[str],
    measure: list[str],
    *,
    direction: str = "forward",
    hold: _Quantity | None = None,
    rtol: float = 1e-6,
    threads: int | None = None,
    progress: _Progress = None,
) -> Any:
    """Derivatives of measures to parameters; see :func:`stallpoint.sensitivities`."""
