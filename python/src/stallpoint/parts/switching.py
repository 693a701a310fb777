"""Contacts, switches, coils, the reversing contactor."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ._base import Description, LibraryPart, Quantity, again

__all__ = ["Coil", "Contact", "ReversingContactor", "Suppression", "Switch"]


class Contact(Description):
    """A contact with its arc, as switches, breakers and contactors hold it. Each default is typical, no source, but for
    the arc voltage (silver, R. Holm, Electric Contacts).

    Args:
        closed_resistance: Resistance when closed, ohm.
        open_conductance: Leak when open, S.
        arc_voltage: Minimum arc voltage, V.
        arc_voltage_per_metre: Voltage that each metre of gap adds to a burning arc, over one metre, V.
        strike_voltage_per_metre: Voltage that each metre of gap withstands, over one metre, V.
        arc_resistance: Slope of a burning arc, ohm.
        minimum_arc_current: Current below which an arc cannot hold once the gap is full, A.
        gap: Full gap, m.
        opening_time: Time from parting to the full gap, s.
    """

    def __init__(
        self,
        *,
        closed_resistance: Quantity | None = None,
        open_conductance: Quantity | None = None,
        arc_voltage: Quantity | None = None,
        arc_voltage_per_metre: Quantity | None = None,
        strike_voltage_per_metre: Quantity | None = None,
        arc_resistance: Quantity | None = None,
        minimum_arc_current: Quantity | None = None,
        gap: Quantity | None = None,
        opening_time: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class Suppression(Description):
    """What lies across a coil and takes its current when it is switched off."""

    @classmethod
    def none(cls) -> Suppression:
        """Nothing: the contact that opens bears the whole voltage."""
        return cls({"kind": "none"})

    @classmethod
    def diode(cls) -> Suppression:
        """A diode."""
        return cls({"kind": "diode"})

    @classmethod
    def diode_and_resistor(cls, resistance: Quantity) -> Suppression:
        """A diode with a resistor (ohm) in series."""
        return cls({"kind": "diode_and_resistor", "resistance": resistance})

    @classmethod
    def resistor(cls, resistance: Quantity) -> Suppression:
        """A resistor (ohm) alone."""
        return cls({"kind": "resistor", "resistance": resistance})

    @classmethod
    def clamp(cls, voltage: Quantity) -> Suppression:
        """A diode with a constant voltage (V) in series."""
        return cls({"kind": "clamp", "voltage": voltage})


class Switch(LibraryPart):
    """A switch operated at known times: an isolator, a control switch. Terminals ``a``, ``b``.

    Equation: closed ``v = R i``; open ``i = G v``, or an arc of ``U_min + E gap(t)``.
    Typical: 0.3 mohm closed, 1e-9 S open (typical, no source).

    Args:
        contact: Its contact.
        closed: Whether it is closed at the start (when left out it is).
        opens_at, closes_at: When it opens and closes, s.
        schedule: Spans (from, to) in s in which it is closed; it is open outside them.

    Raises:
        PartError: A wrong unit; spans that do not rise.

    Example:
        >>> import stallpoint as sp
        >>> sp.Switch(opens_at="0.1 s").terminals
        ['a', 'b']
    """

    def __init__(
        self,
        *,
        contact: Contact | Mapping[str, Any] | None = None,
        closed: bool | None = None,
        opens_at: Quantity | None = None,
        closes_at: Quantity | None = None,
        schedule: Sequence[Sequence[Quantity]] | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)

    @classmethod
    def worked(cls, *spans: Sequence[Quantity]) -> Switch:
        """A switch that is closed in these spans (from, to) in s only."""
        return again(cls, {"schedule": [list(span) for span in spans]})  # type: ignore[return-value]


class Coil(LibraryPart):
    """The coil of a relay or contactor with its suppression. Terminals ``plus``, ``minus``.

    Equation: ``v = R(T) i + dλ/dt`` with the flux ``λ = L(position) i``; ``R(T)`` by copper's 0.00393 per kelvin (IEC
    60028).
    Typical: 12 V, 8 to 40 ohm; a sealed inductance of twice the open one (typical, no source).

    Args:
        rated_voltage: Rated voltage, V.
        resistance: Resistance at 20 °C, ohm.
        temperature_c: Temperature of the winding, °C; 20 when left out.
        open_inductance, sealed_inductance: Inductance with the armature open and sealed, H; when left out in proportion to a published measurement.
        suppression: What limits its voltage when it is switched off; nothing when left out.
        suppression_diode: The diode of the kinds of suppression that have one.
        core_loss_conductance: Core loss beside the inductance, S.
        faults: What is wrong with it: ``open`` (bool), ``shorted_turns`` (a share, 0 to 0.9), ``suppressor`` ("healthy",
            "shorted", "reversed", "missing"). Not for a coil of a contactor: there each coil has its own.

    Raises:
        PartError: A wrong unit, or a value outside its range.

    Example:
        >>> import stallpoint as sp
        >>> sp.Coil("12 V", "24 ohm", suppression=sp.Suppression.diode()).terminals
        ['plus', 'minus']
    """

    def __init__(
        self,
        rated_voltage: Quantity,
        resistance: Quantity,
        *,
        temperature_c: Quantity | None = None,
        open_inductance: Quantity | None = None,
        sealed_inductance: Quantity | None = None,
        suppression: Suppression | Mapping[str, Any] | None = None,
        suppression_diode: LibraryPart | Mapping[str, Any] | None = None,
        core_loss_conductance: Quantity | None = None,
        faults: Mapping[str, Any] | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)


class ReversingContactor(LibraryPart):
    """Two changeover contact sets driven by coil A (forward) and coil B (reverse). Terminals ``supply``, ``ground``,
    ``motor_a``, ``motor_b``, ``coil_a``, ``coil_b``, ``coil_return``.

    Equation: a coil above its pull-in current makes its set after ``operate_time``; below its drop-out current the set
    breaks. Closed contacts are ``v = R i``, opening ones an arc of ``U_min + E gap(t)``.
    Typical: pull-in at 65 % and drop-out at 35 % of the rated voltage, 20 ms to operate, 15 ms to release (typical, no
    source).

    Args:
        coil: Each of the two coils.
        pull_in_voltage, drop_out_voltage: Voltages at which it pulls in and drops out with its coil at 20 °C, V.
        highest_drop_out_voltage: Highest voltage at which it may drop out, V, from the data sheet.
        rest: Position at rest: "braked" (when left out) or "open".
        interlock: Whether one armature away from rest bars the other.
        contacts: Each of the four power contacts.
        operate_time, release_time: From pull-in current to first touch, from drop-out current back to rest, s.
        bounce: Times after first touch at which a closing contact opens, closes, … s; an even number, empty for none.
        making_current, carrying_current, breaking_current: Ratings, A.
        duty: "continuous" or "intermittent".
        duty_rating: What the data sheet says of time and heat, for the duty study: a mapping of ``longest_on_time`` (s),
            ``duty_factor``, ``contact_time_constant`` (s), ``coil_heat_capacity`` (J/K), ``coil_thermal_resistance`` (K/W),
            ``max_coil_temperature_c``.
        detailed: Moves the armatures by their forces instead of fixed times: a mapping of ``travel``, ``overtravel``, ``mass``,
            ``blade_share``, ``return_spring_share``, ``contact_force_share``, ``contact_spring_rise``, ``contact_restitution``,
            ``stop_restitution``, ``least_rebound_speed`` (m/s), ``touch_time``, ``saturation_exponent``, ``unsaturated_gain``;
            ``{}`` for all defaults (typical, no source). Its states ``making_a_arc_energy`` (J) and ``making_a_bounce_i2t``
            (A²·s), and those of ``b``, tell the weld risk of the last making: ``run.state("contactor", "making_a_arc_energy")``.
        faults: What is wrong with it. ``supply_a``, ``ground_a``, ``supply_b``, ``ground_b``: "welded", "not_making", "missing"
            or ``{"pitted": ohm}``; ``armature_a``, ``armature_b``: "stuck_open" or "stuck_closed"; ``coil_a``, ``coil_b``: the
            faults of a :class:`Coil`.

    Raises:
        PartError: A wrong unit; a drop-out voltage not below the pull-in voltage; a value outside its range.

    Probes: ``coil_a_voltage``, ``coil_a_current``, ``armature_a_position``, the same for B, ``supply_a_closed`` and so on.

    Example:
        >>> import stallpoint as sp
        >>> contactor = sp.ReversingContactor(sp.Coil("12 V", "24 ohm"), "8 V", "4 V", rest="braked")
        >>> contactor.terminals
        ['supply', 'ground', 'motor_a', 'motor_b', 'coil_a', 'coil_b', 'coil_return']
    """

    def __init__(
        self,
        coil: Coil | Mapping[str, Any],
        pull_in_voltage: Quantity,
        drop_out_voltage: Quantity,
        *,
        highest_drop_out_voltage: Quantity | None = None,
        rest: str | None = None,
        interlock: bool | None = None,
        contacts: Contact | Mapping[str, Any] | None = None,
        operate_time: Quantity | None = None,
        release_time: Quantity | None = None,
        bounce: Sequence[Quantity] | None = None,
        making_current: Quantity | None = None,
        carrying_current: Quantity | None = None,
        breaking_current: Quantity | None = None,
        duty: str | None = None,
        duty_rating: Mapping[str, Any] | None = None,
        detailed: Mapping[str, Any] | None = None,
        faults: Mapping[str, Any] | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)
