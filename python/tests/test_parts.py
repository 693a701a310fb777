"""Parts: names, descriptions, parts written in Python."""

import pickle
from collections.abc import Sequence

import numpy as np
import pytest
import stallpoint as sp
from stallpoint._stallpoint import part_kinds


def test_exact_every_kind_of_the_list_has_a_class() -> None:
    for kind in part_kinds():
        assert issubclass(getattr(sp.parts, kind), sp.Part), kind


def test_exact_everything_named_is_there() -> None:
    assert sorted(set(sp.__all__)) == sorted(sp.__all__)
    for name in sp.__all__:
        assert hasattr(sp, name), name


def test_exact_numpy_scalars_are_parameters() -> None:
    c = sp.Circuit()
    c.add("source", sp.VoltageSource(np.float64(3)), plus="p", minus="ground")
    c.add("one", sp.Resistor(np.int64(2)), a="p", b="m")  # type: ignore[arg-type]
    c.add("two", sp.Resistor(np.float32(1)), a="m", b="ground")  # type: ignore[arg-type]
    assert c.operating_point().voltage("m") == pytest.approx(1.0)


def test_exact_parts_are_equal_by_what_they_describe() -> None:
    assert sp.Resistor(1.0) == sp.Resistor(1.0) != sp.Resistor(2.0)
    assert sp.Resistor(1.0) != sp.Joint(1.0)
    assert hash(sp.Cable("16 mm2", "7 m")) == hash(sp.Cable("16 mm2", "7 m"))
    band = sp.TripBand.points([[2, 3]], [[2, 5]])
    assert sp.Breaker("80 A", band) == sp.Breaker("80 A", band.describe())


class RL(sp.OwnPart):
    """A resistor and an inductor in series: v = R i + L di/dt."""

    kind = "resistor and inductor"
    terminals = ("a", "b")
    unknowns = (sp.Unknown("current", "A"),)

    def __init__(self, resistance: float, inductance: float, by_differences: bool) -> None:
        self.resistance, self.inductance, self.by_differences = resistance, inductance, by_differences

    def evaluate(self, t: float, x: Sequence[float]) -> tuple[Sequence[float], Sequence[float]]:
        a, b, i = x
        return (0.0, 0.0, self.inductance * i), (i, -i, self.resistance * i - a + b)

    def derivatives(
        self, t: float, x: Sequence[float]
    ) -> tuple[Sequence[Sequence[float]], Sequence[Sequence[float]]]:
        dq = [[0.0] * 3, [0.0] * 3, [0.0, 0.0, self.inductance]]
        return dq, [[0.0, 0.0, 1.0], [0.0, 0.0, -1.0], [-1.0, 1.0, self.resistance]]

    def power(self, t: float, x: Sequence[float]) -> tuple[float, float]:
        return 0.0, self.resistance * x[2] ** 2

    def stored(self, t: float, x: Sequence[float]) -> float:
        return 0.5 * self.inductance * x[2] ** 2


class Broken(RL):
    def evaluate(self, t: float, x: Sequence[float]) -> tuple[Sequence[float], Sequence[float]]:
        if t > 0.001:
            raise OverflowError("too hot")
        return super().evaluate(t, x)


class Windmill(sp.OwnPart):
    """A load on a shaft that brakes with the cube of speed."""

    kind, shafts, by_differences = "windmill", ("shaft",), True

    def evaluate(self, t: float, x: Sequence[float]) -> tuple[Sequence[float], Sequence[float]]:
        return (0.0,), (1e-6 * x[0] ** 3,)


def circuit(part: sp.Part) -> sp.Circuit:
    c = sp.Circuit()
    c.add("source", sp.VoltageSource("12 V"), plus="p", minus="ground")
    c.add("own", part, a="p", b="ground")
    return c


@pytest.mark.parametrize("by_differences", [False, True])
def test_exact_a_part_written_in_python_follows_its_equation(by_differences: bool) -> None:
    c = circuit(RL(0.1, 1e-3, by_differences))
    run = c.transient(0.05, rtol=1e-8)
    t = np.array([0.001, 0.01, 0.05])
    np.testing.assert_allclose(run.sample(t).current("own"), 120 * (1 - np.exp(-t / 0.01)), rtol=1e-6)
    assert abs(run.energy.residual) < 1e-6 * run.energy.delivered
    assert run.energy["own"].stored == pytest.approx(0.5e-3 * run.current("own")[-1] ** 2, rel=1e-6)
    assert c.operating_point().state("own", "current") == pytest.approx(120.0, rel=1e-9)
    assert run.states("own") == {"current": "A"}
    again = pickle.loads(pickle.dumps(c)).transient(0.05, rtol=1e-8)
    np.testing.assert_array_equal(again.current("own"), run.current("own"))


def test_exact_a_load_written_in_python_sits_on_a_shaft(motor_circuit: sp.Circuit) -> None:
    name = motor_circuit.attach("motor", Windmill())
    assert name == "motor.windmill"
    op = motor_circuit.operating_point()
    torque = 3 + 1e-6 * op.state("motor", "speed") ** 3
    assert op.current("motor") == pytest.approx(torque / 0.045, rel=1e-8)


def test_exact_what_a_part_raises_comes_through() -> None:
    c = circuit(Broken(0.1, 1e-3, False))
    with pytest.raises(OverflowError, match="too hot"):
        c.transient(0.05)
    run = c.transient(0.0005)
    assert run.ending == "finished"
    # What an earlier call raised is not raised again.
    assert len(run.current("own")) == len(run)


def test_exact_a_part_of_the_wrong_shape_is_refused_when_it_is_added() -> None:
    class Short(RL):
        def evaluate(self, t: float, x: Sequence[float]) -> tuple[Sequence[float], Sequence[float]]:
            return (0.0,), (0.0,)

    class Charged(RL):
        def evaluate(self, t: float, x: Sequence[float]) -> tuple[Sequence[float], Sequence[float]]:
            return (1.0, 0.0, 0.0), (0.0, 0.0, 0.0)

    class Bare(sp.OwnPart):
        terminals = ("a", "b")

        def evaluate(self, t: float, x: Sequence[float]) -> tuple[Sequence[float], Sequence[float]]:
            return (0.0, 0.0), (0.0, 0.0)

    with pytest.raises(sp.ArgumentError, match="1 contents and 1 flows, but must be 3 of each"):
        circuit(Short(1, 1, True))
    with pytest.raises(sp.ArgumentError, match="a content in row 0"):
        circuit(Charged(1, 1, True))
    with pytest.raises(NotImplementedError, match="by_differences = True"):
        circuit(Bare())
