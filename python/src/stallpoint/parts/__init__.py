"""Parts. A physical argument is a number in the SI unit that its description names, or a text with a unit; temperatures
as numbers are °C and such arguments end in ``_c``. An argument left out has the library's default."""

from __future__ import annotations

from typing import Any

from ._base import Description, LibraryPart, Part, Quantity, plain
from .instruments import TestLamp, Voltmeter
from .machines import (
    GravityTorque,
    Load,
    Motor,
    PermanentMagnetMotor,
    QuadraticTorque,
    ResistingTorque,
    ViscousTorque,
)
from .own import OwnPart, Unknown
from .passive import Capacitor, Diode, Inductor, Resistor
from .sources import CurrentSource, VoltageSource
from .supply import Battery, Cable, Joint
from .switching import Breaker, Coil, Contact, ReversingContactor, Suppression, Switch, TripBand

__all__ = [
    "Battery",
    "Breaker",
    "Cable",
    "Capacitor",
    "Coil",
    "Contact",
    "CurrentSource",
    "Description",
    "Diode",
    "GravityTorque",
    "Inductor",
    "Joint",
    "LibraryPart",
    "Load",
    "Motor",
    "OwnPart",
    "Part",
    "PermanentMagnetMotor",
    "QuadraticTorque",
    "Quantity",
    "ResistingTorque",
    "Resistor",
    "ReversingContactor",
    "Suppression",
    "Switch",
    "TestLamp",
    "TripBand",
    "Unknown",
    "ViscousTorque",
    "VoltageSource",
    "Voltmeter",
    "describe_drive",
]


def describe_drive(parts: dict[str, Any]) -> dict[str, Any]:
    """A drive's description from its parts, as its file holds it: one load is a list of one, a joint may be its resistance."""
    table = {name: plain(part) for name, part in parts.items() if part is not None}
    load = table.get("load")
    if load is not None and not isinstance(load, list):
        table["load"] = [load]
    if "joints" in table:
        joints = table["joints"].items()
        table["joints"] = {name: joint if isinstance(joint, dict) else {"resistance": joint} for name, joint in joints}
    return {"schema": 1, "name": "Drive", **table}
