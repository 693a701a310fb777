"""Every field of the library's parts is an argument of their classes, and no argument is one too many."""

import inspect
import json
import re

import pytest
import stallpoint as sp
from stallpoint._stallpoint import NativePart, part_kinds

# Arguments whose field has another name: a Python keyword.
RENAMED = {"fuse_class": "class"}
# Made by several functions of their own, not by one list of arguments.
BY_FUNCTIONS = {"TripBand", "Suppression", "Derating", "Magnetisation", "Motor", "Load"}
# Sources take a constant or a table, by a class of their own kind of arguments.
SOURCES = {"VoltageSource", "CurrentSource"}


def arguments(cls: type) -> set[str]:
    names = [name for name in inspect.signature(cls).parameters]
    return {RENAMED.get(name, name) for name in names}


def fields(kind: str) -> set[str]:
    """The fields that the library expects when it is given one that is none."""
    with pytest.raises(sp.PartError) as info:
        NativePart(kind, {"no such field": 1})
    problem: str = info.value.problem  # type: ignore[attr-defined]
    assert "unknown field" in problem, problem
    return set(re.findall(r"`(\w+)`", problem.split("expected", 1)[1]))


@pytest.mark.parametrize("kind", sorted(set(part_kinds()) - SOURCES))
def test_exact_a_part_has_every_field_of_the_library(kind: str) -> None:
    assert arguments(getattr(sp.parts, kind)) == fields(kind)


def test_exact_a_table_of_a_drive_has_every_field_of_the_library() -> None:
    tables = json.loads(sp.Drive.json_schema())["$defs"]
    checked = []
    for name, table in tables.items():
        cls = getattr(sp.parts, name, None)
        if cls is None or name in BY_FUNCTIONS or "properties" not in table:
            continue
        assert arguments(cls) == set(table["properties"]) - {"kind"}, name
        checked.append(name)
    for name in ("Armature", "ArmatureFaults", "Contact", "DeadSpot", "Field", "HoldingHeater", "MagneticTrip", "MotorCase",
                 "ResistanceVariation", "Rotor", "SeriesWinding"):
        assert name in checked


@pytest.mark.parametrize("kind", part_kinds())
def test_exact_a_part_says_its_equation_its_arguments_and_an_example(kind: str) -> None:
    text = inspect.getdoc(getattr(sp.parts, kind)) or ""
    assert "``" in text and "=" in text.split("Args:")[0] or kind == "ClampAmmeter", text  # it only shows what flows
    assert "Example:" in text and ">>> " in text, text
    for name in inspect.signature(getattr(sp.parts, kind)).parameters:
        assert name in text, name
