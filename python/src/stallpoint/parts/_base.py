"""What all parts share: a kind and parameters, checked by the native side."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, TypeAlias

from .._stallpoint import NativePart

Quantity: TypeAlias = float | str
"""A number in the SI unit that the argument's description names, or a text with a unit: "25 mohm"."""


class Part:
    """Base of every part."""

    _native: Any


class Description:
    """A named set of parameters, as a drive's file holds it."""

    __slots__ = ("_parameters",)
    _parameters: dict[str, Any]

    def __init__(self, parameters: dict[str, Any]) -> None:
        self._parameters = {name: value for name, value in parameters.items() if value is not None}

    @property
    def parameters(self) -> dict[str, Any]:
        """The parameters that were given."""
        return dict(self._parameters)

    def describe(self) -> dict[str, Any]:
        """The parameters as plain texts, numbers, lists and dicts."""
        return {name: plain(value) for name, value in self._parameters.items()}

    @property
    def _description(self) -> dict[str, Any]:
        """What the native side reads off it."""
        return self.describe()

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        return self.describe() == other.describe()

    def __hash__(self) -> int:
        return hash((type(self), repr(self)))

    def __repr__(self) -> str:
        given = ", ".join(f"{name}={value!r}" for name, value in self._parameters.items())
        return f"{type(self).__name__}({given})"

    def __reduce__(self) -> tuple[Any, ...]:
        return again, (type(self), self._parameters)


class LibraryPart(Description, Part):
    """A part of the library. Its parameters are checked when it is made."""

    __slots__ = ("_native",)
    _tag: ClassVar[str | None] = None
    """What tells it from others of its family in a drive's file."""

    def __init__(self, parameters: dict[str, Any]) -> None:
        super().__init__(parameters)
        given = {name: plain(value) for name, value in self._parameters.items()}
        self._native = NativePart(type(self).__name__, given)

    @property
    def kind(self) -> str:
        """The name that the library makes it by."""
        return type(self).__name__

    @property
    def terminals(self) -> list[str]:
        """Names of its terminals. A current is positive into the first."""
        return list(self._native.terminals)

    def describe(self) -> dict[str, Any]:
        """The parameters as plain texts, numbers, lists and dicts, with the tag of its family."""
        tag = {} if self._tag is None else {"kind": self._tag}
        return {**tag, **super().describe()}


def again(cls: type[Description], parameters: dict[str, Any]) -> Description:
    """Makes a description or part again from its parameters."""
    made = cls.__new__(cls)
    base = LibraryPart if isinstance(made, LibraryPart) else Description
    base.__init__(made, parameters)
    return made


def plain(value: Any) -> Any:
    """A parameter without parts and descriptions in it."""
    if isinstance(value, Description):
        return value.describe()
    if isinstance(value, Mapping):
        return {name: plain(entry) for name, entry in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(entry) for entry in value]
    return value
