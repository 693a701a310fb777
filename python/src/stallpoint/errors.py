"""Exceptions of stallpoint: one class an error, with its fields as attributes.

Every exception has the fields of its error as attributes (``part``, ``argument``, ``time``, ``line`` …); those that do not
apply are missing. All can be pickled.
"""

from __future__ import annotations

from typing import Any


class StallpointError(Exception):
    """Base of all exceptions of stallpoint."""

    def __init__(self, message: str, **fields: Any) -> None:
        super().__init__(message)
        self._fields = fields
        self.__dict__.update(fields)

    def __reduce__(self) -> tuple[Any, ...]:
        return (_rebuild, (type(self), self.args[0], self._fields))


def _rebuild(cls: type[StallpointError], message: str, fields: dict[str, Any]) -> StallpointError:
    return cls(message, **fields)


class ArgumentError(StallpointError, ValueError):
    """An argument that cannot be used: ``argument``, ``value``, ``allowed``."""


class PartError(StallpointError, ValueError):
    """A part's parameter that cannot be used: ``kind``, ``argument``, ``problem``; ``part`` once it has a name."""


class UnknownKindError(StallpointError, ValueError):
    """No such kind of part: ``kind``, ``known``."""


class TopologyError(StallpointError):
    """A circuit that cannot be solved whatever its numbers: ``kind``, and the ``part`` or ``node`` to blame."""


class UnknownNameError(TopologyError, LookupError):
    """No such part, node, terminal or state: ``name``, ``known``."""


class SolveError(StallpointError, ArithmeticError):
    """Equations that could not be solved on: ``kind``, ``time``, ``culprit``; ``partial`` is the run up to then (in a pickle a
    :class:`~stallpoint.detached.DetachedTrace`), or None."""



class NoEquilibriumError(StallpointError, ArithmeticError):
    """No operating point, because ``parts`` keep switching."""


class DriveFileError(StallpointError, ValueError):
    """A drive file that does not read: ``line``, ``column``, ``problem``."""


class DescriptionError(StallpointError, ValueError):
    """A description that does not read: ``what``, ``problem``."""


class ValueKeyError(StallpointError, KeyError):
    """A value to change or to sweep: ``key``, ``problem``."""

    def __str__(self) -> str:
        return str(self.args[0])


class FileError(StallpointError, OSError):
    """A file that cannot be read: ``path``, ``problem``, ``advice``."""

    def __str__(self) -> str:
        return str(self.args[0])


class UnannouncedEntryError(StallpointError):
    """A part that wrote a derivative which its first evaluation did not: ``part``."""


class InstrumentError(StallpointError, ValueError):
    """A measurement that a careful technician refuses: ``kind`` ("live": an ohmmeter on a voltage; "above_rating": a lamp on more
    than it may be put on), ``plus``, ``minus``, the ``voltage`` there; for a lamp its ``rated`` and ``highest`` voltage, V."""


class ImplausibleReadingError(StallpointError, ValueError):
    """A reading that no drive of this kind can show: ``measurement``, the ``reading`` and the ``largest`` that can be, both in ``unit``,
    and a ``hint`` of what was meant (empty without)."""


class NotConformingError(StallpointError):
    """A part that does not keep the contract of a part: ``kind``, and ``findings``, one text each."""


class CancelledError(StallpointError):
    """A study that its progress function stopped."""


class InternalError(StallpointError):
    """A defect in stallpoint itself: please report it."""
