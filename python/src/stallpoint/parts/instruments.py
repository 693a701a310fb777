"""Meters and the test lamp."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from .._stallpoint import clamp_peak_hold, clamp_read, clamp_read_run
from ..records import Reading
from ._base import Description, LibraryPart, Quantity, plain

if TYPE_CHECKING:
    from .._stallpoint import Circuit, Run

__all__ = ["ClampAmmeter", "Ohmmeter", "TestLamp", "Voltmeter"]


class TestLamp(LibraryPart):
    """A test lamp of stated volts and watts, with a tungsten filament that heats: cold it has about a thirteenth of its hot
    resistance. Terminals ``a``, ``b``.

    Equation: ``v = R(T) i`` with ``R`` growing as tungsten's with the filament temperature ``T``, which ``v i`` heats
    and radiation cools.
    Typical: 21 W at 12 V, a signal lamp; 5 W, a marker lamp (typical, no source).

    Args:
        rated_voltage: Rated voltage, V.
        rated_power: Power at the rated voltage, W.
        cold_resistance: Resistance at 20 °C, ohm, as an ohmmeter reads it; a thirteenth of the hot one when left out.
        conduction_share: Share of the rated power that leaves by conduction.
        warm_up_time: Heat stored in the filament at its rated point over the rated power, s; 0.1 s when left out (typical, no source).
        ambient_c: Ambient temperature, at which the filament starts, °C; 20 when left out.
        highest_voltage: Highest voltage that an operator may put it on, V; 1.25 times the rating when left out (typical, no source).

    Raises:
        PartError: A wrong unit, or a value outside its range.

    State: ``filament_temperature``; probes: ``power``, ``resistance``, ``light``. It does not burn out. :meth:`Circuit.measure` and
    :meth:`Drive.measure` put it between two nodes and say how bright it is.

    Example:
        >>> import stallpoint as sp
        >>> sp.TestLamp("12 V", "21 W").terminals
        ['a', 'b']
    """

    __test__ = False  # a lamp for testing, no test of pytest's

    def __init__(
        self,
        rated_voltage: Quantity,
        rated_power: Quantity,
        *,
        cold_resistance: Quantity | None = None,
        conduction_share: Quantity | None = None,
        warm_up_time: Quantity | None = None,
        ambient_c: Quantity | None = None,
        highest_voltage: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class Voltmeter(LibraryPart):
    """A voltmeter with its input resistance. Terminals ``plus``, ``minus``; probe: ``reading``.

    Equation: ``i = v / R``.
    Typical: 10 Mohm; 3 kohm for a low-impedance input (typical, no source).

    Args:
        input_resistance: Input resistance, ohm; 10 Mohm when left out (typical, no source).

    Example:
        >>> import stallpoint as sp
        >>> sp.Voltmeter().terminals
        ['plus', 'minus']
    """

    def __init__(self, input_resistance: Quantity | None = None) -> None:
        super().__init__({"input_resistance": input_resistance})


class ClampAmmeter(LibraryPart):
    """A clamp ammeter with a bandwidth: its reading follows the current by ``τ dy/dt = i - y``. Terminals ``a``, ``b``: as a
    part it is a piece of wire with the clamp around it. Round a part of a run or a circuit it is read afterwards.

    Typical: a bandwidth of 1 kHz and a peak window of 1 ms (typical, no source).

    Args:
        bandwidth: Frequency at which the reading is 3 dB down, Hz; 1 kHz when left out (typical, no source).
        peak_window: How long peak hold watches, s; 100 ms when left out (typical, no source).

    Raises:
        PartError: A wrong unit, or a value that is not above zero.

    States: ``current`` (true), ``reading`` (as shown).

    Example:
        >>> import stallpoint as sp
        >>> sp.ClampAmmeter(bandwidth="1 kHz", peak_window="1 ms").terminals
        ['a', 'b']
    """

    def __init__(self, *, bandwidth: Quantity | None = None, peak_window: Quantity | None = None) -> None:
        super().__init__({"bandwidth": bandwidth, "peak_window": peak_window})

    def read(self, circuit: Circuit, part: str) -> Reading:
        """What it shows round the first terminal of a part at the circuit's operating point, A.

        Raises:
            UnknownNameError: No such part.
            NoEquilibriumError, SolveError: No operating point.
        """
        return clamp_read(plain(self._parameters), circuit, part)

    def read_run(self, run: Run, part: str) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """What it shows round the first terminal of a part over a run: times, s, and readings, A.

        Raises:
            UnknownNameError: No such part.
        """
        return clamp_read_run(plain(self._parameters), run, part)

    def peak_hold(self, run: Run, part: str, start: Quantity = 0.0) -> tuple[Reading, float]:
        """The largest reading, of either sign, over its window from the time ``start`` (s) on, and when it was reached, s.

        Raises:
            UnknownNameError: No such part.
            ArgumentError: A window that holds no part of the run.
        """
        return clamp_peak_hold(plain(self._parameters), run, part, start)


class Ohmmeter(Description):
    """An ohmmeter: a small test voltage behind a resistance; it refuses a live circuit. It is no part: hand it to
    :meth:`Circuit.measure` or :meth:`Drive.measure`. Each default is typical, no source.

    Args:
        test_voltage: Voltage at its open leads, V; 2 V when left out.
        test_current: Current through its shorted leads, A; 1 mA when left out.
        largest: Resistance above which it shows "open", ohm; 40 Mohm when left out.
        live_above: Voltage at which it refuses, V; 50 mV when left out.

    Example:
        >>> import stallpoint as sp
        >>> c = sp.Circuit()
        >>> c.add("joint", sp.Resistor("4.7 ohm"), a="stud", b="ground")
        >>> str(c.measure(sp.Ohmmeter(), "stud", "ground"))
        '4.7 ohm'
    """

    def __init__(
        self,
        *,
        test_voltage: Quantity | None = None,
        test_current: Quantity | None = None,
        largest: Quantity | None = None,
        live_above: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)

    @property
    def kind(self) -> str:
        """What it is called."""
        return "Ohmmeter"
