"""Fields of the exceptions, and their pickles."""

import pickle
from collections.abc import Callable

import pytest
import stallpoint as sp


def raised(work: Callable[[], object]) -> sp.StallpointError:
    with pytest.raises(sp.StallpointError) as info:
        work()
    return info.value


def test_exact_a_value_outside_its_range_says_what_is_allowed() -> None:
    error = raised(lambda: sp.Resistor(-1))
    assert isinstance(error, sp.PartError)
    assert str(error) == "Resistor: `resistance` is -1 ohm, but must be above 0 ohm"
    assert (error.value, error.allowed) == ("-1 ohm", "above 0 ohm")


def test_exact_nested_parts_are_checked_when_they_are_made() -> None:
    error = raised(lambda: sp.Coil("12 V", "24 V"))
    assert str(error).startswith('Coil: resistance: "24 V" is a voltage')
    error = raised(lambda: sp.Breaker("80 A", sp.TripBand.points(fastest=[[2, 3]], slowest=[[2, 1]])))
    assert isinstance(error, sp.PartError) and error.kind == "Breaker"


def test_exact_the_topology_is_blamed_by_name(motor_circuit: sp.Circuit) -> None:
    taken = raised(lambda: motor_circuit.add("joint", sp.Resistor(1), a="p", b="q"))
    assert type(taken) is sp.TopologyError
    assert (taken.kind, taken.part) == ("duplicate_part", "joint")
    loose = raised(lambda: motor_circuit.add("x", sp.Resistor(1), a="p"))
    assert (loose.kind, loose.terminal) == ("unconnected", "b")  # type: ignore[attr-defined]
    unknown = raised(lambda: motor_circuit.add("x", sp.Resistor(1), a="p", c="q"))
    assert type(unknown) is sp.UnknownNameError
    assert isinstance(unknown, LookupError)
    assert (unknown.kind, unknown.part, unknown.name) == ("unknown_terminal", "x", "c")
    motor_circuit.add("dangling", sp.Capacitor("1 uF"), a="p", b="nowhere")
    floating = raised(motor_circuit.operating_point)
    assert (floating.kind, floating.node) == ("floating", '"nowhere"')  # type: ignore[attr-defined]


def test_exact_unknown_names_list_the_known_ones(motor_circuit: sp.Circuit) -> None:
    op = motor_circuit.operating_point()
    for work, kind in (
        (lambda: op.voltage("stub"), "unknown_node"),
        (lambda: op.current("motr"), "unknown_part"),
        (lambda: op.state("motor", "sped"), "unknown_state"),
        (lambda: op.current("motor", "a"), "unknown_terminal"),
    ):
        error = raised(work)
        assert isinstance(error, sp.UnknownNameError)
        assert error.kind == kind
        assert error.known and '"' in error.known


def test_exact_arguments_are_named(motor_circuit: sp.Circuit) -> None:
    for work, argument in (
        (lambda: motor_circuit.transient(until=-1), "until"),
        (lambda: motor_circuit.transient(until="3 mV"), "until"),
        (lambda: motor_circuit.transient(until=1, rtol=5), "rtol"),
        (lambda: motor_circuit.transient(until=1, start="here"), "start"),  # type: ignore[arg-type]
        (lambda: motor_circuit.transient(until=1, progress=3), "progress"),  # type: ignore[arg-type]
        (lambda: motor_circuit.operating_point(start="flying"), "start"),  # type: ignore[arg-type]
        (lambda: motor_circuit.add("x", 3, a="p"), "part"),  # type: ignore[arg-type]
        (lambda: motor_circuit.transient(until=0.01).extremes(), "signal"),
        (lambda: sp.Resistor(float("nan")), "resistance"),
    ):
        error = raised(work)
        assert isinstance(error, sp.ArgumentError), error
        assert error.argument == argument


def test_exact_drive_files_are_blamed_by_line_and_column() -> None:
    text = sp.Drive.demo("boat_lift").to_toml()
    error = raised(lambda: sp.Drive.from_toml_text(text.replace("rated_current", "rated_curent", 1)))
    assert type(error) is sp.DriveFileError
    assert text.splitlines()[error.line - 1].startswith("rated_current")
    assert error.column == 1
    assert "rated_curent" in error.problem
    missing = raised(lambda: sp.Drive.from_toml("no/such/file.toml"))
    assert type(missing) is sp.FileError
    assert isinstance(missing, OSError)
    assert missing.path == "no/such/file.toml"
    assert str(missing).startswith('file "no/such/file.toml": ')


def test_exact_values_are_blamed_by_key() -> None:
    error = raised(lambda: sp.Drive.demo("boat_lift").with_values({"supply_cable.lenth": "14 m"}))
    assert type(error) is sp.ValueKeyError
    assert error.key == "supply_cable.lenth"
    assert type(raised(lambda: sp.Drive(battery=1))) is sp.DescriptionError


def test_prop_every_exception_pickles_with_its_fields(motor_circuit: sp.Circuit) -> None:
    works: list[Callable[[], object]] = [
        lambda: sp.Resistor("25 mV"),
        lambda: motor_circuit.operating_point().voltage("stub"),
        lambda: motor_circuit.transient(until=-1),
        lambda: sp.Drive.from_toml("no/such/file.toml"),
        lambda: sp.Drive.from_toml_text("schema = 'one'"),
        lambda: sp.Drive.demo("boat_lift").with_values({"a.b": 1}),
        lambda: sp.Drive(battery=1),
    ]
    for error in map(raised, works):
        again = pickle.loads(pickle.dumps(error))
        assert type(again) is type(error)
        assert str(again) == str(error)
        assert again.__dict__ == error.__dict__
        assert error.__dict__


def test_exact_every_class_is_at_the_top() -> None:
    classes = [value for value in vars(sp.errors).values() if isinstance(value, type)]
    own = [value for value in classes if issubclass(value, sp.StallpointError)]
    assert len(own) > 10
    assert all(getattr(sp, value.__name__) is value for value in own)
