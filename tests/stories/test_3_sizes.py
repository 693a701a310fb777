"""Story 3: sizes."""

import stallpoint as sp


def test_sizes() -> None:
    drive = sp.Drive.from_toml("boat_lift.toml")
    options = sp.size(drive, {"supply_cable.cross_section": ["16 mm2", "25 mm2", "2 AWG", "50 mm2"], "breaker.rated_current": [60, 80, 100]})
    # No breaker of this kind protects the winding of a jammed winch by itself: its slowest device is too late.
    assert options.best is None and len(options.rejected) == 12
    assert all(any("Stalled" in reason for reason in c.reasons) for c in options.rejected)

    # With a timer in the control the hold is limited instead.
    drive = drive.with_values({"limits.longest_hold": "15 s"})
    options = sp.size(drive, {"supply_cable.cross_section": ["16 mm2", "25 mm2", "2 AWG", "50 mm2"], "breaker.rated_current": [60, 80, 100]})
    table = options.to_pandas()
    assert len(table) == 12 and {"supply_cable.cross_section", "breaker.rated_current", "state", "margin", "reasons"} <= set(table.columns)
    best = options.best
    assert best is not None and best.chosen["supply_cable.cross_section"] == "16 mm2"
    # The demo's file lacks data: what is not checked never counts as met.
    assert best.state == "unproven" and "interrupting_by_battery" in best.not_checked
    thick = next(c for c in options.rejected if c.chosen == {"supply_cable.cross_section": "50 mm2", "breaker.rated_current": "80"})
    assert "break the locked-rotor current" in thick.reasons[0] and "beyond" in thick.reasons[0]
    assert "12 candidates" in repr(options)
