"""Pickles, to the bit."""

import copy
import math
import pickle

import numpy as np
import pytest
import stallpoint as sp


def sine(t: float) -> float:
    return math.sin(t)


def test_exact_a_circuit_pickles_to_the_bit(motor_circuit: sp.Circuit) -> None:
    motor_circuit.replace("joint", sp.Resistor(0.1 + 0.2))
    again = pickle.loads(pickle.dumps(motor_circuit))
    assert again.parts == motor_circuit.parts
    assert again.nodes == motor_circuit.nodes
    one, two = motor_circuit.transient(until=0.2), again.transient(until=0.2)
    np.testing.assert_array_equal(one.time, two.time)
    np.testing.assert_array_equal(one.current("motor"), two.current("motor"))


def test_exact_a_motor_with_its_load_pickles() -> None:
    motor = sp.Motor.permanent_magnet(
        resistance=0.1 + 0.2, inductance="1 mH", torque_constant="0.05 N m/A", inertia="0.01 kg m2"
    )
    c = sp.Circuit()
    c.add("source", sp.VoltageSource.table([0, 1], [0, 12]), plus="p", minus="ground")
    c.add("motor", motor, plus="p", minus="ground")
    c.attach("motor", sp.Load.viscous_torque("1e-3 N m s/rad"))
    again = pickle.loads(pickle.dumps(c))
    np.testing.assert_array_equal(again.transient(2.0).current("motor"), c.transient(2.0).current("motor"))


def test_exact_a_copy_is_independent(motor_circuit: sp.Circuit) -> None:
    other = copy.copy(motor_circuit)
    other.add("lamp", sp.TestLamp("12 V", "21 W"), a="p", b="ground")
    assert "lamp" not in motor_circuit.parts


@pytest.mark.parametrize(
    "part",
    [
        sp.Resistor(0.1),
        sp.VoltageSource.table(np.linspace(0, 1, 3), [0.1, 0.2, 0.3]),
        sp.VoltageSource.function(sine),
        sp.Battery.agm("100 Ah", "5 mohm", state_of_charge=0.7),
        sp.Breaker("80 A", sp.TripBand.inverse_time("iec_very_inverse", tolerance="10 %"), reset="automatic"),
        sp.ReversingContactor(sp.Coil("12 V", "8 ohm", suppression=sp.Suppression.diode()), "7.8 V", "4.5 V", bounce=[]),
        sp.Switch.worked((0.1, 0.3)),
    ],
    ids=lambda part: type(part).__name__,
)
def test_exact_parts_pickle_through_kind_and_parameters(part: sp.Part) -> None:
    again = pickle.loads(pickle.dumps(part))
    assert again == part
    assert repr(again) == repr(part)
    assert again.terminals == part.terminals  # type: ignore[attr-defined]


def test_exact_runs_and_samples_pickle_as_their_numbers(motor_circuit: sp.Circuit) -> None:
    run = motor_circuit.transient(until=0.2)
    for trace in (run, run.sample([0.05, 0.1])):
        again = pickle.loads(pickle.dumps(trace))
        assert (again.nodes, again.parts) == (trace.nodes, trace.parts)
        np.testing.assert_array_equal(again.time, trace.time)
        np.testing.assert_array_equal(again.voltage("p", "stud"), trace.voltage("p", "stud"))
        for part in trace.parts:
            assert again.states(part) == trace.states(part)
            for name in trace.states(part):
                np.testing.assert_array_equal(again.state(part, name), trace.state(part, name))
            for terminal in trace.terminals(part):
                np.testing.assert_array_equal(again.current(part, terminal), trace.current(part, terminal))
    again = pickle.loads(pickle.dumps(run))
    assert (again.events, again.energy, again.ending, again.counters) == (
        run.events,
        run.energy,
        run.ending,
        run.counters,
    )
    with pytest.raises(sp.UnknownNameError, match="stub"):
        again.voltage("stub")
    with pytest.raises(sp.StallpointError, match="before pickling"):
        again.sample([0.1])
    twice = pickle.loads(pickle.dumps(again))
    np.testing.assert_array_equal(twice.current("motor"), run.current("motor"))


def test_exact_operating_points_pickle_as_their_numbers(motor_circuit: sp.Circuit) -> None:
    op = motor_circuit.operating_point()
    again = pickle.loads(pickle.dumps(op))
    assert again.voltage("stud") == op.voltage("stud")
    assert again.current("motor", "minus") == op.current("motor", "minus")
    assert again.state("motor", "speed") == op.state("motor", "speed")
    assert again.stuck == op.stuck
    with pytest.raises(sp.UnknownNameError, match="stub"):
        again.voltage("stub")


def test_exact_drives_pickle_to_the_bit() -> None:
    rng = np.random.default_rng(1)
    drive = sp.Drive.demo("boat_lift")
    for _ in range(50):
        value = float(rng.uniform(0.5, 30))
        changed = drive.with_values({"supply_cable.length": value, "motor.resistance": value / 300})
        again = pickle.loads(pickle.dumps(changed))
        assert again == changed
        assert hash(again) == hash(changed)
        assert again.description == changed.description
        assert sp.Drive.from_toml_text(changed.to_toml()) == changed
        assert float(again.description["supply_cable"]["length"].split()[0]) == value


def test_exact_a_drives_circuit_pickles() -> None:
    control = sp.Control().forward("0 s", "0.2 s")
    circuit = sp.Drive.demo("boat_lift").circuit(control)
    circuit.add("lamp", sp.TestLamp("12 V", "21 W"), a="supply_stud", b="ground_stud")
    again = pickle.loads(pickle.dumps(circuit))
    one, two = circuit.transient(until=0.05), again.transient(until=0.05)
    np.testing.assert_array_equal(one.current("lamp"), two.current("lamp"))


def test_exact_controls_faults_and_starts_pickle() -> None:
    control = sp.Control().forward(0.1, 1.2).reverse(1.25, 2.5).forward(3, 4)
    again = pickle.loads(pickle.dumps(control))
    assert again == control
    assert again.spans("forward") == [(0.1, 1.2), (3.0, 4.0)]
    fault = sp.Fault("ground_stud_joint", resistance="60 mohm")
    assert pickle.loads(pickle.dumps(fault)) == fault
    start = sp.Drive.demo("boat_lift").start("forward", hold="0.1 s")
    again = pickle.loads(pickle.dumps(start))
    assert again.surge == start.surge
    assert repr(again).startswith("<DetachedRun of ") and "pulls in" in again._repr_html_()
