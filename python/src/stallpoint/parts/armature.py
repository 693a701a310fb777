"""What motors are made of: armature, field, rotor."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ._base import Description, Quantity

__all__ = [
    "Armature",
    "ArmatureFaults",
    "DeadSpot",
    "Field",
    "Magnetisation",
    "MotorCase",
    "ResistanceVariation",
    "Rotor",
    "SeriesWinding",
]


class MotorCase(Description):
    """The case of a motor as a second body of heat.

    Args:
        heat_capacity: Its heat capacity, J/K.
        thermal_resistance: Thermal resistance case to ambient, K/W.
        temperature_c: Its temperature at the start, °C; 20 when left out.
    """

    def __init__(
        self, heat_capacity: Quantity, thermal_resistance: Quantity, *, temperature_c: Quantity | None = None
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class ResistanceVariation(Description):
    """How an armature's resistance varies with the shaft's angle and rises when it turns.

    Args:
        by_angle: Swing with the shaft's angle, as a share of the resistance.
        per_turn: Periods of that swing in one turn; 1 when left out.
        when_turning: Rise when turning, as a share of the resistance.
        turning_speed: Speed at which half of that rise is there, rad/s; 10 rad/s when left out (typical, no source).
    """

    def __init__(
        self,
        *,
        by_angle: Quantity | None = None,
        per_turn: int | None = None,
        when_turning: Quantity | None = None,
        turning_speed: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class DeadSpot(Description):
    """A stretch of one turn where the brushes find a bad commutator segment.

    Args:
        angle: Shaft angle of its middle, rad.
        width: Its width, rad.
        resistance: What it adds to the resistance, ohm.
    """

    def __init__(self, angle: Quantity, width: Quantity, resistance: Quantity) -> None:
        super().__init__({"angle": angle, "width": width, "resistance": resistance})


class ArmatureFaults(Description):
    """Faults of an armature and its brushes; what is left out is healthy.

    Args:
        brush_resistance: What worn brushes add to the resistance, ohm.
        brush_drop: What worn brushes add to the brush drop, V.
        shorted_turns: Share of the armature's turns that are shorted, 0 to below 0.5.
        dead_spot: A stretch of the turn with more resistance.
        open: Whether the armature circuit is open: a brush that no longer touches, a lead off.
    """

    def __init__(
        self,
        *,
        brush_resistance: Quantity | None = None,
        brush_drop: Quantity | None = None,
        shorted_turns: Quantity | None = None,
        dead_spot: DeadSpot | Mapping[str, Any] | None = None,
        open: bool | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class Armature(Description):
    """The armature of a motor with a wound field, with its brushes and its heat.

    Args:
        resistance: Resistance at 20 °C with brushes, ohm.
        inductance: Inductance, H.
        brush_drop: Brush drop, V, both brushes together.
        brush_current: Current at which the brush drop is about three quarters there, A; 1 A when left out (typical, no source).
        winding_temperature_c, ambient_c: Winding temperature at the start, and ambient temperature, °C; 20 when left out.
        heat_capacity: Heat capacity of the winding, J/K; its temperature is constant when left out.
        thermal_resistance: Thermal resistance winding to case, or to ambient without a case, K/W; no cooling when left out.
        case: The case as a second body of heat.
        max_winding_temperature_c: Highest winding temperature allowed, °C.
        variation: Resistance by angle and speed.
        start_angle: Shaft angle at the start, rad; counts only with a dead spot or a resistance that varies by angle.
        faults: What is wrong with it.
    """

    def __init__(
        self,
        resistance: Quantity,
        inductance: Quantity,
        *,
        brush_drop: Quantity | None = None,
        brush_current: Quantity | None = None,
        winding_temperature_c: Quantity | None = None,
        ambient_c: Quantity | None = None,
        heat_capacity: Quantity | None = None,
        thermal_resistance: Quantity | None = None,
        case: MotorCase | Mapping[str, Any] | None = None,
        max_winding_temperature_c: Quantity | None = None,
        variation: ResistanceVariation | Mapping[str, Any] | None = None,
        start_angle: Quantity | None = None,
        faults: ArmatureFaults | Mapping[str, Any] | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class Magnetisation(Description):
    """How a wound field's flux follows its current, as back-EMF per speed; made by ``linear`` or ``measured``. No remanence."""

    @classmethod
    def linear(cls, mutual_inductance: Quantity) -> Magnetisation:
        """No saturation: the back-EMF constant per field ampere, H = V·s/(rad·A)."""
        return cls({"kind": "linear", "mutual_inductance": mutual_inductance})

    @classmethod
    def measured(
        cls, speed: Quantity, field_current: Sequence[Quantity], back_emf: Sequence[Quantity]
    ) -> Magnetisation:
        """A curve measured by driving the armature at one ``speed`` (rad/s), open-circuited: field currents, A, rising, and the
        back-EMF at each, V, not falling. Smooth between its points, straight beyond the last."""
        rows = {"field_current": list(field_current), "back_emf": list(back_emf)}
        return cls({"kind": "measured", "speed": speed, **rows})


class Field(Description):
    """A field winding on its poles.

    Args:
        resistance: Resistance at 20 °C, ohm.
        inductance: Inductance without saturation, H.
        magnetisation: Flux by field current.
        turns: Share of the turns that carry current: 1 when healthy or left out, less with a tap or shorted turns.
        temperature_c: Temperature, °C; 20 when left out.
        leakage: Share of the inductance that does not saturate; 0.05 when left out (typical, no source).
        eddy_time: Time constant of the eddy currents in the poles, s; 1 ms when left out (typical, no source).
    """

    def __init__(
        self,
        resistance: Quantity,
        inductance: Quantity,
        magnetisation: Magnetisation | Mapping[str, Any],
        *,
        turns: Quantity | None = None,
        temperature_c: Quantity | None = None,
        leakage: Quantity | None = None,
        eddy_time: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class SeriesWinding(Description):
    """The series field of a compound motor.

    Args:
        resistance: Resistance at 20 °C, ohm.
        turns_ratio: Its turns over the shunt field's; below zero it works against the shunt field.
        temperature_c: Temperature, °C; 20 when left out.
    """

    def __init__(
        self, resistance: Quantity, turns_ratio: Quantity, *, temperature_c: Quantity | None = None
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class Rotor(Description):
    """A motor's rotor: inertia and friction of its bearings and brushes.

    Args:
        inertia: Inertia, kg·m².
        viscous_friction: Viscous friction, N·m·s/rad.
        friction, breakaway: Dry friction while turning, and to start moving, N·m.
    """

    def __init__(
        self,
        inertia: Quantity,
        *,
        viscous_friction: Quantity | None = None,
        friction: Quantity | None = None,
        breakaway: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)
