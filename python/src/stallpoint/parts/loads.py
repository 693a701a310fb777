"""Loads on a shaft."""

from __future__ import annotations

from ._base import LibraryPart, Quantity

__all__ = [
    "Conveyor",
    "EndStop",
    "GravityTorque",
    "Hoist",
    "HydraulicPump",
    "Load",
    "QuadraticTorque",
    "ResistingTorque",
    "ViscousTorque",
    "WormGear",
]


class ResistingTorque(LibraryPart):
    """A torque that opposes motion and holds at rest. Terminal ``shaft``.

    Equation: ``T = running`` against the motion; at rest up to ``breakaway`` against what drives it.
    Typical: breakaway 1.2 times running (typical, no source).

    Args:
        running: Torque against the motion, N·m.
        breakaway: Torque to start moving, N·m; as ``running`` when less or left out.
        inertia: Inertia it adds to the shaft, kg·m².

    Example:
        >>> import stallpoint as sp
        >>> sp.Load.resisting_torque(running="3 N m", breakaway="3.6 N m").kind
        'ResistingTorque'
    """

    _tag = "resisting_torque"

    def __init__(
        self, running: Quantity, breakaway: Quantity | None = None, *, inertia: Quantity | None = None
    ) -> None:
        super().__init__({"running": running, "breakaway": breakaway, "inertia": inertia})


class GravityTorque(LibraryPart):
    """A hanging load: an active torque against forward motion, at rest and at any speed. Terminal ``shaft``.

    Equation: ``T = torque``, whichever way it turns.

    Args:
        torque: Torque against forward motion, N·m; negative helps forward.
        inertia: Inertia it adds to the shaft, kg·m².

    Example:
        >>> import stallpoint as sp
        >>> sp.Load.gravity_torque("1.5 N m").terminals
        ['shaft']
    """

    _tag = "gravity_torque"

    def __init__(self, torque: Quantity, *, inertia: Quantity | None = None) -> None:
        super().__init__({"torque": torque, "inertia": inertia})


class ViscousTorque(LibraryPart):
    """A torque that grows with speed. Terminal ``shaft``.

    Equation: ``T = c ω``.
    Typical: 1e-4 to 1e-3 N m s/rad for bearings and seals of motors of some kilowatt (typical, no source).

    Args:
        coefficient: Torque per speed, N·m·s/rad.
        inertia: Inertia it adds to the shaft, kg·m².

    Example:
        >>> import stallpoint as sp
        >>> sp.Load.viscous_torque("5e-4 N m s/rad").terminals
        ['shaft']
    """

    _tag = "viscous_torque"

    def __init__(self, coefficient: Quantity, *, inertia: Quantity | None = None) -> None:
        super().__init__({"coefficient": coefficient, "inertia": inertia})


class QuadraticTorque(LibraryPart):
    """A torque that grows with the square of speed: pumps, fans. Terminal ``shaft``.

    Equation: ``T = c ω |ω|``.

    Args:
        coefficient: Torque per squared speed, N·m·s²/rad².
        inertia: Inertia it adds to the shaft, kg·m².

    Example:
        >>> import stallpoint as sp
        >>> sp.Load.quadratic_torque("1e-5 N m s2/rad2").terminals
        ['shaft']
    """

    _tag = "quadratic_torque"

    def __init__(self, coefficient: Quantity, *, inertia: Quantity | None = None) -> None:
        super().__init__({"coefficient": coefficient, "inertia": inertia})


class Hoist(LibraryPart):
    """A mass on a rope, wound on a drum behind a gear: hoist, winch, crane. Terminal ``shaft``.

    Equation: ``T = m g r / (n N η)`` while raising, with falls ``n``, gear ratio ``N`` and efficiency ``η``; less while
    lowering.
    Typical: efficiency 0.8 for spur gears, 0.4 for a worm (typical, no source).

    Args:
        mass: Mass that hangs on the rope, kg.
        drum_radius: Radius of the drum to the middle of the rope, m.
        gear_ratio: Turns of the motor for one turn of the drum.
        efficiency: Efficiency of gear, drum and rope while raising.
        falls: Falls of rope that carry the load; 1 when left out.
        breakaway_efficiency: Efficiency to start raising from rest; as ``efficiency`` when left out.
        back_driving_efficiency: Efficiency while the load drives; ``2 - 1/efficiency`` when left out, negative for a gear that locks.
        drum_inertia: Inertia of the drum, at the drum, kg·m².
        forward_raises: Whether forward raises (when left out it does).
        inertia: Inertia on the motor's side of the gear, kg·m².

    Raises:
        PartError: A wrong unit, or a value outside its range.

    Probe: ``load_speed`` (upward positive). The rope never goes slack; for the ends of travel add an ``EndStop``.

    Example:
        >>> import stallpoint as sp
        >>> hoist = sp.Load.hoist(mass="500 kg", drum_radius="50 mm", gear_ratio=50, efficiency=0.8)
        >>> hoist.terminals
        ['shaft']
    """

    _tag = "hoist"

    def __init__(
        self,
        mass: Quantity,
        drum_radius: Quantity,
        gear_ratio: Quantity,
        efficiency: Quantity,
        *,
        falls: Quantity | None = None,
        breakaway_efficiency: Quantity | None = None,
        back_driving_efficiency: Quantity | None = None,
        drum_inertia: Quantity | None = None,
        forward_raises: bool | None = None,
        inertia: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class WormGear(LibraryPart):
    """A self-locking worm gear with a load on its output: it holds any load at rest, and lowering takes torque too. Terminal
    ``shaft``.

    Equation: ``T = T_hanging / (N η)`` while raising, ``T_hanging (1/η - 2) / N`` while lowering: it must be driven
    down.
    Typical: efficiency 0.4 (typical, no source).

    Args:
        ratio: Turns of the motor for one turn of the output.
        efficiency: Efficiency while turning, motor driving.
        breakaway_efficiency: Efficiency to start from rest, at most 1/2; the smaller of ``efficiency`` and 1/2 when left out.
        hanging_torque: Torque of a hanging load at the output, N·m, positive against forward.
        resisting_torque: Torque at the output that opposes motion, N·m.
        output_inertia: Inertia at the output, kg·m².
        inertia: Inertia on the motor's side, kg·m².

    Raises:
        PartError: A wrong unit, or a value outside its range.

    Probe: ``output_speed``. A gear that can be driven back is a ``Hoist``.

    Example:
        >>> import stallpoint as sp
        >>> sp.Load.worm_gear(ratio=40, efficiency=0.4, hanging_torque="80 N m").terminals
        ['shaft']
    """

    _tag = "worm_gear"

    def __init__(
        self,
        ratio: Quantity,
        efficiency: Quantity,
        *,
        breakaway_efficiency: Quantity | None = None,
        hanging_torque: Quantity | None = None,
        resisting_torque: Quantity | None = None,
        output_inertia: Quantity | None = None,
        inertia: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class HydraulicPump(LibraryPart):
    """A bidirectional pump that moves a cylinder both ways, with a relief valve. Terminal ``shaft``. Each default is typical,
    no source.

    Equation: ``T = D p`` with the displacement ``D`` over 2π, and ``β⁻¹ V dp/dt = D ω - G p - q_load - q_relief``.
    Typical: mechanical efficiency 0.88, leakage 8 %, 1 GPa of bulk modulus (typical, no source).

    Args:
        displacement_per_turn: Oil moved by one turn, m³.
        relief_pressure: Setting of the relief valve, both ways, Pa.
        forward_pressure, reverse_pressure: Pressures that move the load forward and backward, Pa.
        rated_speed: Speed at which the rated flow is meant, rad/s.
        line_loss: Pressure lost in valves and lines at the rated flow, Pa.
        leakage: Share of the rated flow that leaks inside at the relief valve's setting.
        relief_override: Rise above its setting at which the relief valve passes the rated flow, as a share of the setting.
        mechanical_efficiency: Mechanical efficiency at the working pressures, running.
        oil_volume: Volume of oil under pressure, m³.
        bulk_modulus: Bulk modulus of the oil with its hoses, Pa.
        stroke: Oil that moves the cylinder from end to end, m³; it never ends when left out.
        position: Position at the start, as a share of the stroke.
        inertia: Inertia it adds to the shaft, kg·m².

    Raises:
        PartError: A wrong unit; a value outside its range; a relief pressure not above the working pressures.

    States: ``pressure``, ``position``; probes: ``flow``, ``relief_flow``, ``shaft_torque``.

    Example:
        >>> import stallpoint as sp
        >>> pump = sp.Load.hydraulic_pump(
        ...     displacement_per_turn="4 cm3",
        ...     relief_pressure="140 bar",
        ...     forward_pressure="100 bar",
        ...     reverse_pressure="45 bar",
        ... )
        >>> pump.terminals
        ['shaft']
    """

    _tag = "hydraulic_pump"

    def __init__(
        self,
        displacement_per_turn: Quantity,
        relief_pressure: Quantity,
        forward_pressure: Quantity,
        reverse_pressure: Quantity,
        *,
        rated_speed: Quantity | None = None,
        line_loss: Quantity | None = None,
        leakage: Quantity | None = None,
        relief_override: Quantity | None = None,
        mechanical_efficiency: Quantity | None = None,
        oil_volume: Quantity | None = None,
        bulk_modulus: Quantity | None = None,
        stroke: Quantity | None = None,
        position: Quantity | None = None,
        inertia: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class Conveyor(LibraryPart):
    """A mass drawn along by a drum or pinion behind a gear, level or on a slope: a conveyor, a sliding gate. Terminal
    ``shaft``.

    Equation: ``T = μ m g r / (N η)`` against the motion, on the level.
    Typical: friction coefficient 0.02 to 0.05 on idlers, 0.25 to 0.4 sliding (typical, no source).

    Args:
        mass: Mass that moves: load, belt or gate, kg.
        drum_radius: Radius of the drum or pinion, m.
        gear_ratio: Turns of the motor for one turn of the drum.
        efficiency: Efficiency of the gear, motor driving.
        friction_coefficient: Friction force over weight while it moves.
        breakaway_efficiency: Efficiency to start from rest; as ``efficiency`` when left out.
        back_driving_efficiency: Efficiency while the load drives; ``2 - 1/efficiency`` when left out, negative for a gear that locks.
        breakaway_coefficient: Friction force over weight at rest; as ``friction_coefficient`` when less or left out.
        slope: Slope that forward climbs, rad; negative when forward goes down.
        drum_inertia: Inertia of drums and rollers, at the drum, kg·m².
        inertia: Inertia on the motor's side of the gear, kg·m².

    Raises:
        PartError: A wrong unit, or a value outside its range.

    Probe: ``belt_speed``.

    Example:
        >>> import stallpoint as sp
        >>> sp.Load.conveyor(mass="600 kg", drum_radius="50 mm", gear_ratio=25, efficiency=0.8, friction_coefficient=0.25).terminals
        ['shaft']
    """

    _tag = "conveyor"

    def __init__(
        self,
        mass: Quantity,
        drum_radius: Quantity,
        gear_ratio: Quantity,
        efficiency: Quantity,
        friction_coefficient: Quantity,
        *,
        breakaway_efficiency: Quantity | None = None,
        back_driving_efficiency: Quantity | None = None,
        breakaway_coefficient: Quantity | None = None,
        slope: Quantity | None = None,
        drum_inertia: Quantity | None = None,
        inertia: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class EndStop(LibraryPart):
    """Stops at shaft angles: a stiff spring with a damper that only pushes. Terminal ``shaft``.

    Equation: ``T = k x + d dx/dt`` beyond the stop by ``x``, never pulling.

    Args:
        forward, backward: Angles at which forward and backward motion are stopped, rad; no stop when left out.
        angle: Angle at the start, rad.
        stiffness: Stiffness at the motor's shaft, N·m/rad; 50 N·m/rad when left out (typical, no source).
        damping: Damping while touching, N·m·s/rad; without it the shaft rebounds with all its speed.

    Raises:
        PartError: A wrong unit; a stop that is not beyond the start; a stiffness that is not above zero.

    States: ``angle``, ``compression``.

    Example:
        >>> import stallpoint as sp
        >>> sp.Load.end_stop(forward="90 rad").terminals
        ['shaft']
    """

    _tag = "end_stop"

    def __init__(
        self,
        *,
        forward: Quantity | None = None,
        backward: Quantity | None = None,
        angle: Quantity | None = None,
        stiffness: Quantity | None = None,
        damping: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class Load:
    """Loads by kind."""

    conveyor = Conveyor
    end_stop = EndStop
    gravity_torque = GravityTorque
    hoist = Hoist
    hydraulic_pump = HydraulicPump
    quadratic_torque = QuadraticTorque
    resisting_torque = ResistingTorque
    viscous_torque = ViscousTorque
    worm_gear = WormGear
