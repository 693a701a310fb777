"""Resistor, inductor, capacitor, diode."""

from __future__ import annotations

from ._base import LibraryPart, Quantity

__all__ = ["Capacitor", "Diode", "Inductor", "Resistor"]


class Resistor(LibraryPart):
    """A resistor: ``v = R i``. Terminals ``a``, ``b``.

    Args:
        resistance: Resistance, ohm, above zero.

    Raises:
        PartError: A wrong unit, or a resistance that is not above zero.

    Example:
        >>> import stallpoint as sp
        >>> sp.Resistor("30 mohm")
        Resistor(resistance='30 mohm')
    """

    def __init__(self, resistance: Quantity) -> None:
        super().__init__({"resistance": resistance})


class Inductor(LibraryPart):
    """An inductor: ``v = L di/dt``. Terminals ``a``, ``b``.

    Args:
        inductance: Inductance, H, above zero.
        initial_current: Current when a transient starts, A.

    Raises:
        PartError: A wrong unit, or a value outside its range.

    Example:
        >>> import stallpoint as sp
        >>> sp.Inductor("120 uH", initial_current="5 A").terminals
        ['a', 'b']
    """

    def __init__(self, inductance: Quantity, *, initial_current: Quantity | None = None) -> None:
        super().__init__({"inductance": inductance, "initial_current": initial_current})


class Capacitor(LibraryPart):
    """A capacitor: ``i = C dv/dt``. Terminals ``a``, ``b``.

    Args:
        capacitance: Capacitance, F, above zero.
        initial_voltage: Voltage when a transient starts, V.

    Raises:
        PartError: A wrong unit, or a value outside its range.

    Example:
        >>> import stallpoint as sp
        >>> sp.Capacitor("1 mF", initial_voltage="12 V").terminals
        ['a', 'b']
    """

    def __init__(self, capacitance: Quantity, *, initial_voltage: Quantity | None = None) -> None:
        super().__init__({"capacitance": capacitance, "initial_voltage": initial_voltage})


class Diode(LibraryPart):
    """A diode: ``i = I_s (exp(v / n V_T) - 1)``. Terminals ``anode``, ``cathode``.

    The defaults are a small silicon power diode (typical, no source). No breakdown, no capacitance, one temperature.

    Args:
        saturation_current: Saturation current, A.
        slope_voltage: Ideality times thermal voltage, V.
        linear_above: Voltage above which the curve goes on as its tangent, V.

    Raises:
        PartError: A wrong unit, or a value outside its range.

    Example:
        >>> import stallpoint as sp
        >>> sp.Diode().terminals
        ['anode', 'cathode']
    """

    def __init__(
        self,
        *,
        saturation_current: Quantity | None = None,
        slope_voltage: Quantity | None = None,
        linear_above: Quantity | None = None,
    ) -> None:
        super().__init__(
            {"saturation_current": saturation_current, "slope_voltage": slope_voltage, "linear_above": linear_above}
        )
