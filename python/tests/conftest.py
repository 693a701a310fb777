"""Circuits that several tests use."""

import pytest
import stallpoint as sp


@pytest.fixture
def motor_circuit() -> sp.Circuit:
    """A permanent-magnet motor on a stiff source through a joint, against a resisting torque."""
    c = sp.Circuit()
    c.add("source", sp.VoltageSource("12.6 V"), plus="p", minus="ground")
    c.add("joint", sp.Resistor("30 mohm"), a="p", b="stud")
    motor = sp.Motor.permanent_magnet(
        resistance="25 mohm",
        inductance="120 uH",
        torque_constant="0.045 N m/A",
        inertia="0.004 kg m2",
        brush_drop="0.8 V",
    )
    c.add("motor", motor, plus="stud", minus="ground")
    c.attach("motor", sp.Load.resisting_torque(running="3 N m", breakaway="3.6 N m"))
    return c


@pytest.fixture
def slow_circuit() -> sp.Circuit:
    """A circuit to be run with a short `max_step`, so that the run takes far longer than any test."""
    c = sp.Circuit()
    c.add("source", sp.VoltageSource("1 V"), plus="p", minus="ground")
    c.add("resistor", sp.Resistor("1 mohm"), a="p", b="m")
    c.add("inductor", sp.Inductor("1 mH"), a="m", b="n")
    c.add("capacitor", sp.Capacitor("1 uF"), a="n", b="ground")
    return c
