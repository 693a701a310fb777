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
    """A fault that a drive may have, as :func:`~stallpoint.fault_catalogue` lists them.

    Attributes:
        part: the part; with ``mode`` what :class:`~stallpoint.Fault` takes.
        mode: how it fails.
        words: what it is, for people.
        section: "supply", "ground", "signals", "contactor", "motor" or "load".
        unit: of ``mild`` and ``severe`` ("1" for a share or a factor); None where there is one way to be bad.
        mild: the least that counts.
        severe: the worst.
        prior: its share of all faults before anything is measured (common practice, no source).
        hazard: what is dangerous about it, where it is more than a bad drive; None without.
    """

    part: str
    mode: str
    words: str
    section: str
    unit: str | None
    mild: float | None
    severe: float | None
    prior: float
    hazard: str | None = None


@dataclass(frozen=True)
class ReadingRow:
    """What an instrument shows on a drive, as :func:`~stallpoint.readings` lists them.

    Attributes:
        instrument: "voltmeter", "test lamp", …
        plus: first probe, or the conductor in the clamp; empty to look or listen.
        minus: second probe.
        control: "at rest", "forward", "reverse" or "isolated".
        when: "steady", or "surge" for a peak during the start.
        shows: a number in ``unit``, not finer than the display, or a word.
        unit: "V", "A", "ohm", or empty for words.
        tolerance: two deviations of meter and parameter spread (typical, no source), in ``unit``; None for words.
        note: anything to mind.
    """

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
    """What to measure next, from :meth:`FaultFinder.next_test <stallpoint.FaultFinder.next_test>`.

    Attributes:
        plus: first probe, or the conductor in the clamp; empty to look or listen.
        minus: second probe.
        control: "at rest", "forward", "reverse" or "isolated".
        instrument: "voltmeter", "test lamp", …
        bits: what it is expected to tell about which fault it is.
        minutes: the time it takes (typical, no source).
        risk: weight of its danger, 1 for none (typical, no source).
        why: what it shows with the likeliest faults; those with the same answer together.
        caution: what to mind; local codes and licensed practice come first.
        words: the measurement in words.

    Example:
        >>> import stallpoint as sp
        >>> finder = sp.FaultFinder(sp.Drive.demo("boat_lift"), draws=1)
        >>> test = finder.next_test()
        >>> test.bits > 0 and len(test.probes) == 2
        True
    """

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
    """A fault with its probability, from :meth:`FaultFinder.ranking <stallpoint.FaultFinder.ranking>`.

    Attributes:
        fault: the fault, as bad as the readings say; None for a drive with nothing wrong.
        probability: its probability, with that of the ``others``.
        words: what it is; with others, that they cannot be told apart by these instruments, and all of them.
        section: where it sits; several where the others are elsewhere, empty for nothing wrong.
        told_from_next_by: the measurement, not made yet, that tells it best from the next, and what both show; None without.
        others: faults that these instruments cannot tell from it, the most probable first.
        hazard: what is dangerous about it, where it is more than a bad drive; None without.
    """

    fault: Fault | None
    probability: float
    words: str
    section: str
    told_from_next_by: str | None
    others: tuple[Fault, ...] = ()
    hazard: str | None = None

    def __str__(self) -> str:
        return f"{self.probability:7.2%}  {self.words}"


@dataclass(frozen=True)
class Meaning:
    """A reading other than the healthy one, and what it means.

    Attributes:
        shows: lowest and highest number, mild to severe (one where they are alike), or words.
        faults: the faults that show it, in words; those that the step tests first.
        hazards: what is dangerous about them.
    """

    shows: tuple[float | str, ...]
    faults: tuple[str, ...]
    hazards: tuple[str, ...]


@dataclass(frozen=True)
class ProcedureStep:
    """A step of common practice, from :meth:`FaultFinder.steps <stallpoint.FaultFinder.steps>`.

    Attributes:
        title: what it is about.
        instrument: "voltmeter", "test lamp", …
        plus: first probe.
        minus: second probe.
        control: "at rest", "forward", "reverse" or "isolated".
        tests: the faults that it tests, in words.
        healthy: what a good drive shows, in ``unit`` or a word.
        tolerance: two deviations about it, in ``unit``; None for words.
        unit: "V", "A", "ohm", or empty for words.
        limits: published limits, each with the voltage it is published for and its document.
        meanings: what other readings mean (:class:`Meaning`), the faults that it tests first.
        caution: what to mind.
    """

    title: str
    instrument: str
    plus: str
    minus: str
    control: str
    tests: tuple[str, ...]
    healthy: float | str
    tolerance: float | None
    unit: str
    limits: tuple[str, ...]
    meanings: tuple[Meaning, ...]
    caution: str


@dataclass(frozen=True)
class Wire:
    """A wire with the studs it belongs on, from :func:`~stallpoint.wiring_map`.

    Attributes:
        wire: its name.
        start: stud or terminal of its first end.
        end: stud or terminal of its second end.
    """

    wire: str
    start: str
    end: str


@dataclass(frozen=True)
class SwapRow:
    """What the drive does with wires swapped, from :func:`~stallpoint.swap_table`.

    Attributes:
        motor_wires: the two motor leads are swapped.
        signal_wires: the two signal wires are swapped.
        supply_and_ground: supply and ground are swapped at the contactor's studs: a bonded case stands at battery plus.
        battery: supply and ground are swapped at the battery's posts: diodes across coils conduct.
        forward: sign of the speed with the control forward: 1 forward, -1 backward, 0 for a motor that stands.
        reverse: the same with the control in reverse.
    """

    motor_wires: bool
    signal_wires: bool
    supply_and_ground: bool
    battery: bool
    forward: int
    reverse: int


@dataclass(frozen=True)
class SheetLine:
    """A line of a commissioning sheet.

    Attributes:
        instrument: "voltmeter", "test lamp", …
        plus: first probe, or the conductor in the clamp.
        minus: second probe.
        control: "at rest", "forward", "reverse" or "isolated".
        expected: what a good drive shows, a number in ``unit`` (0.0146 for 14.6 mV) or a word.
        tolerance: half width of the band about it, in ``unit``; None for words.
        unit: "V", "A", "ohm", or empty for words.
        reading: the user's reading, in ``unit`` or a word; None while there is none.
        verdict: "pass", "marginal", "fail" or "not checked".
    """

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
    """A text in three forms; shows itself as text, in a notebook as HTML.

    Attributes:
        text: plain text.
        markdown: Markdown.
        html: HTML.
    """

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
    """Volts along the loop of a healthy and a faulty drive, from :func:`~stallpoint.compare`.

    Attributes:
        points: names of the points, battery positive round to battery negative.
        moments: "at rest", "surge peak", "held 2 s".
        healthy: volts to battery negative of the healthy drive, a list for each moment.
        faulty: volts of the faulty drive.
    """

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

    Returns:
        The procedure as text, Markdown and HTML; :meth:`FaultFinder.steps <stallpoint.FaultFinder.steps>` has it as records.

    Raises:
        ArgumentError: a description that cannot be a drive.

    Limits: what other readings mean comes from simulated single faults; published limits are for engine starters, and say for
    which voltage.

    Example:
        >>> import stallpoint as sp
        >>> sheet = sp.procedure(sp.FaultFinder(sp.Drive.demo("boat_lift"), draws=1))
        >>> "Make safe" in sheet.text
        True
    """
    finder = drive if isinstance(drive, FaultFinder) else FaultFinder(drive, draws=2)
    return finder.procedure()
