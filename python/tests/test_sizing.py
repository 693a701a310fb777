"""Sizing from Python: catalogue, corners, requirements of one's own, Monte Carlo, sensitivities."""

from __future__ import annotations

import numpy as np
import pytest
import stallpoint as sp

COMPLETE = {
    "limits.longest_hold": "15 s",
    "limits.circuit_class": "noncritical",
    "limits.contactor_on_time": "60 s",
    "limits.contactor_withstand_current": "1.5 kA",
    "limits.contactor_withstand_time": "1 s",
    "limits.isolator_making": "400 A",
    "limits.isolator_carrying": "150 A",
    "limits.isolator_breaking": "300 A",
    "battery.cold_cranking_amperes": "800 A",
    "breaker.interrupting_capacity": "5 kA",
}
CABLES = [
    {"name": "sixteen", "values": {"supply_cable.cross_section": "16 mm2"}, "price": 40.0},
    {"name": "ten", "values": {"supply_cable.cross_section": "10 mm2", "supply_cable.ampacity": "60 A"}, "price": 25.0, "mass": 0.2},
]


@pytest.fixture(scope="module")
def lift() -> sp.Drive:
    return sp.Drive.demo("boat_lift").with_values(COMPLETE)


def test_a_catalogue_and_its_best(lift: sp.Drive) -> None:
    options = sp.size(lift, {"cable": CABLES})
    assert [c.state for c in options.candidates] == ["fits", "rejected"]
    assert options.best is not None and options.best.price == 40.0 and options.best in options.pareto
    assert any("ampacity" in reason for reason in options.rejected[0].reasons)
    assert options.circuits == 2 and options.transients == 20


def test_corners_are_named_in_the_reasons(lift: sp.Drive) -> None:
    corners = sp.corners(lift, {"battery.state_of_charge": (0.02, 0.9), ("supply_cable.temperature_c", "ground_cable.temperature_c"): (20, 70)})
    assert len(corners) == 4
    options = sp.size(lift.with_values({"limits.least_battery_voltage": "11.2 V"}), {"cable": CABLES[:1]}, corners=corners)
    assert options.best is None
    assert any("battery.state_of_charge 0.02" in reason for reason in options.rejected[0].reasons)


def test_a_requirement_of_ones_own_and_one_left_out(lift: sp.Drive) -> None:
    def gentle(drive: sp.Drive, figures: dict) -> dict:
        peak = max(figures[way]["breaker_peak"] for way in ("forward", "reverse"))
        return sp.requirement("gentle", "The surge is gentle", peak, 170.0, "A")

    options = sp.size(lift, {"cable": CABLES}, requirements=[gentle], without=["ampacity", "small_overload", "withstand", "run_drop"])
    assert [c.state for c in options.candidates] == ["rejected", "fits"]
    assert {check.key for check in options.candidates[0].checks} >= {"gentle", "making"}
    assert "ampacity" not in {check.key for check in options.candidates[0].checks}


def test_what_a_requirement_raises_is_raised(lift: sp.Drive) -> None:
    def wrong(drive: sp.Drive, figures: dict) -> dict:
        raise KeyError("no such figure")

    with pytest.raises(KeyError, match="no such figure"):
        sp.size(lift, {"cable": CABLES[:1]}, requirements=[wrong])
    with pytest.raises(sp.ArgumentError, match="unit"):
        sp.size(lift, {"cable": CABLES[:1]}, requirements=[lambda drive, figures: sp.requirement("k", "r", 1.0, 2.0, "furlong")])


def test_errors_name_the_key(lift: sp.Drive) -> None:
    with pytest.raises(sp.ValueKeyError, match="supply_cable.crosssection"):
        sp.size(lift, {"supply_cable.crosssection": ["16 mm2"]})
    with pytest.raises(sp.ArgumentError, match=r"must be a list of values: \[50, ...\]"):
        sp.size(lift, {"breaker.rated_current": 50})  # type: ignore[dict-item]
    with pytest.raises(sp.ArgumentError, match='"nonsense", but must be one of ampacity'):
        sp.size(lift, {"breaker.rated_current": [50]}, without=["nonsense"])
    with pytest.raises(sp.ArgumentError, match="rule"):
        sp.size(lift, {"cable": CABLES}, rule="prettiest")
    with pytest.raises(sp.CancelledError):
        sp.size(lift, {"breaker.rated_current": list(range(60, 80))}, corners=sp.corners(lift, {"battery.state_of_charge": (0.5, 1.0)}), progress=lambda fraction: False)


def test_what_is_to_be_known_first(lift: sp.Drive) -> None:
    found = sp.size(lift, {"supply_cable.cross_section": ["16 mm2", "25 mm2"]})
    assert any("supply_cable.ampacity is that of the cable described" in note for note in found.notes)
    slip = lift.with_values({"motor.resistance": "42 ohm"})
    assert "motor.resistance is 42 ohm" in slip.doubts()[0] and lift.doubts() == []


def test_monte_carlo_is_reproducible(lift: sp.Drive) -> None:
    tolerances = {"battery.state_of_charge": (0.5, 1.0), "motor.resistance": sp.Normal("42 mohm", "1 mohm")}
    first, second = (sp.monte_carlo(lift, tolerances, ["peak_current"], samples=6, seed=3, hold="0.2 s", threads=n) for n in (1, 2))
    np.testing.assert_array_equal(first["peak_current"], second["peak_current"])
    assert list(first.to_pandas().columns) == ["battery.state_of_charge", "motor.resistance", "peak_current", "failure"]
    assert (first.draws["battery.state_of_charge"] >= 0.5).all()
    assert first.quantile("peak_current", 0.0) == first["peak_current"].min()


def test_sensitivities_and_worst_corners(lift: sp.Drive) -> None:
    rows = sp.sensitivities(lift, ["motor.resistance"], ["peak_current"], hold="0.2 s")
    assert rows[0].derivative < 0 and -1 < rows[0].elasticity < 0
    worst = sp.worst_corners(lift, {"battery.state_of_charge": (0.5, 1.0)}, samples=2)
    assert worst.samples == 2 and worst.beyond == []
    assert worst.least_margins["battery_sag"] < worst.least_margins["pull_in"]


@pytest.mark.parametrize("row", [{"name": "x", "value": {}}, {"values": {}}, {"name": "x", "values": {}, "cost": 5}, {"name": "x", "values": 3}])
def test_a_row_that_is_none_is_refused(lift: sp.Drive, row: dict[str, object]) -> None:
    with pytest.raises(sp.ArgumentError, match="but must hold a row"):
        sp.size(lift, {"cable": [row]})
