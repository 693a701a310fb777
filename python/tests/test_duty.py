"""The duty study's Python side."""

import math
import pickle

import pytest
import stallpoint as sp


def test_exact_a_cycle_from_its_spans() -> None:
    cycle = sp.Cycle().forward("20 s").rest(60).reverse("0.5 min").rest("10 s")
    assert cycle.spans == [("forward", 20.0), ("rest", 60.0), ("reverse", 30.0), ("rest", 10.0)]
    assert (cycle.kind, cycle.time, cycle.duty_factor) == ("repeated", 120.0, 50 / 120)
    assert sp.Cycle.intermittent("25 %").spans == [("forward", 150.0), ("rest", 450.0)]
    assert sp.Cycle.continuous().time is None and math.isinf(sp.Cycle.continuous("reverse").spans[0][1])
    assert sp.Cycle.short_time("10 min").duty_factor is None


@pytest.mark.parametrize(
    "cycle",
    [sp.Cycle().forward(5).rest(10), sp.Cycle.continuous("reverse"), sp.Cycle.short_time("1 min", direction="reverse")],
)
def test_exact_a_cycle_pickles(cycle: sp.Cycle) -> None:
    assert pickle.loads(pickle.dumps(cycle)) == cycle
    assert cycle != sp.Cycle().forward(6).rest(10)


def test_exact_bad_input_names_the_argument() -> None:
    drive = sp.Drive.demo("boat_lift")
    with pytest.raises(sp.ArgumentError, match="at rest for ever"):
        sp.duty_study(drive, sp.Cycle().rest("5 s"))
    with pytest.raises(sp.StallpointError, match="duty_factor"):
        sp.Cycle.intermittent("120 %")
    with pytest.raises(sp.StallpointError, match="duration"):
        sp.Cycle().forward("5 A")
    long = sp.Cycle()
    for _ in range(100):  # progress is told every 50 ms, and a short cycle is done sooner
        long = long.forward(5).rest(10).reverse(5).rest(10)
    with pytest.raises(sp.CancelledError):
        sp.duty_study(drive, long, progress=lambda _: False)


def test_exact_the_study_in_records() -> None:
    study = sp.duty_study(sp.Drive.demo("boat_lift"), sp.Cycle().forward("30 s").rest("90 s"), ambient_c="35 degC")
    winding = study.parts["motor winding"]
    assert (winding.cold, winding.unit, winding.limit) == (35.0, "degC", 155.0)
    times, values = zip(*winding.curve, strict=True)
    assert times[0] == 0 and abs(times[-1] - 120) < 1e-9 and abs(max(values) - winding.highest) < 1e-6
    assert [span.call for span in study.spans] == ["forward", "rest"]
    assert study.contactor.longest_on == 30.0 and "25 %" in str(study.contactor)
    assert ("coil A" in dict(study.not_known)) and "<table>" in study._repr_html_()
    assert len(study.parts.to_pandas()) == len(study.parts)
    with pytest.raises(KeyError, match="known are motor winding"):
        study.parts["rotor"]
    assert "Duty study" in study.to_text() and study.to_html().startswith("<!DOCTYPE html>")
    assert pickle.loads(pickle.dumps(winding)) == winding
