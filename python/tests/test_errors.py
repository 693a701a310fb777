"""Errors: class, fields, text."""

import pathlib
import pickle

import pytest
import stallpoint as sp


def test_exact_parts() -> None:
    with pytest.raises(sp.PartError) as raised:
        sp.Resistor("25 mV")
    expected = 'Resistor: resistance: "25 mV" is a voltage; a resistance is expected, for example "25 mohm"'
    assert str(raised.value) == expected
    assert (raised.value.kind, raised.value.argument) == ("Resistor", "resistance")
    with pytest.raises(sp.PartError, match="Cable: `length` is -7 m, but must be above 0 m"):
        sp.Cable("16 mm2", "-7 m")
    with pytest.raises(sp.PartError, match="`state_of_charge` is 1.5, but must be"):
        sp.Battery.agm("100 Ah", "6 mohm", state_of_charge=1.5)
    with pytest.raises(sp.ArgumentError, match="`resistance` is NaN, but must be a finite number"):
        sp.Resistor(float("nan"))
    with pytest.raises(sp.PartError, match="unknown field `colour`"):
        sp.Switch(contact={"colour": "red"})
    with pytest.raises(ValueError, match="voltage"):  # an ordinary ValueError too
        sp.Resistor("25 mV")


def test_exact_topology() -> None:
    c = sp.Circuit()
    c.add("source", sp.VoltageSource(12), plus="p", minus="ground")
    with pytest.raises(sp.TopologyError, match='already a part named "source"'):
        c.add("source", sp.Resistor(1), a="p", b="ground")
    with pytest.raises(sp.UnknownNameError, match='has no terminal "c"; it has "a", "b"'):
        c.add("r", sp.Resistor(1), a="p", c="ground")
    c.add("other", sp.VoltageSource(11), plus="p", minus="ground")
    with pytest.raises(sp.TopologyError, match='ideal voltage sources form a loop: "source", "other"') as raised:
        c.operating_point()
    assert raised.value.kind == "source_loop"
    d = sp.Circuit()
    d.add("source", sp.VoltageSource(12), plus="p", minus="ground")
    d.add("cap", sp.Capacitor(1e-6), a="p", b="x")
    with pytest.raises(sp.TopologyError, match='node "x" floats'):
        d.transient(1.0)
    with pytest.raises(sp.ArgumentError, match="`part` is .* but must be a part"):
        d.add("r", "not a part", a="p", b="ground")


def test_exact_questions() -> None:
    c = sp.Circuit()
    c.add("r", sp.Resistor(1), a="p", b="ground")
    op = c.operating_point()
    with pytest.raises(sp.UnknownNameError, match='there is no node "stud"; known are "ground", "p"') as raised:
        op.voltage("stud")
    assert raised.value.name == "stud"
    with pytest.raises(sp.UnknownNameError, match='part "r" has no state "speed"'):
        op.state("r", "speed")
    with pytest.raises(sp.ArgumentError, match='the time span from 0 s to 0 s is empty'):
        c.transient(0)
    with pytest.raises(sp.ArgumentError, match='`start` is "walking", but must be "standstill" or "running"'):
        c.operating_point(start="walking")


def test_exact_drives(tmp_path: pathlib.Path) -> None:
    drive = sp.Drive.demo("boat_lift")
    with pytest.raises(sp.ValueKeyError, match='`supply_cabel.length`: the drive has no table "supply_cabel"') as raised:
        drive.with_values({"supply_cabel.length": 1})
    assert raised.value.key == "supply_cabel.length"
    with pytest.raises(sp.ValueKeyError):
        sp.sweep(drive, {"supply_cabel.length": [1, 2]}, ["peak_current"])
    with pytest.raises(sp.ArgumentError, match="peak_currant"):
        sp.sweep(drive, {"supply_cable.length": [1, 2]}, ["peak_currant"])
    path = tmp_path / "drive.toml"
    path.write_text("schema = 1\nname = \"x\"\ncolour = 3\n")
    with pytest.raises(sp.DriveFileError, match="line 3, column 1: unknown field `colour`") as read:
        sp.Drive.from_toml(path)
    assert (read.value.line, read.value.column) == (3, 1)
    with pytest.raises(sp.FileError, match="check the path"):
        sp.Drive.from_toml(tmp_path / "none.toml")
    with pytest.raises(sp.ArgumentError, match='`direction` is "up", but must be "forward" or "reverse"'):
        drive.start("up", hold=1)
    with pytest.raises(sp.ArgumentError, match="`to` is 0.5 s, but must be later than its start at 1 s"):
        sp.Control().forward("1 s", "0.5 s")
    chatters = drive.with_values({"control.coil_return": "ground_stud", "ground_stud_joint.resistance": 0.13})
    with pytest.raises(sp.NoEquilibriumError, match="contactor"):
        chatters.operating_point("forward")


def test_exact_errors_pickle() -> None:
    with pytest.raises(sp.PartError) as raised:
        sp.Resistor("25 mV")
    again = pickle.loads(pickle.dumps(raised.value))
    assert (type(again), str(again), again.argument) == (sp.PartError, str(raised.value), "resistance")


def test_exact_a_failed_run_keeps_what_it_had() -> None:
    c = sp.Circuit()
    c.add("source", sp.VoltageSource.function(lambda t: 12.0 if t < 0.5 else float("nan")), plus="p", minus="ground")
    c.add("r", sp.Resistor(1), a="p", b="ground")
    with pytest.raises(sp.SolveError) as raised:
        c.transient(1.0)
    assert raised.value.partial.time[-1] <= 0.5 and raised.value.kind == "not_finite"
    again = pickle.loads(pickle.dumps(raised.value))
    assert again.time == raised.value.time
    assert list(again.partial.time) == list(raised.value.partial.time)


def test_exact_an_exception_in_a_source_comes_through() -> None:
    def source(t: float) -> float:
        raise ZeroDivisionError("in my source")

    c = sp.Circuit()
    c.add("source", sp.VoltageSource.function(source), plus="p", minus="ground")
    c.add("r", sp.Resistor(1), a="p", b="ground")
    with pytest.raises(ZeroDivisionError, match="in my source"):
        c.transient(1.0)


def test_exact_a_panic_is_an_exception() -> None:
    from stallpoint import _stallpoint

    with pytest.raises(sp.InternalError, match="please report it: boo"):
        _stallpoint._panic("boo")
