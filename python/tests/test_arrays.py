"""Arrays: type, layout, what is accepted."""

import numpy as np
import pytest
import stallpoint as sp


@pytest.fixture
def run() -> sp.Run:
    c = sp.Circuit()
    c.add("source", sp.VoltageSource("12 V"), plus="p", minus="ground")
    c.add("resistor", sp.Resistor("0.1 ohm"), a="p", b="m")
    c.add("coil", sp.Inductor("1 mH"), a="m", b="ground")
    return c.transient(0.05, rtol=1e-8)


def test_exact_rl_step(run: sp.Run) -> None:
    times = np.array([0.001, 0.005, 0.01, 0.05])
    exact = 120 * (1 - np.exp(-times / 0.01))
    np.testing.assert_allclose(run.sample(times).current("coil"), exact, rtol=1e-6)


def test_exact_arrays_are_float64_and_contiguous(run: sp.Run) -> None:
    for array in (run.time, run.voltage("m"), run.current("coil"), run.state("coil", "current"), run.accumulated(current="coil")):
        assert array.dtype == np.float64 and array.flags.c_contiguous and array.shape == (len(run),)


@pytest.mark.parametrize(
    "times",
    [
        [0.0, 0.01, 0.02],
        (0, 0.01, 0.02),
        np.array([0, 9, 0.01, 9, 0.02, 9])[::2],
        np.asfortranarray(np.array([[0, 0.01, 0.02], [0, 0, 0]]))[0],
    ],
)
def test_exact_grids_of_any_make(run: sp.Run, times: object) -> None:
    np.testing.assert_array_equal(run.sample(times).current("coil"), run.sample([0.0, 0.01, 0.02]).current("coil"))


def test_exact_float32_grids_are_taken_at_their_value(run: sp.Run) -> None:
    grid = np.array([0.01, 0.02], dtype=np.float32)
    np.testing.assert_array_equal(run.sample(grid).time, grid.astype(np.float64))


def test_exact_bad_grids_are_named(run: sp.Run) -> None:
    with pytest.raises(sp.ArgumentError, match="`times` is 1 s, but must be within the run, 0 s to 0.05 s"):
        run.sample([1.0])
    with pytest.raises(sp.ArgumentError, match="`times`"):
        run.sample([[0.0], [0.1]])
    with pytest.raises(sp.ArgumentError, match="`times`"):
        run.sample([float("nan")])


def test_exact_extremes_crossing_accumulated(run: sp.Run) -> None:
    found = run.extremes(current="coil")
    assert abs(found.min) < 2e-6 and found.min_at == 0.0  # the start takes 0.1 ns to be consistent, at 12,000 A/s
    assert found.max == pytest.approx(120 * (1 - np.exp(-5)), rel=1e-6) and found.max_at == pytest.approx(0.05)
    assert run.crossing(60.0, current="coil") == pytest.approx(0.01 * np.log(2), rel=1e-6)
    assert run.crossing(130.0, current="coil") is None
    charge = 120 * (0.05 - 0.01 * (1 - np.exp(-5)))
    assert run.accumulated(current="coil")[-1] == pytest.approx(charge, rel=1e-6)
