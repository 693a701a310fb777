"""Tolerances: corners, the worst of them, draws at random, and what matters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ._stallpoint import (
    Drive,
    all_corners,
    find_worst_corners,
    monte_carlo_table,
    sensitivity_rows,
    worst_day_corner,
)
from .errors import UnknownNameError
from .records import _Rows
from .sizing import Requirement


@dataclass(frozen=True)
class Normal:
    """A tolerance: normally around ``mean`` with a standard ``deviation``, cut off at three of them."""

    mean: float | str
    deviation: float | str


def _tolerances(tolerances: Mapping[Any, Any]) -> list[Any]:
    rows = []
    for keys, own in tolerances.items():
        keys_of = [keys] if isinstance(keys, str) else list(keys)
        if isinstance(own, Normal):
            rows.append((", ".join(keys_of), keys_of, "normal", own.mean, own.deviation))
        else:
            low, high = own
            rows.append((", ".join(keys_of), keys_of, "interval", low, high))
    return rows


def corners(drive: Drive, tolerances: Mapping[str | tuple[str, ...], Any]) -> dict[str, dict[str, Any]]:
    """Every combination of the tolerances' ends, by name: for ``corners`` of :func:`size`.

    Args:
        drive: the drive.
        tolerances: a key (or a tuple of keys that lie alike) to its two ends, or to a :class:`Normal` (three deviations each side).

    Example:
        >>> import stallpoint as sp
        >>> found = sp.corners(sp.Drive.demo("boat_lift"), {"battery.state_of_charge": ("50 %", "100 %")})
        >>> list(found)
        ['battery.state_of_charge 0.5', 'battery.state_of_charge 1']
    """
    return all_corners(drive, _tolerances(tolerances))


def worst_day(
    drive: Drive,
    *,
    state_of_charge: float = 0.5,
    battery_resistance: float = 1.5,
    hot_c: float = 70.0,
    joint: float = 1e-3,
    load: float = 1.2,
) -> dict[str, dict[str, Any]]:
    """A ready-made corner on which everything is against the drive at once: weak cold battery, hot cables and coils, aged joints,
    high load. Both directions are judged in every corner.

    Args:
        drive: the drive.
        state_of_charge: of the battery, 0 to 1, where the description has more.
        battery_resistance: factor of the battery's series resistance: cold and aged.
        hot_c: temperature of cables and coils, degC, where the description has less.
        joint: least resistance of every joint, ohm.
        load: factor of the loads' torques and masses, and of a pump's pressures to just below its relief pressure at most. Brakes by
            speed, fans and stops stay as they are.

    The defaults are typical, without a source: give your own.

    Returns:
        One corner by its name, for ``corners`` of :func:`size`.

    Example:
        >>> import stallpoint as sp
        >>> drive = sp.Drive.demo("boat_lift").with_values({"limits.longest_hold": "15 s"})
        >>> options = sp.size(drive, {"breaker.rated_current": [80]}, corners=sp.worst_day(drive))
        >>> options.candidates[0].checks[0].corner
        'worst day'
    """
    return worst_day_corner(
        drive, state_of_charge=state_of_charge, battery_resistance=battery_resistance, hot_c=hot_c, joint=joint, load=load
    )


@dataclass(frozen=True)
class WorstCorners:
    """The ``corners`` in which requirements are worst (by name, for :func:`size`), the ``least_margins`` by requirement, how many
    ``samples`` were drawn, and those ``beyond``: (key, margin, values) where a sample was worse than every corner."""

    corners: dict[str, dict[str, Any]]
    least_margins: dict[str, float]
    samples: int
    beyond: list[tuple[str, float, dict[str, Any]]]


def worst_corners(
    drive: Drive,
    tolerances: Mapping[str | tuple[str, ...], Any],
    *,
    samples: int = 100,
    seed: int = 0,
    without: Sequence[str] = (),
    requirements: Sequence[Requirement] = (),
    hold: float | str | None = None,
    rtol: float = 1e-4,
    threads: int | None = None,
    progress: Any = None,
) -> WorstCorners:
    """Finds for each requirement the corner in which its margin is least, and looks by sampling for anything worse.

    Each tolerance is moved to each of its ends alone; the worse ends together make the corner. Right where a margin goes one way with
    every tolerance whatever the others are; the samples tell where it does not, and may miss it.
    """
    return find_worst_corners(
        drive,
        _tolerances(tolerances),
        samples,
        seed,
        list(without),
        list(requirements),
        hold=hold,
        rtol=rtol,
        threads=threads,
        progress=progress,
    )


class MonteCarlo:
    """A drive started many times: ``draws`` and ``values`` are arrays by name, ``units`` of the values, ``failures`` gives each case's
    reason or None."""

    def __init__(
        self,
        draws: dict[str, NDArray[np.float64]],
        values: dict[str, NDArray[np.float64]],
        units: dict[str, str],
        failures: list[str | None],
        seed: int,
    ) -> None:
        self.draws = draws
        self.values = values
        self.units = units
        self.failures = failures
        self.seed = seed

    def __getitem__(self, measure: str) -> NDArray[np.float64]:
        try:
            return self.values[measure]
        except KeyError:
            known = ", ".join(self.values)
            raise UnknownNameError(f'no measure "{measure}" was taken; known are {known}', name=measure) from None

    def quantile(self, measure: str, share: float) -> float:
        """A quantile of a measure over the cases that have it."""
        return float(np.nanquantile(self[measure], share))

    def to_pandas(self) -> Any:
        """A pandas DataFrame, one row a case."""
        import pandas as pd

        return pd.DataFrame({**self.draws, **self.values, "failure": self.failures})

    def __repr__(self) -> str:
        failed = sum(reason is not None for reason in self.failures)
        return f"<MonteCarlo: {len(self.failures)} cases of {', '.join(self.draws)}: {', '.join(self.values)}; {failed} failed>"

    def _repr_html_(self) -> str:
        return self.to_pandas()._repr_html_()


def monte_carlo(
    drive: Drive,
    tolerances: Mapping[str | tuple[str, ...], Any],
    measure: Sequence[str],
    *,
    samples: int = 1000,
    seed: int = 0,
    direction: str = "forward",
    hold: float | str | None = None,
    rtol: float = 1e-4,
    threads: int | None = None,
    progress: Any = None,
) -> MonteCarlo:
    """Starts a drive many times, its tolerances drawn anew each time.

    Args:
        drive: the drive.
        tolerances: a key (or a tuple of keys that lie alike) to its two ends (evenly between them), or to a :class:`Normal`.
        measure: names of figures of the surge, as for :func:`stallpoint.sweep`.
        samples: how many cases.
        seed: of the streams: each case has its own, from the seed and its number, so that the result does not depend on threads.
        direction, hold, rtol, threads, progress: as for :func:`stallpoint.sweep`.

    Returns:
        :class:`MonteCarlo`; a case that cannot be made keeps its row, with NaN and its reason.

    Example:
        >>> import stallpoint as sp
        >>> drive = sp.Drive.demo("boat_lift")
        >>> found = sp.monte_carlo(drive, {"battery.state_of_charge": (0.5, 1.0)}, ["peak_current"], samples=4, hold="0.2 s")
        >>> len(found["peak_current"])
        4
    """
    return monte_carlo_table(
        drive,
        _tolerances(tolerances),
        list(measure),
        samples,
        seed,
        direction=direction,
        hold=hold,
        rtol=rtol,
        threads=threads,
        progress=progress,
    )


@dataclass(frozen=True)
class Sensitivity:
    """How much a ``measure`` changes with a ``parameter``: the ``derivative`` in SI at the parameter's value ``at``, where the measure is
    ``value``; ``elasticity`` is per cent by per cent."""

    parameter: str
    measure: str
    at: float
    value: float
    derivative: float
    elasticity: float


class SensitivityList(_Rows[Sensitivity]):
    """Sensitivities, one row a parameter and measure."""


def sensitivities(
    drive: Drive,
    parameters: Sequence[str],
    measure: Sequence[str],
    *,
    direction: str = "forward",
    hold: float | str | None = None,
    rtol: float = 1e-6,
    threads: int | None = None,
    progress: Any = None,
) -> SensitivityList:
    """Derivatives of measures of a start to parameters of the drive, by central differences of one per cent to each side.

    Args:
        drive: the drive.
        parameters: keys of numbers in the drive's file.
        measure: names of figures of the surge, as for :func:`stallpoint.sweep`.
        direction, hold, rtol, threads, progress: as for :func:`stallpoint.sweep`.

    Example:
        >>> import stallpoint as sp
        >>> rows = sp.sensitivities(sp.Drive.demo("boat_lift"), ["supply_cable.length"], ["peak_current"], hold="0.2 s")
        >>> rows[0].derivative < 0
        True
    """
    return sensitivity_rows(
        drive,
        list(parameters),
        list(measure),
        direction=direction,
        hold=hold,
        rtol=rtol,
        threads=threads,
        progress=progress,
    )
