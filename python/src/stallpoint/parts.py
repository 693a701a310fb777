"""Parts. A physical argument is a number in the SI unit its docstring names, or a text with a unit ("25 mohm")."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from ._stallpoint import NativePart

Quantity = float | str
"""A number in SI, or a text with a unit."""


class Part:
    """A part of the library: its kind and its parameters, checked when made.

    Parts compare equal when they describe the same, and can be pickled. ``terminals`` names its terminals in order; a current
    is positive into the first.
    """

    _tag: str | None = None

    def __init__(self, kind: str, **parameters: Any) -> None:
        self._kind = kind
        self.parameters: dict[str, Any] = {name: value for name, value in parameters.items() if value is not None}
        self._native = NativePart(kind, self.parameters)

    @property
    def terminals(self) -> list[str]:
        """Names of its terminals."""
        return self._native.terminals

    @property
    def _description(self) -> dict[str, Any]:
        """What a drive's file would say."""
        return {"kind": self._tag, **self.parameters} if self._tag else self.parameters

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Part) and (self._kind, self.parameters) == (other._kind, other.parameters)

    def __hash__(self) -> int:
        return hash((self._kind, repr(sorted(self.parameters.items(), key=lambda item: item[0]))))

    def __repr__(self) -> str:
        arguments = ", ".join(f"{name}={value!r}" for name, value in self.parameters.items())
        return f"{type(self).__name__}({arguments})"

    def __reduce__(self) -> tuple[Any, ...]:
        return (_rebuild, (type(self), self._kind, self._tag, self.parameters))


_P = TypeVar("_P", bound=Part)


def _rebuild(cls: type[_P], kind: str, tag: str | None, parameters: dict[str, Any]) -> _P:
    return _made(cls, kind, tag, **parameters)


def _made(cls: type[_P], kind: str, tag: str | None, **parameters: Any) -> _P:
    part = cls.__new__(cls)
    Part.__init__(part, kind, **parameters)
    part._tag = tag
    return part


class Resistor(Part):
    """A resistor, ``v = R i``. Terminals ``a``, ``b``.

    Args:
        resistance: ohm, above zero.

    Example:
        >>> import stallpoint as sp
        >>> sp.Resistor("30 mohm").terminals
        ['a', 'b']
    """

    def __init__(self, resistance: Quantity) -> None:
        super().__init__("Resistor", resistance=resistance)


class Inductor(Part):
    """An ideal inductor, ``v = d/dt (L i)``. Terminals ``a``, ``b``; state ``current``.

    Args:
        inductance: H, above zero.
        initial_current: A, when a transient starts.
    """

    def __init__(self, inductance: Quantity, *, initial_current: Quantity | None = None) -> None:
        super().__init__("Inductor", inductance=inductance, initial_current=initial_current)


class Capacitor(Part):
    """An ideal capacitor, ``i = d/dt (C v)``. Terminals ``a``, ``b``; states ``current``, ``voltage``.

    Args:
        capacitance: F, above zero.
        initial_voltage: V, when a transient starts.
    """

    def __init__(self, capacitance: Quantity, *, initial_voltage: Quantity | None = None) -> None:
        super().__init__("Capacitor", capacitance=capacitance, initial_voltage=initial_voltage)


class Diode(Part):
    """A diode after Shockley, ``i = I_s (exp(v / n V_T) - 1)``, straight beyond ``linear_above``. Terminals ``anode``, ``cathode``.

    Args:
        saturation_current: A.
        slope_voltage: ``n V_T``, V.
        linear_above: V.
    """

    def __init__(
        self,
        *,
        saturation_current: Quantity | None = None,
        slope_voltage: Quantity | None = None,
        linear_above: Quantity | None = None,
    ) -> None:
        super().__init__(
            "Diode", saturation_current=saturation_current, slope_voltage=slope_voltage, linear_above=linear_above
        )


class _Source(Part):
    """An ideal source: constant, a table over time, or a function of time."""

    @classmethod
    def table(cls, times: Sequence[float], values: Sequence[float]) -> Any:
        """Rising times (s) and values; straight between them, constant outside. Its corners are landed on exactly."""
        return _made(cls, cls.__name__, None, times=list(times), values=list(values))

    @classmethod
    def function(cls, function: Callable[[float], float]) -> Any:
        """A smooth function of the time in s. It is called with the GIL held, several times a step."""
        return _made(cls, cls.__name__, None, function=function)


class VoltageSource(_Source):
    """An ideal voltage source, ``v_plus - v_minus = E(t)``. Terminals ``plus``, ``minus``; state ``current``.

    The current is positive into ``plus``: a source that delivers shows a negative one.

    Args:
        voltage: V. See also :meth:`table` and :meth:`function`.
    """

    def __init__(self, voltage: Quantity) -> None:
        super().__init__("VoltageSource", voltage=voltage)


class CurrentSource(_Source):
    """An ideal current source, ``i = I(t)`` into ``plus``. Terminals ``plus``, ``minus``; state ``current``.

    Args:
        current: A. See also :meth:`table` and :meth:`function`.
    """

    def __init__(self, current: Quantity) -> None:
        super().__init__("CurrentSource", current=current)


class Battery(Part):
    """A battery: open-circuit voltage by state of charge, series resistance, one R-C branch. Terminals ``plus``, ``minus``.

    States ``current``, ``polarisation_voltage``, ``state_of_charge``; probes ``open_circuit_voltage``, ``terminal_voltage``. Make one
    by :meth:`agm`, :meth:`flooded` or :meth:`lithium_iron_phosphate`.

    Args:
        capacity: of one 12 V block, C ("100 Ah" reads).
        series_resistance: of one block, ohm.
        state_of_charge: 0 to 1, at the start.
        polarisation_resistance, polarisation_capacitance: of one block's R-C branch; no branch when left out.
        blocks_in_series, strings_in_parallel: how many blocks.
        cold_cranking_amperes: of one block, A; only studies use it.
    """

    @classmethod
    def _of(cls, chemistry: str, capacity: Quantity, series_resistance: Quantity, more: dict[str, Any]) -> Battery:
        parameters = {"chemistry": chemistry, "capacity": capacity, "series_resistance": series_resistance, **more}
        return _made(cls, "Battery", None, **parameters)

    @classmethod
    def agm(cls, capacity: Quantity, series_resistance: Quantity, **more: Any) -> Battery:
        """Lead-acid with absorbed glass mat (open-circuit table typical, no source)."""
        return cls._of("agm_lead_acid", capacity, series_resistance, more)

    @classmethod
    def flooded(cls, capacity: Quantity, series_resistance: Quantity, **more: Any) -> Battery:
        """Lead-acid with free electrolyte (open-circuit table: BCI)."""
        return cls._of("flooded_lead_acid", capacity, series_resistance, more)

    @classmethod
    def lithium_iron_phosphate(cls, capacity: Quantity, series_resistance: Quantity, **more: Any) -> Battery:
        """Lithium iron phosphate, four cells a block (open-circuit table typical, no source)."""
        return cls._of("lithium_iron_phosphate", capacity, series_resistance, more)


class Cable(Part):
    """One cable run: resistance by size and temperature, inductance. Terminals ``a``, ``b``; state ``current``.

    Args:
        cross_section: "25 mm2", "2 AWG".
        length: m, one way.
        conductor: "copper" or "aluminium".
        strand_class: "flexible" or "stranded".
        temperature_c: conductor temperature, °C.
        inductance_per_metre: of this run, H.
        insulation: "pvc_70" or "xlpe_90"; only studies use it.
        ampacity: A, from your own table; only studies use it.
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
    ) -> None:
        super().__init__(
            "Cable",
            cross_section=cross_section,
            length=length,
            conductor=conductor,
            strand_class=strand_class,
            temperature_c=temperature_c,
            inductance_per_metre=inductance_per_metre,
            insulation=insulation,
            ampacity=ampacity,
        )


class Joint(Part):
    """A bolted or crimped connection. Terminals ``a``, ``b``; state ``current``.

    Args:
        resistance: total contact resistance, ohm.
        open: whether it has come apart.
    """

    def __init__(self, resistance: Quantity | None = None, *, open: bool | None = None) -> None:
        super().__init__("Joint", resistance=resistance, open=open)


class Switch(Part):
    """A switch operated at known times; an isolator is one. Terminals ``a``, ``b``; state ``current``.

    Args:
        closed: whether it is closed at the start.
        opens_at, closes_at: s.
        schedule: spans in which it is closed, ``[(from, to), …]`` in s.
        contact: dict of the contact's data (``closed_resistance``, ``arc_voltage`` …).
    """

    def __init__(
        self,
        *,
        closed: bool | None = None,
        opens_at: Quantity | None = None,
        closes_at: Quantity | None = None,
        schedule: Sequence[tuple[float, float]] | None = None,
        contact: dict[str, Any] | None = None,
    ) -> None:
        super().__init__(
            "Switch", closed=closed, opens_at=opens_at, closes_at=closes_at, schedule=schedule, contact=contact
        )


class TripBand(dict[str, Any]):
    """A breaker's trip band, between its fastest and its slowest device."""

    @classmethod
    def points(cls, fastest: Sequence[Sequence[float]], slowest: Sequence[Sequence[float]]) -> TripBand:
        """Two curves by rows of [multiple of the rated current, seconds], multiples rising, seconds falling."""
        rows = {"fastest": [list(row) for row in fastest], "slowest": [list(row) for row in slowest]}
        return cls(points=rows)

    @classmethod
    def inverse_time(cls, curve: str, time_multiplier: float = 1.0, tolerance: Quantity = 0.0) -> TripBand:
        """A standard inverse-time curve, for example "iec_very_inverse", with a tolerance on its time."""
        return cls(inverse_time={"curve": curve, "time_multiplier": time_multiplier, "tolerance": tolerance})


class Breaker(Part):
    """A breaker that counts ``dt / t(i)`` on both edges of its trip band. Terminals ``line``, ``load``.

    States ``current``, ``trip_fraction``, ``trip_fraction_fastest``, ``trip_fraction_slowest``. Source: the accumulated-trip integral
    of IEEE C37.112.

    Args:
        rated_current: A.
        trip_band: see :class:`TripBand`.
        band_position: 0 fastest to 1 slowest.
        reset: "manual" or "automatic".
        recloses_at: trip fraction at which an automatic one closes again.
        cooling_time_constant: s.
        contact: dict of the contact's data.
        interrupting_capacity: A; only studies use it.
    """

    def __init__(
        self,
        rated_current: Quantity,
        trip_band: dict[str, Any],
        *,
        band_position: Quantity | None = None,
        reset: str | None = None,
        recloses_at: Quantity | None = None,
        cooling_time_constant: Quantity | None = None,
        contact: dict[str, Any] | None = None,
        interrupting_capacity: Quantity | None = None,
    ) -> None:
        super().__init__(
            "Breaker",
            rated_current=rated_current,
            trip_band=trip_band,
            band_position=band_position,
            reset=reset,
            recloses_at=recloses_at,
            cooling_time_constant=cooling_time_constant,
            contact=contact,
            interrupting_capacity=interrupting_capacity,
        )


class Coil(Part):
    """A relay coil with its suppression. Terminals ``plus``, ``minus``; states ``flux``, ``suppressor_current``; probes ``current``,
    ``voltage``.

    Args:
        rated_voltage: V.
        resistance: at 20 °C, ohm.
        temperature_c: °C.
        open_inductance, sealed_inductance: H.
        suppression: dict, for example ``{"kind": "diode"}`` or ``{"kind": "clamp", "voltage": "24 V"}``.
        core_loss_conductance: S.
    """

    def __init__(
        self,
        rated_voltage: Quantity,
        resistance: Quantity,
        *,
        temperature_c: Quantity | None = None,
        open_inductance: Quantity | None = None,
        sealed_inductance: Quantity | None = None,
        suppression: dict[str, Any] | None = None,
        core_loss_conductance: Quantity | None = None,
    ) -> None:
        super().__init__(
            "Coil",
            rated_voltage=rated_voltage,
            resistance=resistance,
            temperature_c=temperature_c,
            open_inductance=open_inductance,
            sealed_inductance=sealed_inductance,
            suppression=suppression,
            core_loss_conductance=core_loss_conductance,
        )


class ReversingContactor(Part):
    """Two changeover contact sets driven by two coils. Terminals ``supply``, ``ground``, ``motor_a``, ``motor_b``, ``coil_a``, ``coil_b``,
    ``coil_return``.

    Args:
        coil: a :class:`Coil`, or a dict of its data.
        pull_in_voltage, drop_out_voltage: with the coil at 20 °C, V.
        more: ``rest`` ("braked" or "open"), ``interlock``, ``contacts``, ``operate_time``, ``release_time``, ``bounce``, ``making_current``,
            ``carrying_current``, ``breaking_current``, ``duty``, ``highest_drop_out_voltage``.
    """

    def __init__(
        self, coil: Coil | dict[str, Any], pull_in_voltage: Quantity, drop_out_voltage: Quantity, **more: Any
    ) -> None:
        coil = coil._description if isinstance(coil, Coil) else coil
        super().__init__(
            "ReversingContactor",
            coil=coil,
            pull_in_voltage=pull_in_voltage,
            drop_out_voltage=drop_out_voltage,
            **more,
        )


class Motor(Part):
    """A motor; make one by its kind. Terminals ``plus``, ``minus``, ``shaft`` (a shaft of its own when not connected)."""

    @classmethod
    def permanent_magnet(
        cls,
        *,
        resistance: Quantity,
        inductance: Quantity,
        torque_constant: Quantity,
        inertia: Quantity,
        **more: Any,
    ) -> Motor:
        """A brushed permanent-magnet motor, ``v = d/dt (L i) + R(T) i + brush drop + K_e ω``.

        States ``current``, ``winding_temperature``; probes ``speed``, ``torque``, ``back_emf``.

        Args:
            resistance: armature at 20 °C, ohm.
            inductance: H.
            torque_constant: N m/A.
            inertia: kg m2.
            more: ``back_emf_constant``, ``brush_drop``, ``brush_current``, ``viscous_friction``, ``friction``, ``breakaway``,
                ``winding_temperature_c``, ``ambient_c``, ``heat_capacity``, ``thermal_resistance``, ``max_winding_temperature_c``.
        """
        return _made(
            cls,
            "PermanentMagnetMotor",
            "permanent_magnet",
            resistance=resistance,
            inductance=inductance,
            torque_constant=torque_constant,
            inertia=inertia,
            **more,
        )


class Load(Part):
    """A load on a shaft; make one by its kind and ``attach`` it to a motor. Terminal ``shaft``."""

    @classmethod
    def resisting_torque(
        cls, *, running: Quantity, breakaway: Quantity | None = None, inertia: Quantity | None = None
    ) -> Load:
        """Opposes motion and holds at rest: N m while it turns, N m to start."""
        return _made(
            cls, "ResistingTorque", "resisting_torque", running=running, breakaway=breakaway, inertia=inertia
        )

    @classmethod
    def gravity_torque(cls, torque: Quantity, *, inertia: Quantity | None = None) -> Load:
        """A hanging load: N m against forward motion, at rest and at any speed."""
        return _made(cls, "GravityTorque", "gravity_torque", torque=torque, inertia=inertia)

    @classmethod
    def viscous_torque(cls, coefficient: Quantity, *, inertia: Quantity | None = None) -> Load:
        """Grows with speed: N m s/rad."""
        return _made(cls, "ViscousTorque", "viscous_torque", coefficient=coefficient, inertia=inertia)

    @classmethod
    def quadratic_torque(cls, coefficient: Quantity, *, inertia: Quantity | None = None) -> Load:
        """Grows with the square of speed, as a fan's: N m s2/rad2."""
        return _made(cls, "QuadraticTorque", "quadratic_torque", coefficient=coefficient, inertia=inertia)


class TestLamp(Part):
    """A test lamp, for now a constant resistance. Terminals ``a``, ``b``; probe ``power``.

    Args:
        rated_voltage: V.
        rated_power: W.
    """

    __test__ = False  # not a test, whatever its name

    def __init__(self, rated_voltage: Quantity, rated_power: Quantity) -> None:
        super().__init__("TestLamp", rated_voltage=rated_voltage, rated_power=rated_power)


class Voltmeter(Part):
    """A voltmeter. Terminals ``plus``, ``minus``; probe ``reading``.

    Args:
        input_resistance: ohm; 10 Mohm when left out.
    """

    def __init__(self, input_resistance: Quantity | None = None) -> None:
        super().__init__("Voltmeter", input_resistance=input_resistance)
