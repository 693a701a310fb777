"""Time–current gates that standards set for breakers and fuses, as lists of :class:`~stallpoint.records.Gate`.

Hold a device against them with ``Breaker.meets`` or ``Fuse.meets``; gates of your own are ``sp.Gate("my standard", 1.3, holds_for=3600)``.
"""

from __future__ import annotations

from ._stallpoint import standard_gates
from .parts import Quantity
from .records import Gate

__all__ = ["iec_60898", "road_vehicle_fuse", "ul_248_14", "ul_489"]


def iec_60898(kind: str, rated_current: Quantity) -> list[Gate]:
    """Gates of a miniature breaker of type "B", "C" or "D" and rated current (A); none above 125 A.

    For alternating current; the 7200 s above 63 A are from memory. Source: IEC 60898-1 Table 7.

    Raises:
        ArgumentError: Another type; a wrong unit.

    Example:
        >>> import stallpoint as sp
        >>> gate = sp.gates.iec_60898("C", "16 A")[4]
        >>> gate.multiple, gate.trips_within
        (10.0, 0.1)
    """
    return standard_gates("iec_60898", kind, rated_current)


def ul_489(rated_current: Quantity) -> list[Gate]:
    """Calibration limits of a moulded-case breaker of a rated current (A); most above 50 A are from memory. Source: UL 489."""
    return standard_gates("ul_489", "", rated_current)


def ul_248_14(rated_current: Quantity) -> list[Gate]:
    """Calibration limits of a fuse of a rated current (A); none above 60 A. Source: UL 248-14."""
    return standard_gates("ul_248_14", "", rated_current)


def road_vehicle_fuse(fuse_class: str, rated_current: Quantity) -> list[Gate]:
    """Gates of a road-vehicle fuse of a class ("blade_mini", "blade_ato", "blade_maxi", "bolt_high_current") and rated current
    (A); none outside the class's ratings.

    Source: ISO 8820-3; SAE J1284, J2077, J1888; bolt-down ones ISO 8820-5, from memory.

    Raises:
        ArgumentError: Another class; a wrong unit.
    """
    return standard_gates("road_vehicle_fuse", fuse_class, rated_current)
