"""Story 5: a sweep (fewer points than a study would take)."""

import numpy as np
import stallpoint as sp


def test_a_sweep() -> None:
    drive = sp.Drive.from_toml("boat_lift.toml")
    metres = np.linspace(1, 20, 5)
    grid = sp.sweep(
        drive,
        {("supply_cable.length", "ground_cable.length"): metres, "ground_stud_joint.resistance": np.geomspace(1e-4, 0.1, 4)},
        measure=["peak_current", "time_to_speed", "stalled", "trips"], progress=True, executor=None)
    assert grid["peak_current"].shape == (5, 4)
    data = grid.to_xarray()
    assert data["peak_current"].attrs["units"] == "A"
    assert data["supply_cable.length"].attrs["units"] == "m"
    np.testing.assert_array_equal(data["ground_cable.length"], metres)
    assert (np.diff(data["peak_current"], axis=0) < 0).all()
    assert len(grid.to_pandas()) == 20
