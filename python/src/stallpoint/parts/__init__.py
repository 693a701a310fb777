"""Parts. A physical argument is a number in the SI unit that its description names, or a text with a unit; temperatures
as numbers are °C and such arguments end in ``_c``. An argument left out has the library's default."""

from __future__ import annotations

from typing import Any

from ._base import Description, LibraryPart, Part, Quantity, plain
from .armature import (
    Armature,
    ArmatureFaults,
    DeadSpot,
    Field,
    Magnetisation,
    MotorCase,
    ResistanceVariation,
    Rotor,
    SeriesWinding,
)
from .instruments import ClampAmmeter, Ohmmeter, TestLamp, Voltmeter
from .loads import (
    Conveyor,
    EndStop,
    GravityTorque,
    Hoist,
    HydraulicPump,
    Load,
    QuadraticTorque,
    ResistingTorque,
    ViscousTorque,
    WormGear,
)
from .motors import CompoundMotor, Motor, PermanentMagnetMotor, SeriesMotor, ShuntMotor
from .own import OwnPart, Unknown
from .passive import Capacitor, Diode, Inductor, Resistor
from .protection import Breaker, Derating, Fuse, HoldingHeater, MagneticTrip, TripBand
from .sources import CurrentSource, VoltageSource
from .supply import Battery, Cable, Joint
from .switching import Coil, Contact, ReversingContactor, Suppression, Switch

__all__ = [
    "Armature",
    "ArmatureFaults",
    "Battery",
    "Breaker",
    "Cable",
    "Capacitor",
    "ClampAmmeter",
    "Coil",
    "CompoundMotor",
    "Contact",
    "Conveyor",
    "CurrentSource",
    "DeadSpot",
    "Derating",
    "Description",
    "Diode",
    "EndStop",
    "Field",
    "Fuse",
    "GravityTorque",
    "Hoist",
    "HoldingHeater",
    "HydraulicPump",
    "Inductor",
    "Joint",
    "LibraryPart",
    "Load",
    "MagneticTrip",
    "Magnetisation",
    "Motor",
    "MotorCase",
    "Ohmmeter",
    "OwnPart",
    "Part",
    "PermanentMagnetMotor",
    "QuadraticTorque",
    "Quantity",
    "ResistanceVariation",
    "ResistingTorque",
    "Resistor",
    "ReversingContactor",
    "Rotor",
    "SeriesMotor",
    "SeriesWinding",
    "ShuntMotor",
    "Suppression",
    "Switch",
    "TestLamp",
    "TripBand",
    "Unknown",
    "ViscousTorque",
    "VoltageSource",
    "Voltmeter",
    "WormGear",
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
