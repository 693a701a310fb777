"""The closed forms that the API in Python can express."""

import numpy as np
import stallpoint as sp


def _drive(resistance: float, **motor: object) -> sp.Circuit:
    c = sp.Circuit()
    c.add("source", sp.VoltageSource(12.0), plus="p", minus="ground")
    c.add("series", sp.Resistor(resistance), a="p", b="stud")
    given = dict(resistance=0.025, inductance=120e-6, torque_constant=0.045, inertia=0.004) | motor
    c.add("motor", sp.Motor.permanent_magnet(**given), plus="stud", minus="ground")
    return c


def test_exact_locked_rotor() -> None:
    c = _drive(0.03)
    c.attach("motor", sp.Load.resisting_torque(running="0 N m", breakaway="1e6 N m"))
    run = c.transient(0.02, rtol=1e-8)
    times = np.linspace(1e-4, 0.02, 200)
    r, l = 0.055, 120e-6
    exact = 12 / r * (1 - np.exp(-times * r / l))
    np.testing.assert_allclose(run.sample(times).current("motor"), exact, rtol=1e-6)


def test_exact_linear_motor() -> None:
    for inertia in (0.004, 2e-6):  # real poles, complex poles
        run = _drive(0.03, inertia=inertia).transient(0.05, rtol=1e-8)
        r, l, k = 0.055, 120e-6, 0.045
        poles = np.roots([l * inertia, r * inertia, k * k]).astype(complex)
        times = np.linspace(0, 0.05, 300)
        p, q = poles
        settled = 12 / k
        speed = settled * (1 + (q * np.exp(p * times) - p * np.exp(q * times)) / (p - q))
        np.testing.assert_allclose(run.sample(times).state("motor", "speed"), speed.real, atol=1e-6 * settled)


def test_exact_stall_threshold() -> None:
    threshold = (12 - 0.8) * 0.045 / 3.6 - 0.025
    for factor, stuck in ((1 - 1e-6, False), (1 + 1e-6, True)):
        c = _drive(threshold * factor, brush_drop=0.8)
        c.attach("motor", sp.Load.resisting_torque(running=3.0, breakaway=3.6))
        assert c.operating_point().stuck is stuck


def test_exact_energy_adds_up() -> None:
    c = _drive(0.03, brush_drop="0.8 V")
    c.attach("motor", sp.Load.resisting_torque(running="3 N m", breakaway="3.6 N m"))
    for rtol, limit in ((1e-3, 1e-3), (1e-4, 1e-4), (1e-8, 1e-6)):
        energy = c.transient(1.5, rtol=rtol).energy
        assert abs(energy.residual) <= limit * energy.delivered


def test_exact_a_run_goes_on_from_a_state() -> None:
    c = _drive(0.03)
    whole, first = c.transient(0.4, rtol=1e-8), c.transient(0.2, rtol=1e-8)
    rest = c.transient(0.4, rtol=1e-8, start=first)
    assert rest.time[0] == 0.2
    np.testing.assert_allclose(rest.state("motor", "speed")[-1], whole.state("motor", "speed")[-1], rtol=1e-6)
    op = c.operating_point()
    still = c.transient(1.0, start=op)
    np.testing.assert_allclose(still.state("motor", "speed"), op.state("motor", "speed"), rtol=1e-6)
