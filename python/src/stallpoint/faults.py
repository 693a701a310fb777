"""Fault finding, refit and commissioning: small results, and two calls that are shorter than their parts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from . import _repr
from ._stallpoint import Drive, Fault, FaultFinder
from .records import _Rows


class Rows(_Rows[Any]):
    """A list of records that shows as a table; ``to_pandas()`` makes it a DataFrame."""


@dataclass(frozen=True)
class CatalogueEntry:
    """A fault that a drive may have: ``unit``, ``mild`` and ``severe`` say how bad it may be (None where there is one way)."""

    part: str
    mode: str
    words: str
    section: str
    unit: str | None
    mild: float | None
    severe: float | None
    prior: float


@dataclass(frozen=True)
class ReadingRow:
    """What an instrument shows: ``shows`` in ``unit`` or a word, ``tolerance`` two deviations of meter and parameter spread."""

    instrument: str
    plus: str
    minus: str
    control: str
    when: str
    shows: float | str
    unit: str
    tolerance: float | None
    note: str


@dataclass(frozen=True)
class NextTest:
    """What to measure next: ``bits`` it is expected to tell, ``minutes`` and ``risk`` it costs, ``why``, and what to mind."""

    plus: str
    minus: str
    control: str
    instrument: str
    bits: float
    minutes: float
    risk: float
    why: str
    caution: str
    words: str

    @property
    def probes(self) -> tuple[str, str]:
        """Both probes."""
        return self.plus, self.minus

    def __str__(self) -> str:
        return f"{self.words}. {self.why} {self.caution}"


@dataclass(frozen=True)
class Ranked:
    """A fault (None: nothing is wrong) with its probability, and what would tell it from the next one."""

    fault: Fault | None
    probability: float
    words: str
    section: str
    told_from_next_by: str | None

    def __str__(self) -> str:
        return f"{self.probability:7.2%}  {self.words}"


@dataclass(frozen=True)
class Wire:
    """A wire with the studs it belongs on."""

    wire: str
    start: str
    end: str


@dataclass(frozen=True)
class SwapRow:
    """What the drive does with wires swapped (supply and ground at the contactor, at the battery): sign of its speed with the control forward and in reverse."""

    motor_wires: bool
    signal_wires: bool
    supply_and_ground: bool
    battery: bool
    forward: int
    reverse: int


@dataclass(frozen=True)
class SheetLine:
    """A line of a commissioning sheet: ``expected`` ± ``tolerance`` in ``unit``, the user's ``reading``, its ``verdict``."""

    instrument: str
    plus: str
    minus: str
    control: str
    expected: float | str
    tolerance: float | None
    unit: str
    reading: float | str | None
    verdict: str


@dataclass(frozen=True, repr=False)
class Report:
    """A text in three forms."""

    text: str
    markdown: str
    html: str

    def __str__(self) -> str:
        return self.text

    def __repr__(self) -> str:
        return self.text

    def _repr_html_(self) -> str:
        return self.html


@dataclass(frozen=True, eq=False)
class Comparison:
    """Volts along the loop of a healthy and a faulty drive, by moment (at rest, surge peak, held 2 s) and point."""

    points: list[str]
    moments: list[str]
    healthy: list[list[float]]
    faulty: list[list[float]]

    def to_pandas(self) -> Any:
        """Volts as a DataFrame: one row a point, columns (moment, drive)."""
        import pandas as pd

        columns = {}
        for k, moment in enumerate(self.moments):
            columns[(moment, "healthy")] = self.healthy[k]
            columns[(moment, "faulty")] = self.faulty[k]
        return pd.DataFrame(columns, index=self.points)

    def _repr_html_(self) -> str:
        return _repr._table(
            ["point", *(f"{moment}, {which}" for moment in self.moments for which in ("healthy", "faulty"))],
            [
                [point, *(round(rows[k][i], 3) for k in range(len(self.moments)) for rows in (self.healthy, self.faulty))]
                for i, point in enumerate(self.points)
            ],
        )

    def plot(self, axes: Any = None) -> Any:
        """Volts to battery negative along the loop, one picture a moment, one below the other.

        Args:
            axes: as many matplotlib axes as moments; new ones when left out.

        Returns:
            The axes.
        """
        from . import plot

        return plot.comparison(self, axes)


def procedure(drive: Drive | FaultFinder) -> Report:
    """The procedure of common practice for a drive, with expected readings, published limits, meanings and cautions.

    Args:
        drive: a drive, or a finder that was made for it (which saves the simulation of all faults).
    """
    finder = drive if isinstance(drive, FaultFinder) else FaultFinder(drive, draws=2)
    return finder.procedure()
