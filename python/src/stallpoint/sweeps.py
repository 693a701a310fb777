"""Sweeps: a drive started over a grid of values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ._stallpoint import Drive, sweep_table
from .errors import UnknownNameError


class Sweep:
    """The result of a sweep: one array for every measure, in the shape of the grid.

    ``grid["peak_current"]`` is an array; ``dimensions`` gives each axis's name and its keys with their coordinates and unit;
    ``failures`` gives, in the order of the flattened grid, the reason for every case that could not be made, else None; ``ending``
    is "finished" or "cancelled".
    """

    def __init__(
        self,
        dimensions: list[tuple[str, dict[str, tuple[Any, str]]]],
        columns: dict[str, tuple[NDArray[np.float64], str, str]],
        failures: list[str | None],
        shape: list[int],
        ending: str,
    ) -> None:
        self.dimensions = dimensions
        self.failures = failures
        self.shape = tuple(shape)
        self.ending = ending
        self._columns = columns

    @property
    def measures(self) -> list[str]:
        """Names of the measures."""
        return list(self._columns)

    def unit(self, measure: str) -> str:
        """Unit of a measure."""
        return self._column(measure)[1]

    def _column(self, measure: str) -> tuple[NDArray[np.float64], str, str]:
        try:
            return self._columns[measure]
        except KeyError:
            known = ", ".join(self._columns)
            raise UnknownNameError(f'no measure "{measure}" was taken; known are {known}', name=measure) from None

    def __getitem__(self, measure: str) -> NDArray[np.float64]:
        return self._column(measure)[0]

    def to_xarray(self) -> Any:
        """The sweep as an xarray Dataset: a dimension an axis, units in ``attrs``.

        An axis of one key is named after the key; one of several keys after the first, the others are further coordinates.
        """
        import xarray as xr

        names = [next(iter(keys)) for _, keys in self.dimensions]
        coordinates: dict[str, Any] = {}
        for name, (_, keys) in zip(names, self.dimensions, strict=True):
            for key, (values, unit) in keys.items():
                coordinates[key] = (name, np.asarray(values), {"units": unit})
        data = {}
        for measure, (values, unit, kind) in self._columns.items():
            typed = values == 1.0 if kind == "flag" and not np.isnan(values).any() else values
            data[measure] = (names, typed, {"units": unit})
        failed = np.array([reason or "" for reason in self.failures], dtype=object).reshape(self.shape)
        data["failure"] = (names, failed, {})
        return xr.Dataset(data, coords=coordinates)

    def to_pandas(self) -> Any:
        """The sweep as a pandas DataFrame, one row a case."""
        import pandas as pd

        places = np.indices(self.shape).reshape(len(self.shape), -1)
        table: dict[str, Any] = {}
        for place, (_, keys) in zip(places, self.dimensions, strict=True):
            for key, (values, _unit) in keys.items():
                table[key] = np.asarray(values)[place]
        for measure, (values, _unit, _kind) in self._columns.items():
            table[measure] = values.ravel()
        return pd.DataFrame({**table, "failure": self.failures})

    def __repr__(self) -> str:
        failed = sum(reason is not None for reason in self.failures)
        names = " x ".join(name for name, _ in self.dimensions)
        size = " x ".join(map(str, self.shape))
        return f"<Sweep over {names} ({size}): {', '.join(self.measures)}; {failed} failed>"

    def _repr_html_(self) -> str:
        return self.to_pandas()._repr_html_()


def sweep(
    drive: Drive,
    values: Mapping[str | tuple[str, ...], Sequence[Any]],
    measure: Sequence[str],
    *,
    direction: str = "forward",
    hold: float | str | None = None,
    rtol: float = 1e-4,
    threads: int | None = None,
    progress: Any = None,
    executor: None = None,
) -> Sweep:
    """Starts a drive at every point of a grid and takes figures of each start.

    Args:
        drive: the drive.
        values: a key (the path in the drive's file) or a tuple of keys that change together, to its values: numbers in SI or texts
            with units. The grid is every combination, the first key slowest.
        measure: names of figures of the surge: "peak_current", "time_to_speed", "stalled" (1 or 0), "trips" (0 no, 1 may, 2 will) …
        direction: "forward" or "reverse".
        hold: how long the control is held, s; 3 s when left out.
        rtol: relative tolerance of each run.
        threads: how many work at once; all when left out. The result does not depend on it.
        progress: True for a bar, or a function of the fraction done; one that returns False cancels.
        executor: only None for now: threads inside.

    Returns:
        A :class:`Sweep`. A case that cannot be made keeps its place, with NaN and its reason.

    Raises:
        ValueKeyError: a key that the drive does not have, or a value that does not read.
        ArgumentError: an unknown measure, an empty axis.

    Example:
        >>> import stallpoint as sp
        >>> grid = sp.sweep(sp.Drive.demo("boat_lift"), {"supply_cable.length": [4, 8]}, ["peak_current"], hold="0.2 s")
        >>> bool(grid["peak_current"][0] > grid["peak_current"][1])
        True
    """
    return sweep_table(
        drive,
        dict(values),
        list(measure),
        direction=direction,
        hold=hold,
        rtol=rtol,
        threads=threads,
        progress=progress,
    )
