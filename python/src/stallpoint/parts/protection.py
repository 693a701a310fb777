"""Breakers and fuses."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from .._stallpoint import ProtectiveDevice, miniature_breaker
from ..records import Gate, GateCheck
from ._base import Description, LibraryPart, Quantity, again, plain
from .switching import Contact

__all__ = ["Breaker", "Derating", "Fuse", "HoldingHeater", "MagneticTrip", "TripBand"]


class TripBand(Description):
    """The band between the fastest and the slowest trip curve; made by ``points``, ``inverse_time`` or ``thermal``."""

    @classmethod
    def points(cls, fastest: Sequence[Sequence[float]], slowest: Sequence[Sequence[float]]) -> TripBand:
        """Two curves by rows of [multiple of the rated current, seconds], as read off a data sheet.

        Straight between the rows on log–log paper, beyond the last row as 1/M², no trip below the first.
        """
        rows = {"fastest": [list(row) for row in fastest], "slowest": [list(row) for row in slowest]}
        return cls({"points": rows})

    @classmethod
    def inverse_time(
        cls, curve: str, *, time_multiplier: float | None = None, tolerance: Quantity | None = None
    ) -> TripBand:
        """A standard curve ("iec_standard_inverse", "iec_very_inverse", …) times a multiplier; the fastest and slowest
        device lie ``tolerance`` below and above."""
        given = {"curve": curve, "time_multiplier": time_multiplier, "tolerance": tolerance}
        return cls({"inverse_time": {name: value for name, value in given.items() if value is not None}})

    @classmethod
    def thermal(cls, pick_up: float, time_constant: Quantity, *, tolerance: Quantity | None = None) -> TripBand:
        """A thermal replica, ``τ dA/dt = (M / pick_up)² - A``: it integrates at every current, so an earlier load counts.

        Args:
            pick_up: The multiple of the rated current that just does not trip.
            time_constant: Time constant, s.
            tolerance: Relative tolerance of the time constant: the fastest and slowest device lie that far below and above.
        """
        given = {"pick_up": pick_up, "time_constant": time_constant, "tolerance": tolerance}
        return cls({"thermal": {name: value for name, value in given.items() if value is not None}})


class MagneticTrip(Description):
    """The magnetic element of a breaker: a current above its multiple for ``operating_time`` opens it.

    Args:
        fastest, slowest: Multiples of the rated current at which the fastest and the slowest device operate.
        operating_time: From passing the multiple to parting, s; 8 ms when left out (typical, no source).
    """

    def __init__(self, fastest: float, slowest: float, *, operating_time: Quantity | None = None) -> None:
        super().__init__({"fastest": fastest, "slowest": slowest, "operating_time": operating_time})


class Derating(Description):
    """What the ambient makes of a rated current; made by ``linear`` or ``table``. There is no default, for devices differ."""

    @classmethod
    def linear(cls, reference_c: Quantity, per_kelvin: float) -> Derating:
        """``1 + per_kelvin (T - reference_c)``: the ambient for which the rated current holds, °C, and the change of the
        factor with each kelvin, 1/K, below zero for a thermal device."""
        return cls({"linear": {"reference_c": reference_c, "per_kelvin": per_kelvin}})

    @classmethod
    def table(cls, rows: Sequence[Sequence[float]]) -> Derating:
        """Rows of [ambient in °C, factor], temperatures rising; straight between them and not beyond."""
        return cls({"table": [list(row) for row in rows]})


class HoldingHeater(Description):
    """The heater across the open contact of a breaker with modified reset. Both defaults are typical, no source.

    Args:
        resistance: Its resistance, ohm; 150 ohm when left out.
        trip_voltage: Voltage at which it alone keeps the strip at trip heat, V; 9 V when left out.
    """

    def __init__(self, *, resistance: Quantity | None = None, trip_voltage: Quantity | None = None) -> None:
        super().__init__({"resistance": resistance, "trip_voltage": trip_voltage})


class _Protective(LibraryPart):
    """What breakers and fuses are asked."""

    def _device(self) -> ProtectiveDevice:
        return ProtectiveDevice(type(self).__name__, plain(self._parameters))

    def trip_time(self, current: Quantity, position: float | None = None) -> float | None:
        """Trip time from cold under a steady current, s; None when it never trips.

        Args:
            current: Current, A.
            position: 0 for the fastest device of its kind to 1 for the slowest; its own ``band_position`` when left out.

        Raises:
            ArgumentError: A position outside 0 to 1.
        """
        device = self._device()
        return device.trip_time(current, device.band_position if position is None else position)

    def trips_from(self, position: float | None = None) -> float:
        """Least current that trips it sooner or later, A; ``position`` as for :meth:`trip_time`."""
        device = self._device()
        return device.trips_from(device.band_position if position is None else position)

    def meets(self, gates: Iterable[Gate]) -> list[GateCheck]:
        """Holds both edges of its band against a standard's time–current gates, cold: see :mod:`stallpoint.gates`.

        Example:
            >>> import stallpoint as sp
            >>> band = sp.TripBand.points([[1.1, 900], [2, 20]], [[1.4, 3600], [2, 80]])
            >>> [check.holds for check in sp.Breaker("30 A", band).meets(sp.gates.ul_489("30 A"))]
            [True, False, True]
        """
        return self._device().meets(list(gates))


class Breaker(_Protective):
    """A breaker that trips by the accumulated integral of its trip band, and by a magnetic element if it has one.
    Terminals ``line``, ``load``.

    Equation: ``dF/dt = 1 / t(i / rated)`` above the pick-up, ``-F / τ`` below it; it opens where ``F`` reaches 1 (IEEE
    C37.112; the decay is our own).
    Typical: a band from fastest to slowest of 1 to 10 in time at twice the rated current, ``τ`` of a minute (typical,
    no source).

    Args:
        rated_current: Rated current, A: what the band's multiples count.
        trip_band: Its trip band.
        band_position: Where this device sits in its band, 0 fastest to 1 slowest; 0.5 when left out.
        magnetic: Its magnetic element; only a breaker with manual reset may have one.
        reset: "manual" (when left out), "automatic", or "modified": by itself, but held open while there is voltage.
        recloses_at: With automatic or modified reset: closes when its integral has decayed to this fraction.
        heater: With modified reset: the heater across the open contact.
        cooling_time_constant: Time constant with which the integrals decay, s.
        ambient_c: Ambient of the device, °C; given together with ``derating``.
        derating: What the ambient makes of the rated current.
        contact: Its contact.
        interrupting_capacity: Largest current it may break, A; only studies use it.

    Raises:
        PartError: A wrong unit; a value outside its range; a band that is none; a magnetic element that resets by itself.

    States: ``current``, ``trip_fraction_fastest``, ``trip_fraction_slowest``, ``trip_fraction``; probe: ``closed``.

    Example:
        >>> import stallpoint as sp
        >>> band = sp.TripBand.points([[1.1, 900], [2, 20], [6, 1]], [[1.4, 3600], [2, 80], [6, 4]])
        >>> round(sp.Breaker("50 A", band).trip_time("100 A"), 1)
        40.0
    """

    def __init__(
        self,
        rated_current: Quantity,
        trip_band: TripBand | Mapping[str, Any],
        *,
        band_position: Quantity | None = None,
        magnetic: MagneticTrip | Mapping[str, Any] | None = None,
        reset: str | None = None,
        recloses_at: Quantity | None = None,
        heater: HoldingHeater | Mapping[str, Any] | None = None,
        cooling_time_constant: Quantity | None = None,
        ambient_c: Quantity | None = None,
        derating: Derating | Mapping[str, Any] | None = None,
        contact: Contact | Mapping[str, Any] | None = None,
        interrupting_capacity: Quantity | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        super().__init__(given)

    @classmethod
    def miniature(
        cls,
        kind: str,
        rated_current: Quantity,
        *,
        band_position: Quantity | None = None,
        contact: Contact | Mapping[str, Any] | None = None,
        interrupting_capacity: Quantity | None = None,
    ) -> Breaker:
        """A miniature breaker of type "B", "C" or "D" that uses the gates of IEC 60898-1 to the full; a maker's own band is
        narrower. The other arguments are those of ``Breaker``.

        Raises:
            ArgumentError: Another type; a rated current above 125 A, where the standard ends.

        Example:
            >>> import stallpoint as sp
            >>> breaker = sp.Breaker.miniature("C", "16 A")
            >>> all(check.holds for check in breaker.meets(sp.gates.iec_60898("C", "16 A")))
            True
            >>> breaker.trip_time("160 A", position=1)  # its magnetic element
            0.008
        """
        made = miniature_breaker(kind, rated_current)
        return cls(
            rated_current,
            made["trip_band"],
            magnetic=made["magnetic"],
            band_position=band_position,
            contact=contact,
            interrupting_capacity=interrupting_capacity,
        )

    @property
    def rated_at_ambient(self) -> float:
        """Rated current at its ambient, A: what the band's multiples really count."""
        return self._device().rated_at_ambient


class Fuse(_Protective):
    """A fuse: its pre-arcing time by the band of its class, then an arc, then open for good. Terminals ``line``, ``load``.

    Equation: ``dF/dt = 1 / t(i / rated)`` above the pick-up, ``-F / τ`` below it; it melts where ``F`` reaches 1.
    Typical: ``τ`` of 10 s (typical, no source); the bands are the gates of its class.

    Args:
        rated_current: Rated current, A.
        fuse_class: Class whose gates make the band: "blade_mini", "blade_ato", "blade_maxi" or "bolt_high_current".
        trip_band: Band of pre-arcing times from a data sheet, instead of or over the class's.
        band_position: Where this fuse sits in its band, 0 fastest to 1 slowest; 0.5 when left out.
        cooling_time_constant: Time constant with which it warms and cools, s; 10 s when left out (typical, no source).
        cold_resistance: Resistance when cold, ohm; from data sheets of the class when left out.
        hot_cold_ratio: Resistance long after the rated current began, over the cold one; 1.4 when left out.
        contact: The gap that the molten element leaves.
        interrupting_capacity: Largest current it may break, A; only studies use it.
        spent: Whether it is blown from the start.

    Raises:
        PartError: A wrong unit; a rated current outside those of the class; neither class nor band.

    States: ``current``, ``trip_fraction_fastest``, ``trip_fraction_slowest``, ``trip_fraction``, ``warmth``; probe: ``closed``.
    The gates are for a fuse at room temperature. Its class is called ``class`` in a file.

    Example:
        >>> import stallpoint as sp
        >>> fuse = sp.Fuse("15 A", "blade_mini").at_melting_i2t(270)
        >>> round(fuse.trip_time("300 A"), 9)
        0.003
    """

    def __init__(
        self,
        rated_current: Quantity,
        fuse_class: str | None = None,
        *,
        trip_band: TripBand | Mapping[str, Any] | None = None,
        band_position: Quantity | None = None,
        cooling_time_constant: Quantity | None = None,
        cold_resistance: Quantity | None = None,
        hot_cold_ratio: Quantity | None = None,
        contact: Contact | Mapping[str, Any] | None = None,
        interrupting_capacity: Quantity | None = None,
        spent: bool | None = None,
    ) -> None:
        given = {name: value for name, value in locals().items() if name not in ("self", "__class__")}
        given["class"] = given.pop("fuse_class")
        super().__init__(given)

    def __repr__(self) -> str:
        return super().__repr__().replace(" class=", " fuse_class=", 1)  # as the argument is called

    def at_melting_i2t(self, i2t: float) -> Fuse:
        """This fuse at the position in its band where its melting I²t for short times is ``i2t``, A²s.

        Raises:
            ArgumentError: An I²t outside the band's; a band that has none because it is not given by points.
        """
        return again(type(self), {**self._parameters, "band_position": self._device().position_at(i2t)})  # type: ignore[return-value]

    @property
    def melting_i2t(self) -> tuple[float, float] | None:
        """Melting I²t for short times of the fastest and the slowest fuse, A²s; None for a band that is not given by points."""
        edges = self._device().melting_i2t
        return None if edges is None else (edges[0], edges[1])

    @property
    def gates(self) -> list[Gate]:
        """The gates of its class."""
        return self._device().gates

    @property
    def band(self) -> TripBand:
        """The band it works by: its own, or that of its class."""
        return TripBand(self._device().band)
