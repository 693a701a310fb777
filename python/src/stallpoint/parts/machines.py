"""Motors and loads."""

from __future__ import annotations

from ._base import LibraryPart, Quantity

__all__ = [
    "GravityTorque",
    "Load",
    "Motor",
    "PermanentMagnetMotor",
    "QuadraticTorque",
    "ResistingTorque",
    "ViscousTorque",
]


class PermanentMagnetMotor(LibraryPart):
    """A brushed permanent-magnet motor. Terminals ``plus``, ``minus``, ``shaft`` (left out, it gets a shaft of its own).

    ```text
    v = d/dt (L i) + R(T) i + V_b tanh(i / I_b) + K_e ω,    torque on the shaft = K_t i - B ω
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
        heat_capacity, thermal_resistance: Heat capacity of the winding, J/K (its temperature is constant when left out), and thermal resistance to ambient,
            K/W.
        max_winding_temperature_c: Highest winding temperature allowed, °C.

    Raises:
        PartError: A wrong unit, or a value outside its range.

    A positive current turns it forward. States: ``current``, ``winding_temperature``; probes: ``speed``, ``torque``, ``back_emf``.
    No saturation, no cogging.
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
        max_winding_temperature_c: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class Motor:
    """Motors by kind."""

    permanent_magnet = PermanentMagnetMotor


class ResistingTorque(LibraryPart):
    """A torque that opposes motion and holds at rest. Terminal ``shaft``.

    Args:
        running: Torque against the motion, N·m.
        breakaway: Torque to start moving, N·m; as ``running`` when less or left out.
        inertia: Inertia it adds to the shaft, kg·m².
    """

    _tag = "resisting_torque"

    def __init__(
        self, running: Quantity, breakaway: Quantity | None = None, *, inertia: Quantity | None = None
    ) -> None:
        super().__init__({"running": running, "breakaway": breakaway, "inertia": inertia})


class GravityTorque(LibraryPart):
    """A hanging load: an active torque against forward motion, at rest and at any speed. Terminal ``shaft``.

    Args:
        torque: Torque against forward motion, N·m; negative helps forward.
        inertia: Inertia it adds to the shaft, kg·m².
    """

    _tag = "gravity_torque"

    def __init__(self, torque: Quantity, *, inertia: Quantity | None = None) -> None:
        super().__init__({"torque": torque, "inertia": inertia})


class ViscousTorque(LibraryPart):
    """A torque that grows with speed. Terminal ``shaft``.

    Args:
        coefficient: Torque per speed, N·m·s/rad.
        inertia: Inertia it adds to the shaft, kg·m².
    """

    _tag = "viscous_torque"

    def __init__(self, coefficient: Quantity, *, inertia: Quantity | None = None) -> None:
        super().__init__({"coefficient": coefficient, "inertia": inertia})


class QuadraticTorque(LibraryPart):
    """A torque that grows with the square of speed: pumps, fans. Terminal ``shaft``.

    Args:
        coefficient: Torque per squared speed, N·m·s²/rad².
        inertia: Inertia it adds to the shaft, kg·m².
    """

    _tag = "quadratic_torque"

    def __init__(self, coefficient: Quantity, *, inertia: Quantity | None = None) -> None:
        super().__init__({"coefficient": coefficient, "inertia": inertia})


class Load:
    """Loads by kind."""

    resisting_torque = ResistingTorque
    gravity_torque = GravityTorque
    viscous_torque = ViscousTorque
    quadratic_torque = QuadraticTorque
