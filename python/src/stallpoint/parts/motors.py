"""Motors."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from .._stallpoint import fit_motor, motor_reverses_on
from ..records import FittedMotor
from ._base import LibraryPart, Quantity
from .armature import Armature, ArmatureFaults, Field, MotorCase, ResistanceVariation, Rotor, SeriesWinding

__all__ = ["CompoundMotor", "Motor", "PermanentMagnetMotor", "SeriesMotor", "ShuntMotor"]


class _Brushed(LibraryPart):
    """What all motors are asked."""

    def reverses_on(self, swap: str) -> bool:
        """Whether a swap of wires reverses it when its wound field, if any, lies outside the contactor's motor studs, as a
        drive has it.

        Args:
            swap: "motor_wires", "signal_wires", "motor_and_signal_wires" or "supply_and_ground".

        Raises:
            ArgumentError: Another swap.
        """
        return motor_reverses_on(self.describe(), swap)


class PermanentMagnetMotor(_Brushed):
    """A brushed permanent-magnet motor. Terminals ``plus``, ``minus``, ``shaft`` (left out, it gets a shaft of its own).

    Typical: 12 V winch motors of one kilowatt: 10 to 30 mohm, 0.1 mH, 0.04 N m/A, 0.8 V of brush drop (typical, no
    source).

    ```text
    v = d/dt (L i) + R(T) i + V_b tanh(i / I_b) + m K_e ω,    torque on the shaft = m K_t i - B ω
    ```

    Args:
        resistance: Armature resistance at 20 °C with brushes, ohm.
        inductance: Armature inductance, H.
        torque_constant: Torque constant, N·m/A.
        inertia: Rotor inertia, kg·m².
        back_emf_constant: Back-EMF constant, V·s/rad; equal to the torque constant when left out.
        brush_drop: Brush drop, V, both brushes together.
        brush_current: Current at which the brush drop is about three quarters there, A.
        viscous_friction: Viscous friction, N·m·s/rad.
        friction, breakaway: Dry friction while turning, and to start moving, N·m.
        winding_temperature_c, ambient_c: Winding temperature at the start, and ambient temperature, °C; 20 when left out.
        heat_capacity: Heat capacity of the winding, J/K; its temperature is constant when left out.
        thermal_resistance: Thermal resistance winding to case, or to ambient without a case, K/W.
        case: The case as a second body of heat.
        max_winding_temperature_c: Highest winding temperature allowed, °C.
        magnet_strength: Share ``m`` of the magnets' flux that is left: 1 when healthy or left out.
        variation: Resistance by angle and speed.
        start_angle: Shaft angle at the start, rad; counts only with a dead spot or a resistance that varies by angle.
        faults: What is wrong with the armature.

    Raises:
        PartError: A wrong unit, or a value outside its range.

    A positive current turns it forward. States: ``current``, ``winding_temperature``, ``case_temperature`` (with a case); probes:
    ``speed``, ``torque``, ``back_emf``, ``angle`` (where it counts). No saturation, no cogging.

    Example:
        >>> import stallpoint as sp
        >>> motor = sp.Motor.permanent_magnet(
        ...     resistance="25 mohm",
        ...     inductance="120 uH",
        ...     torque_constant="0.045 N m/A",
        ...     inertia="0.004 kg m2",
        ... )
        >>> motor.terminals
        ['plus', 'minus', 'shaft']
    """

    _tag = "permanent_magnet"

    def __init__(
        self,
        *,
        resistance: Quantity,
        inductance: Quantity,
        torque_constant: Quantity,
        inertia: Quantity,
        back_emf_constant: Quantity | None = None,
        brush_drop: Quantity | None = None,
        brush_current: Quantity | None = None,
        viscous_friction: Quantity | None = None,
        friction: Quantity | None = None,
        breakaway: Quantity | None = None,
        winding_temperature_c: Quantity | None = None,
        ambient_c: Quantity | None = None,
        heat_capacity: Quantity | None = None,
        thermal_resistance: Quantity | None = None,
        case: MotorCase | Mapping[str, Any] | None = None,
        max_winding_temperature_c: Quantity | None = None,
        magnet_strength: Quantity | None = None,
        variation: ResistanceVariation | Mapping[str, Any] | None = None,
        start_angle: Quantity | None = None,
        faults: ArmatureFaults | Mapping[str, Any] | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)

    @classmethod
    def from_data_sheet(
        cls,
        *,
        voltage: Quantity,
        no_load_speed: Quantity,
        no_load_current: Quantity,
        stall_torque: Quantity,
        stall_current: Quantity,
        inductance: Quantity,
        inertia: Quantity,
        rated: tuple[Quantity, Quantity, Quantity] | None = None,
        brush_drop: Quantity = 0.0,
        equal_constants: bool = False,
    ) -> FittedMotor:
        """A motor from a data sheet's no-load and stall points, and one rated point if it has one, with every number of the
        sheet beside the motor's own.

        With separate constants and no rated point the motor meets all four numbers; otherwise the sum of the squared relative
        misfits is least. The loss without load is taken as dry friction.

        Args:
            voltage: Voltage of all points, V.
            no_load_speed, no_load_current: rad/s and A.
            stall_torque, stall_current: N·m and A.
            inductance, inertia: H and kg·m²; they do not follow from the points.
            rated: The rated point, if the sheet has it: torque (N·m), speed (rad/s), current (A).
            brush_drop: Brush drop, V, taken as known; zero puts it into the resistance.
            equal_constants: One constant for torque and back-EMF, as physics has it for an ideal motor.

        Raises:
            ArgumentError: A number that is not above zero; a stall current not above the no-load current; a brush drop not
                below the voltage.

        Example:
            >>> import stallpoint as sp
            >>> fitted = sp.Motor.permanent_magnet.from_data_sheet(
            ...     voltage="12 V", no_load_speed="5330 rpm", no_load_current="2.7 A", stall_torque="2.413 N m",
            ...     stall_current="131.055 A", inductance="50 uH", inertia="1e-4 kg m2")
            >>> abs(fitted.worst.relative) < 1e-9, round(fitted.ratio_of_constants, 3)
            (True, 0.893)
        """
        sheet: dict[str, Any] = {
            "voltage": voltage,
            "no_load_speed": no_load_speed,
            "no_load_current": no_load_current,
            "stall_torque": stall_torque,
            "stall_current": stall_current,
            "inductance": inductance,
            "inertia": inertia,
            "brush_drop": brush_drop,
        }
        if rated is not None:
            sheet.update(zip(("rated_torque", "rated_speed", "rated_current"), rated, strict=True))
        made, misfits, ratio = fit_motor(sheet, equal_constants)
        found = ("resistance", "torque_constant", "back_emf_constant", "brush_drop", "friction")
        motor = cls(inductance=inductance, inertia=inertia, **{name: made[name] for name in found if name in made})
        return FittedMotor(motor, misfits, ratio)


class SeriesMotor(_Brushed):
    """A series motor: a field of few thick turns that carries the armature's current. Terminals ``armature_plus``,
    ``armature_minus``, ``field_plus``, ``field_minus``, ``shaft``: a reversing contactor turns only the armature round.

    Equation: ``u = R i + L di/dt + K(i_f) ω + u_brush``, ``T = K(i_f) i``, with ``K`` by the field's own current
    ``i_f``.
    Typical: armature 32 mohm, field 16 mohm at 24 V and one kilowatt (typical, no source).

    Args:
        armature: The armature.
        field: The series field.
        rotor: What turns.

    Raises:
        PartError: A wrong unit; a value outside its range; a magnetisation that falls.

    States: ``current`` (of the armature), ``winding_temperature``, ``field_current``, ``magnetising_current``, ``field_flux``;
    probes: ``speed``, ``torque``, ``back_emf``. Unloaded it runs away, as the real one does.

    Example:
        >>> import stallpoint as sp
        >>> motor = sp.Motor.series(
        ...     armature=sp.Armature("32 mohm", "120 uH"),
        ...     field=sp.Field("16 mohm", "300 uH", sp.Magnetisation.linear(0.002)),
        ...     rotor=sp.Rotor("0.004 kg m2"),
        ... )
        >>> motor.reverses_on("supply_and_ground")
        False
    """

    _tag = "series"

    def __init__(
        self,
        *,
        armature: Armature | Mapping[str, Any],
        field: Field | Mapping[str, Any],
        rotor: Rotor | Mapping[str, Any],
    ) -> None:
        super().__init__({"armature": armature, "field": field, "rotor": rotor})


class ShuntMotor(_Brushed):
    """A shunt motor, or one with a separately fed field: a field of many thin turns across the supply. Terminals
    ``armature_plus``, ``armature_minus``, ``field_plus``, ``field_minus``, ``shaft``.

    Equation: ``u = R i + L di/dt + K(i_f) ω + u_brush``, ``T = K(i_f) i``; the field lies across a voltage of its own.
    Typical: a field of a hundred times the armature's resistance or more (typical, no source).

    Args:
        armature: The armature.
        field: The shunt field.
        rotor: What turns.

    Raises:
        PartError: A wrong unit; a value outside its range; a magnetisation that falls.

    States and probes as for ``SeriesMotor``. No armature reaction, no remanence.

    Example:
        >>> import stallpoint as sp
        >>> motor = sp.Motor.shunt(
        ...     armature=sp.Armature("32 mohm", "120 uH"),
        ...     field=sp.Field("12 ohm", "0.5 H", sp.Magnetisation.linear(0.05)),
        ...     rotor=sp.Rotor("0.004 kg m2"),
        ... )
        >>> motor.terminals
        ['armature_plus', 'armature_minus', 'field_plus', 'field_minus', 'shaft']
    """

    _tag = "shunt"

    def __init__(
        self,
        *,
        armature: Armature | Mapping[str, Any],
        field: Field | Mapping[str, Any],
        rotor: Rotor | Mapping[str, Any],
    ) -> None:
        super().__init__({"armature": armature, "field": field, "rotor": rotor})


class CompoundMotor(_Brushed):
    """A compound motor: a shunt and a series field on the same poles. Terminals ``armature_plus``, ``armature_minus``,
    ``series_plus``, ``series_minus``, ``shunt_plus``, ``shunt_minus``, ``shaft``.

    Equation: ``u = R i + L di/dt + K(i_m) ω + u_brush``, ``T = K(i_m) i`` with ``i_m = i_shunt + turns_ratio i_series``.
    Typical: a turns ratio of 1/300 (typical, no source).

    Args:
        armature: The armature.
        shunt: The shunt field; it carries the magnetisation.
        series: The series field.
        rotor: What turns.

    Raises:
        PartError: A wrong unit; a value outside its range; a magnetisation that falls.

    States: ``current`` (of the armature), ``winding_temperature``, ``series_current``, ``shunt_current``, ``magnetising_current``,
    ``field_flux``; probes: ``speed``, ``torque``, ``back_emf``.

    Example:
        >>> import stallpoint as sp
        >>> motor = sp.Motor.compound(
        ...     armature=sp.Armature("32 mohm", "120 uH"),
        ...     shunt=sp.Field("12 ohm", "0.5 H", sp.Magnetisation.linear(0.05)),
        ...     series=sp.SeriesWinding("8 mohm", turns_ratio=0.003),
        ...     rotor=sp.Rotor("0.004 kg m2"),
        ... )
        >>> motor.terminals
        ['armature_plus', 'armature_minus', 'series_plus', 'series_minus', 'shunt_plus', 'shunt_minus', 'shaft']
    """

    _tag = "compound"

    def __init__(
        self,
        *,
        armature: Armature | Mapping[str, Any],
        shunt: Field | Mapping[str, Any],
        series: SeriesWinding | Mapping[str, Any],
        rotor: Rotor | Mapping[str, Any],
    ) -> None:
        super().__init__({"armature": armature, "shunt": shunt, "series": series, "rotor": rotor})


class Motor:
    """Motors by kind."""

    permanent_magnet = PermanentMagnetMotor
    series = SeriesMotor
    shunt = ShuntMotor
    compound = CompoundMotor
