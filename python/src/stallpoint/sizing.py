"""Sizing: which sizes fit, and why the others do not."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ._stallpoint import Drive, size_outcome
from .errors import ArgumentError
from .records import CheckList

Requirement = Callable[[Drive, dict[str, Any]], "dict[str, Any] | Sequence[dict[str, Any]]"]


@dataclass(frozen=True)
class Candidate:
    """One combination: what was ``chosen`` (choice to name), its ``state`` ("fits", "unproven", "rejected"), ``price`` (None when one
    is missing), ``mass`` of conductors and rows (kg), least ``margin``, the worst check of each requirement in ``checks``, and
    the ``reasons`` for which it was rejected: which requirement broke, by how much, in which corner."""

    chosen: dict[str, str]
    state: str
    price: float | None
    mass: float
    margin: float | None
    checks: CheckList
    reasons: list[str]

    def __str__(self) -> str:
        names = ", ".join(f"{choice} {name}" for choice, name in self.chosen.items())
        return f"{self.state}: {names}" + "".join(f"; {reason}" for reason in self.reasons[:1])

    @property
    def not_checked(self) -> list[str]:
        """Keys of the requirements for which a datum is missing."""
        return [check.key for check in self.checks if check.verdict == "not checked"]

    def _repr_html_(self) -> str:
        return self.checks._repr_html_()


class Options:
    """What a search found.

    ``best`` is the best candidate by ``rule`` of those that fit, and where none does of those that are unproven (nothing speaks
    against them, but a datum is missing: see its ``not_checked``); None when all are rejected. ``notes`` says what is to be known
    before the candidates are read: requirements that all of them break alike, data that they lack.
    """

    def __init__(
        self,
        candidates: list[Candidate],
        pareto: list[int],
        best: int | None,
        rule: str,
        summary: str,
        notes: list[str],
        cases: int,
        circuits: int,
        transients: int,
    ) -> None:
        self.candidates = candidates
        self.pareto = [candidates[k] for k in pareto]
        self.best = None if best is None else candidates[best]
        self.rule = rule
        self.summary = summary
        self.notes = notes
        self.cases = cases
        self.circuits = circuits
        self.transients = transients

    @property
    def fitting(self) -> list[Candidate]:
        """Those that meet every requirement."""
        return [c for c in self.candidates if c.state == "fits"]

    @property
    def unproven(self) -> list[Candidate]:
        """Those that break nothing but for which a datum is missing."""
        return [c for c in self.candidates if c.state == "unproven"]

    @property
    def rejected(self) -> list[Candidate]:
        """Those that break a requirement, or cannot be made."""
        return [c for c in self.candidates if c.state == "rejected"]

    def to_pandas(self) -> Any:
        """A pandas DataFrame, one row a candidate: choices, state, price, mass, margin, on the Pareto front or not, the margin of each
        requirement by its key, and the reasons."""
        import pandas as pd

        front = {id(c) for c in self.pareto}
        rows = []
        for c in self.candidates:
            row: dict[str, Any] = dict(c.chosen)
            row |= {"state": c.state, "price": c.price, "mass": c.mass, "margin": c.margin, "pareto": id(c) in front}
            row |= {f"margin of {check.key}": check.margin for check in c.checks}
            row["reasons"] = "; ".join(c.reasons)
            rows.append(row)
        return pd.DataFrame(rows)

    def __repr__(self) -> str:
        return f"<Options: {self.summary}>"

    def _repr_html_(self) -> str:
        return self.to_pandas()._repr_html_()


def requirement(
    key: str,
    requirement: str,
    value: float | None,
    limit: float | None,
    unit: str,
    *,
    side: str = "at most",
    basis: str = "by the user",
    when: str = "",
) -> dict[str, Any]:
    """A check for a requirement of your own: ``value`` must be "at most" or "at least" (``side``) the ``limit``.

    Without value or limit it is "not checked", which never counts as met.
    """
    return {
        "key": key,
        "requirement": requirement,
        "value": value,
        "limit": limit,
        "unit": unit,
        "side": side,
        "basis": basis,
        "when": when,
    }


# Keys of a catalogue's row.
_ROW = {"name", "values", "price", "mass"}


def _choices(candidates: Mapping[Any, Sequence[Any]]) -> list[tuple[str, list[Any]]]:
    choices = []
    for keys, values in candidates.items():
        keys_of = (keys,) if isinstance(keys, str) else tuple(keys)
        rows: list[Any] = []
        if isinstance(values, (str, int, float)) or not isinstance(values, Iterable):
            key, allowed = ", ".join(keys_of), f"a list of values: [{values!r}, ...]"
            message = f"`candidates`: {key!r} is {values!r}, but must be {allowed}"
            raise ArgumentError(message, argument="candidates", value=values, allowed=allowed)
        for value in values:
            if isinstance(value, Mapping):
                if not {"name", "values"} <= value.keys() <= _ROW or not isinstance(value["values"], Mapping):
                    allowed = 'a row {"name": ..., "values": {key: value, ...}}, with "price" and "mass" where known'
                    message = f"`candidates`: {', '.join(keys_of)!r} holds {value!r}, but must hold {allowed}"
                    raise ArgumentError(message, argument="candidates", value=value, allowed=allowed)
                own = list(value["values"].items())
                rows.append((str(value["name"]), own, value.get("price"), value.get("mass")))
            else:
                rows.append((str(value), [(key, value) for key in keys_of], None, None))
        choices.append((", ".join(keys_of), rows))
    return choices


def size(
    drive: Drive,
    candidates: Mapping[str | tuple[str, ...], Sequence[Any]],
    *,
    corners: Mapping[str, Mapping[str, Any]] | None = None,
    without: Sequence[str] = (),
    requirements: Sequence[Requirement] = (),
    rule: str = "least_cost",
    hold: float | str | None = None,
    bounds: bool = False,
    rtol: float = 1e-4,
    threads: int | None = None,
    progress: Any = None,
) -> Options:
    """Tries every combination of the candidates in every corner against every requirement.

    Args:
        drive: the drive.
        candidates: a key of the drive's file (or a tuple of keys that change together) to a list of its values; or any name to a
            catalogue: dicts with ``name``, ``values`` (key to value), and if known ``price`` and ``mass`` (kg).
        corners: name to values (key to value) at which every candidate is judged; the drive as described when left out. See
            :func:`corners` and :func:`worst_corners`.
        without: keys of requirements that do not count.
        requirements: functions of your own; each gets the drive and a dict of figures by direction and returns what
            :func:`requirement` makes, or a list of such.
        rule: what is best: "least_cost" (least conductor mass where a price is missing), "least_copper" or "largest_margin".
        hold: how long each start is held, s; 3 s when left out.
        bounds: whether a candidate that already fails without a transient is spared its transients; the answer is the same but for
            what else it would break.
        rtol: relative tolerance of each run.
        threads: how many work at once; all when left out. The answer does not depend on it.
        progress: True for a bar, or a function of the fraction done; one that returns False cancels.

    Returns:
        :class:`Options`.

    Raises:
        ValueKeyError: a key that the drive does not have, or a value that does not read.
        CancelledError: by ``progress``.

    Limits: the breaker is held closed in the runs; whether and when it would open follows from the currents afterwards.

    Example:
        >>> import stallpoint as sp
        >>> drive = sp.Drive.demo("boat_lift").with_values({"limits.longest_hold": "15 s"})
        >>> options = sp.size(drive, {"breaker.rated_current": [50, 80]})
        >>> options.best.chosen
        {'breaker.rated_current': '80'}
    """
    named = [(name, list(values.items())) for name, values in (corners or {}).items()]
    return size_outcome(
        drive,
        _choices(candidates),
        named,
        list(without),
        list(requirements),
        rule,
        hold=hold,
        bounds=bounds,
        rtol=rtol,
        threads=threads,
        progress=progress,
    )
