"""Test lamp and voltmeter."""

from __future__ import annotations

from ._base import LibraryPart, Quantity

__all__ = ["TestLamp", "Voltmeter"]


class TestLamp(LibraryPart):
    """A test lamp of stated volts and watts: ``R = V² / P``. Terminals ``a``, ``b``.

    Args:
        rated_voltage: Rated voltage, V.
        rated_power: Power at the rated voltage, W.

    Probe: ``power``. A real filament has less resistance when cold.
    """

    __test__ = False  # a lamp for testing, no test of pytest's

    def __init__(self, rated_voltage: Quantity, rated_power: Quantity) -> None:
        super().__init__({"rated_voltage": rated_voltage, "rated_power": rated_power})


class Voltmeter(LibraryPart):
    """A voltmeter with its input resistance. Terminals ``plus``, ``minus``; probe: ``reading``.

    Args:
        input_resistance: Input resistance, ohm; 10 Mohm when left out (typical, no source).
    """

    def __init__(self, input_resistance: Quantity | None = None) -> None:
        super().__init__({"input_resistance": input_resistance})
