"""What breakers, fuses, motors and instruments are asked for, and the conformance of a part of one's own."""

import math
import pickle
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
import stallpoint as sp

BAND = sp.TripBand.points([[1.1, 900], [2, 20]], [[1.4, 3600], [2, 80]])


def test_exact_a_thermal_band_trips_by_its_closed_form() -> None:
    breaker = sp.Breaker("50 A", sp.TripBand.thermal(1.2, "90 s", tolerance="20 %"))
    for position, tau in ((0.0, 72.0), (1.0, 108.0)):
        expected = -tau * math.log(1 - (1.2 / 2) ** 2)  # IEC 60255-149, cold
        assert breaker.trip_time("100 A", position) == pytest.approx(expected, rel=1e-12)
    assert breaker.trips_from() == pytest.approx(60.0) and breaker.trip_time("59 A") is None
    with pytest.raises(sp.ArgumentError, match="position"):
        breaker.trip_time("100 A", 2)


def test_exact_derating_rescales_the_rated_current() -> None:
    for derating in (sp.Derating.linear("40 degC", -0.005), sp.Derating.table([[40, 1.0], [60, 0.9]])):
        assert sp.Breaker("80 A", BAND, ambient_c=60, derating=derating).rated_at_ambient == pytest.approx(72.0)
    with pytest.raises(sp.PartError, match="derating"):
        sp.Breaker("80 A", BAND, ambient_c=60)


def test_exact_a_gate_of_ones_own() -> None:
    gate = sp.Gate("mine", 2.0, trips_within=60.0)
    (check,) = sp.Breaker("80 A", BAND).meets([gate])
    assert (check.gate, check.edge, check.holds) == (gate, "slowest", False)
    assert check.trips_in == pytest.approx(80.0)


def test_exact_a_fuse_sits_where_its_melting_i2t_lies() -> None:
    fuse = sp.Fuse("15 A", "blade_mini").at_melting_i2t(270)
    assert fuse.trip_time(300) == pytest.approx(270 / 300**2, rel=1e-12)
    assert pickle.loads(pickle.dumps(fuse)) == fuse and eval(repr(fuse), {"Fuse": sp.Fuse}) == fuse
    with pytest.raises(sp.ArgumentError, match="i2t"):
        sp.Fuse("15 A", "blade_mini").at_melting_i2t(1)


def wound(kind: str) -> Any:
    armature, rotor = sp.Armature("0.05 ohm", "1 mH"), sp.Rotor("1 kg m2", friction="5 N m")
    field = sp.Field("75 ohm", "20 H", sp.Magnetisation.linear("0.6 H"))
    if kind == "compound":
        series = sp.SeriesWinding("0.02 ohm", 0.005)
        return sp.Motor.compound(armature=armature, shunt=field, series=series, rotor=rotor)
    return getattr(sp.Motor, kind)(armature=armature, field=field, rotor=rotor)


def test_exact_a_shunt_motor_runs_at_its_closed_form() -> None:
    c = sp.Circuit()
    c.add("source", sp.VoltageSource("230 V"), plus="p", minus="ground")
    wires = {"armature_plus": "p", "armature_minus": "ground", "field_plus": "p", "field_minus": "ground"}
    c.add("motor", wound("shunt"), **wires)
    k = 0.6 * 230 / 75
    assert c.operating_point().state("motor", "speed") == pytest.approx((230 - 0.05 * 5 / k) / k, rel=1e-9)


@pytest.mark.parametrize("kind", ["series", "shunt", "compound"])
def test_exact_a_drive_takes_a_wound_motor(kind: str) -> None:
    drive = sp.Drive(**{**sp.Drive.demo("boat_lift").description, "motor": wound(kind)})
    assert drive.description["motor"]["kind"] == kind
    assert pickle.loads(pickle.dumps(drive)) == drive
    assert ("field_in_joint" in drive.joint_names) == (kind != "shunt")
    swaps = {"motor_wires": True, "signal_wires": True, "motor_and_signal_wires": False, "supply_and_ground": False}
    for swap, reverses in swaps.items():
        assert drive.reverses_on(swap) is reverses and wound(kind).reverses_on(swap) is reverses


def test_exact_permanent_magnets_reverse_on_supply_and_ground() -> None:
    assert sp.Drive.demo("stage_lift").reverses_on("supply_and_ground")
    with pytest.raises(sp.ArgumentError, match="motor_wires"):
        sp.Drive.demo("stage_lift").reverses_on("all")


def test_exact_an_equal_constant_shows_in_the_misfits() -> None:
    # The measured motor of tests/reference/motor_12V_curves.toml that the Rust example uses.
    sheet: dict[str, Any] = {
        "voltage": "12 V", "no_load_speed": "5330 rpm", "no_load_current": "2.7 A", "stall_torque": "2.413 N m",
        "stall_current": "131.055 A", "inductance": "50 uH", "inertia": "1e-4 kg m2",
    }
    fit = sp.Motor.permanent_magnet.from_data_sheet
    fitted = fit(**sheet, equal_constants=True)
    assert fitted.ratio_of_constants == pytest.approx(1.0)
    assert abs(fitted.worst.relative) > 0.03 and len(fitted.misfits) == 4
    assert len(fit(**sheet, rated=("1.2 N m", "2700 rpm", "66 A")).misfits) == 6
    with pytest.raises(sp.ArgumentError, match="stall_current"):
        fit(**{**sheet, "stall_current": "1 A"})


def source() -> sp.Circuit:
    c = sp.Circuit()
    c.add("source", sp.VoltageSource("12 V"), plus="p", minus="ground")
    c.add("load", sp.Resistor("4 ohm"), a="p", b="ground")
    return c


def test_exact_instruments_read_and_refuse() -> None:
    c = source()
    assert c.measure(sp.Voltmeter(), "p", "ground").value == pytest.approx(12.0)
    assert c.measure(sp.TestLamp("12 V", "21 W"), "p", "ground").word == "bright"
    with pytest.raises(sp.InstrumentError) as live:
        c.measure(sp.Ohmmeter(), "p", "ground")
    assert (live.value.kind, live.value.voltage) == ("live", pytest.approx(12.0))  # type: ignore[attr-defined]
    with pytest.raises(sp.InstrumentError) as above:
        c.measure(sp.TestLamp("6 V", "10 W"), "p", "ground")
    assert above.value.kind == "above_rating"  # type: ignore[attr-defined]
    with pytest.raises(sp.ArgumentError, match="instrument"):
        c.measure(sp.Resistor(1), "p", "ground")
    with pytest.raises(sp.UnknownNameError):
        c.measure(sp.Voltmeter(), "q", "ground")


def test_exact_a_clamp_reads_a_circuit_and_a_run() -> None:
    c, clamp = source(), sp.ClampAmmeter(bandwidth="100 Hz")
    assert clamp.read(c, "load").value == pytest.approx(3.0)
    run = c.transient(0.05)
    times, shown = clamp.read_run(run, "load")
    assert times.shape == shown.shape and shown[-1] == pytest.approx(3.0)
    reading, at = clamp.peak_hold(run, "load")
    assert reading.value == pytest.approx(3.0) and 0 <= at <= 0.05


class Wrong(sp.OwnPart):
    """A resistor whose derivative is not that of its equation."""

    kind, terminals = "wrong resistor", ("a", "b")

    def evaluate(self, t: float, x: Sequence[float]) -> tuple[Sequence[float], Sequence[float]]:
        i = 2 * (x[0] - x[1])
        return (0.0, 0.0), (i, -i)

    def derivatives(self, t: float, x: Sequence[float]) -> tuple[Sequence[Sequence[float]], Sequence[Sequence[float]]]:
        return [[0.0] * 2] * 2, [[3.0, -3.0], [-3.0, 3.0]]

    def power(self, t: float, x: Sequence[float]) -> tuple[float, float]:
        return 0.0, 2 * (x[0] - x[1]) ** 2


class Right(Wrong):
    kind, by_differences = "resistor of ours", True


class Raising(Right):
    def power(self, t: float, x: Sequence[float]) -> tuple[float, float]:
        raise OverflowError("too hot")


def test_exact_a_part_of_ones_own_is_tried() -> None:
    found = sp.check_part(Right())
    assert found.balanced and not found.is_source
    with pytest.raises(sp.NotConformingError, match="wrong resistor") as info:
        sp.check_part(Wrong())
    assert info.value.findings  # type: ignore[attr-defined]
    with pytest.raises(OverflowError, match="too hot"):
        sp.check_part(Raising())


def test_exact_a_battery_fitted_to_made_up_discharges() -> None:
    current = np.repeat([1.0, 4.0], 4)
    taken = current * 3600 * np.tile([1.0, 2.0, 3.0, 4.0], 2)
    voltage = 12.8 - taken / 72000 - 0.05 * current
    template = sp.Battery.agm("20 Ah", "10 mohm")
    fitted = template.fit_discharges(current, taken, voltage, pieces=1)
    assert fitted.worst < 1e-9 and fitted.rms < 1e-9
    c = sp.Circuit()
    c.add("battery", fitted.battery, plus="p", minus="ground")
    c.add("load", sp.Resistor("1 Mohm"), a="p", b="ground")
    # At rest and full the made-up battery has 12.8 V.
    assert c.operating_point().voltage("p") == pytest.approx(12.8, abs=1e-6)
    with pytest.raises(sp.ArgumentError, match="taken"):
        template.fit_discharges(current, taken[:-1], voltage)
    with pytest.raises(sp.ArgumentError, match="one current"):
        template.fit_discharges(current[:4], taken[:4], voltage[:4], pieces=1)


def test_exact_a_joint_that_heats_and_a_film_that_breaks_down() -> None:
    def through(joint: sp.Joint, amperes: float) -> sp.Circuit:
        c = sp.Circuit()
        c.add("source", sp.CurrentSource(amperes), plus="ground", minus="p")
        c.add("joint", joint, a="p", b="ground")
        return c

    # 20 J/K and 15 K/W, without growth: one exponential of 300 s towards 60 A squared times 1 mohm times 15 K/W.
    warm = sp.Joint("1 mohm", heat={"temperature_coefficient": 0})
    run = through(warm, 60.0).transient(until=300.0, rtol=1e-8)
    exact = 20.0 + 54.0 * (1.0 - np.exp(-1.0))
    assert run.state("joint", "temperature")[-1] == pytest.approx(exact, rel=1e-6)
    # 3 ohm until 5 V break it down.
    film = sp.Joint("60 mohm", film={"resistance": "3 ohm", "breakdown_voltage": "5 V"})
    assert through(film, 1.0).operating_point().voltage("p") == pytest.approx(3.06)
    assert through(film, 2.0).operating_point().voltage("p") == pytest.approx(0.12)
    # 414.2 mV across a clean contact melt copper, 1358 K.
    hot = through(sp.Joint("0.1 mohm"), 4142.0).operating_point().state("joint", "hottest_spot")
    assert hot == pytest.approx(1358.0 - 273.15, abs=0.2)
    with pytest.raises(sp.PartError, match="film.reforms_below"):
        through(sp.Joint(film={"reforms_below": "2 A"}), 1.0)
