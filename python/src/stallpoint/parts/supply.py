"""Battery, cable, joint."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from .._stallpoint import fit_discharges
from ..records import FittedBattery
from ._base import LibraryPart, Quantity

__all__ = ["Battery", "Cable", "Joint"]


class Battery(LibraryPart):
    """A battery of nominal 12 V blocks: open-circuit voltage by charge, series resistance, one R–C branch. Terminals
    ``plus``, ``minus``.

    Equation: ``v = E(charge) - R i - v_1 - v_2``, ``C dv_1/dt = i - v_1 / R_1``, ``dq/dt = -i``.
    Typical: 3 to 10 mohm for a lead-acid block of 100 Ah, 2 to 3 mohm for lithium iron phosphate (typical, no source).

    Args:
        chemistry: "agm_lead_acid", "flooded_lead_acid" or "lithium_iron_phosphate".
        capacity: Capacity of one block, C; "100 Ah" reads.
        series_resistance: Series resistance of one block at 25 °C, ohm; from ``cold_cranking_amperes`` when left out.
        state_of_charge: State of charge at the start, 0 to 1; full when left out.
        polarisation_resistance, polarisation_capacitance: One block's R–C branch, ohm and F; there is none when left out.
        blocks_in_series, strings_in_parallel: How the blocks are connected.
        temperature_c: Temperature, °C; 25 when left out.
        resistance_coefficient: Relative change of the series resistance with temperature, 1/K.
        cold_cranking_amperes: Cold-cranking rating of one block, A.
        slow_polarisation_resistance, slow_polarisation_capacitance: One block's second, slower R–C branch, ohm and F.
        resistance_by_charge: Factors of the series resistance: [state of charge, factor] in rising order.
        open_circuit_points: Your own open-circuit voltage of one block: [state of charge, V] in rising order.
        open_circuit_coefficient: Change of one block's open-circuit voltage with temperature, V/K; 0 when left out.
        cranking_test: "sae_j537" (when left out), "en_50342_1", "din_43539" or "iec_60095_1_old".
        peukert: {"form": "rated_hours", "exponent": 1.2, "hours": "20 h"} or {"form": "one_ampere", "exponent": 1.2}.
        cut_off: Cut-off of a lithium pack: over_current, under_voltage; over_current_delay, under_voltage_delay,
            reconnects_after, clamp_voltage.
        faults: reversed; bad_string with dead_cells, added_resistance, capacity_left, state_of_charge, open.

    Raises:
        PartError: A wrong unit, or a value outside its range.

    States: ``current``, ``polarisation_voltage``, ``state_of_charge``; probes: ``open_circuit_voltage``, ``terminal_voltage``. No
    gassing.

    Example:
        >>> import stallpoint as sp
        >>> sp.Battery.agm("100 Ah", "6 mohm").terminals
        ['plus', 'minus']
    """

    def __init__(
        self,
        chemistry: str,
        capacity: Quantity,
        series_resistance: Quantity | None = None,
        *,
        state_of_charge: Quantity | None = None,
        polarisation_resistance: Quantity | None = None,
        polarisation_capacitance: Quantity | None = None,
        blocks_in_series: int | None = None,
        strings_in_parallel: int | None = None,
        temperature_c: Quantity | None = None,
        resistance_coefficient: float | None = None,
        cold_cranking_amperes: Quantity | None = None,
        slow_polarisation_resistance: Quantity | None = None,
        slow_polarisation_capacitance: Quantity | None = None,
        resistance_by_charge: Sequence[Sequence[float]] | None = None,
        open_circuit_points: Sequence[Sequence[float]] | None = None,
        open_circuit_coefficient: float | None = None,
        cranking_test: str | None = None,
        peukert: Mapping[str, Any] | None = None,
        cut_off: Mapping[str, Any] | None = None,
        faults: Mapping[str, Any] | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)

    def fit_discharges(
        self, current: ArrayLike, taken: ArrayLike, voltage: ArrayLike, *, pieces: int = 10
    ) -> FittedBattery:
        """This battery with the open-circuit voltage and series resistance that fit measured discharges best, by least
        squares. Capacity, coefficients, Peukert's law and the branches stay; the branches are taken as settled, so that
        without them the resistance is that of hours, more than a motor's surge sees.

        Args:
            current: Current of each point, A; the largest at least 1.5 times the smallest.
            taken: Charge taken out until then, C.
            voltage: Voltage, V.
            pieces: Straight pieces of the open-circuit curve, each with points in it.

        Raises:
            ArgumentError: Rows of different lengths; a value outside its range; discharges that contradict each other or fix no
                such curve.

        Example:
            >>> import numpy as np, stallpoint as sp
            >>> current = np.repeat([1.0, 4.0], 4)
            >>> taken = current * 3600 * np.tile([1, 2, 3, 4], 2)
            >>> made_up = 12.8 - taken / 72000 - 0.05 * current
            >>> fitted = sp.Battery.agm("20 Ah", "10 mohm").fit_discharges(current, taken, made_up, pieces=1)
            >>> round(float(fitted.battery.parameters["series_resistance"].split()[0]), 6), fitted.worst < 1e-9
            (0.05, True)
        """
        made, volts = fit_discharges(self.describe(), current, taken, voltage, pieces)
        return FittedBattery(type(self)(**made), np.asarray(voltage, dtype=np.float64), np.asarray(volts))

    @classmethod
    def agm(
        cls,
        capacity: Quantity,
        series_resistance: Quantity | None = None,
        *,
        state_of_charge: Quantity | None = None,
        polarisation_resistance: Quantity | None = None,
        polarisation_capacitance: Quantity | None = None,
        blocks_in_series: int | None = None,
        strings_in_parallel: int | None = None,
        temperature_c: Quantity | None = None,
        resistance_coefficient: float | None = None,
        cold_cranking_amperes: Quantity | None = None,
        slow_polarisation_resistance: Quantity | None = None,
        slow_polarisation_capacitance: Quantity | None = None,
        resistance_by_charge: Sequence[Sequence[float]] | None = None,
        open_circuit_points: Sequence[Sequence[float]] | None = None,
        open_circuit_coefficient: float | None = None,
        cranking_test: str | None = None,
        peukert: Mapping[str, Any] | None = None,
        cut_off: Mapping[str, Any] | None = None,
        faults: Mapping[str, Any] | None = None,
    ) -> Battery:
        """A battery with absorbed glass mat; arguments as for ``Battery``."""
        given = {name: value for name, value in locals().items() if name != "cls"}
        return cls("agm_lead_acid", **given)

    @classmethod
    def flooded(
        cls,
        capacity: Quantity,
        series_resistance: Quantity | None = None,
        *,
        state_of_charge: Quantity | None = None,
        polarisation_resistance: Quantity | None = None,
        polarisation_capacitance: Quantity | None = None,
        blocks_in_series: int | None = None,
        strings_in_parallel: int | None = None,
        temperature_c: Quantity | None = None,
        resistance_coefficient: float | None = None,
        cold_cranking_amperes: Quantity | None = None,
        slow_polarisation_resistance: Quantity | None = None,
        slow_polarisation_capacitance: Quantity | None = None,
        resistance_by_charge: Sequence[Sequence[float]] | None = None,
        open_circuit_points: Sequence[Sequence[float]] | None = None,
        open_circuit_coefficient: float | None = None,
        cranking_test: str | None = None,
        peukert: Mapping[str, Any] | None = None,
        cut_off: Mapping[str, Any] | None = None,
        faults: Mapping[str, Any] | None = None,
    ) -> Battery:
        """A lead-acid battery with free electrolyte; arguments as for ``Battery``."""
        given = {name: value for name, value in locals().items() if name != "cls"}
        return cls("flooded_lead_acid", **given)

    @classmethod
    def lithium_iron_phosphate(
        cls,
        capacity: Quantity,
        series_resistance: Quantity | None = None,
        *,
        state_of_charge: Quantity | None = None,
        polarisation_resistance: Quantity | None = None,
        polarisation_capacitance: Quantity | None = None,
        blocks_in_series: int | None = None,
        strings_in_parallel: int | None = None,
        temperature_c: Quantity | None = None,
        resistance_coefficient: float | None = None,
        cold_cranking_amperes: Quantity | None = None,
        slow_polarisation_resistance: Quantity | None = None,
        slow_polarisation_capacitance: Quantity | None = None,
        resistance_by_charge: Sequence[Sequence[float]] | None = None,
        open_circuit_points: Sequence[Sequence[float]] | None = None,
        open_circuit_coefficient: float | None = None,
        cranking_test: str | None = None,
        peukert: Mapping[str, Any] | None = None,
        cut_off: Mapping[str, Any] | None = None,
        faults: Mapping[str, Any] | None = None,
    ) -> Battery:
        """A lithium-iron-phosphate battery; arguments as for ``Battery``."""
        given = {name: value for name, value in locals().items() if name != "cls"}
        return cls("lithium_iron_phosphate", **given)


class Cable(LibraryPart):
    """One run of cable: resistance by IEC 60228 or the wire gauge, and a damped inductance. Terminals ``a``, ``b``.

    Equation: ``v = R(T) i + L di/dt`` with ``R = ρ(T) length / S``, or the table's maximum for a standard size.
    Typical: 0.3 uH of inductance each metre and run (typical, no source).

    Args:
        cross_section: "25 mm2" or "2 AWG"; a number is m².
        length: Length of this run, one way, m.
        conductor: "copper" (when left out) or "aluminium".
        strand_class: "flexible" (when left out) or "stranded".
        temperature_c: Conductor temperature, °C; 20 when left out.
        inductance_per_metre: Inductance of one metre of this run, H; 0.3 µH when left out (typical, no source).
        insulation: "pvc_70" (when left out) or "xlpe_90"; studies use it, and heating takes its limit from it.
        ampacity: Current it may carry for ever in air of 30 °C, A; studies use it, and heating needs it.
        heats: Whether the conductor temperature is a state, from ``temperature_c`` on; constant when left out.
        ambient_c: Temperature around it, °C, with ``heats``; that of the conductor at the start when left out.
        limit_c: Conductor temperature that the insulation stands for ever, °C; 70 or 90 by ``insulation`` when left out.
            Heating and the duty study use it.

    Raises:
        PartError: A wrong unit, or a value outside its range.

    No capacitance. States: ``current``, ``inductor_current``; with ``heats`` also ``conductor_temperature`` (°C) and the
    event "insulation limit reached".

    Example:
        >>> import stallpoint as sp
        >>> sp.Cable("16 mm2", "7 m").terminals
        ['a', 'b']
    """

    def __init__(
        self,
        cross_section: Quantity,
        length: Quantity,
        *,
        conductor: str | None = None,
        strand_class: str | None = None,
        temperature_c: Quantity | None = None,
        inductance_per_metre: Quantity | None = None,
        insulation: str | None = None,
        ampacity: Quantity | None = None,
        heats: bool | None = None,
        ambient_c: Quantity | None = None,
        limit_c: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class Joint(LibraryPart):
    """A bolted, crimped or plugged connection: ``v = R i``. Terminals ``a``, ``b``.

    Probe ``hottest_spot`` (degC) of its metallic constriction; with ``heat`` the state ``temperature`` (degC) of lug and stud.

    Args:
        resistance: Total contact resistance, ohm; 0.1 mohm when left out (typical, no source).
        open: Whether it has come apart for good.
        loose: Loses contact now and then: seed, mean_together, mean_apart (s), apart_resistance (ohm).
        constriction: The metal's share of the resistance, ohm; all of it up to 0.1 mohm when left out.
        temperature_c: Temperature of lug and stud, degC; where they start when they heat. 20 degC when left out.
        film: A film that breaks down: resistance (ohm) on top while whole, breakdown_voltage (V), reforms_below (A).
        heat: Lug and stud heat, and the resistance grows: heat_capacity (J/K), thermal_resistance (K/W),
            temperature_coefficient (1/K), ambient_c, limit_c (degC). ``{}`` takes typical values.

    Raises:
        PartError: A wrong unit, or a value outside its range.

    Example:
        >>> import stallpoint as sp
        >>> sp.Joint("0.13 ohm").terminals
        ['a', 'b']
    """

    def __init__(
        self,
        resistance: Quantity | None = None,
        *,
        open: bool | None = None,
        loose: Mapping[str, Any] | None = None,
        constriction: Quantity | None = None,
        temperature_c: Quantity | None = None,
        film: Mapping[str, Any] | None = None,
        heat: Mapping[str, Any] | None = None,
    ) -> None:
        given = {"resistance": resistance, "open": open, "loose": loose, "constriction": constriction}
        super().__init__(given | {"temperature_c": temperature_c, "film": film, "heat": heat})
