"""Story 6: how long may it run, and how long must it rest?"""

import stallpoint as sp


def test_a_duty_cycle() -> None:
    drive = sp.Drive.from_toml("boat_lift.toml")
    lift = sp.Cycle().forward("40 s").rest("2 min").reverse("40 s").rest("10 min")  # up, unload, down, wait
    study = sp.duty_study(drive, lift)
    winding = study.parts["motor winding"]
    assert 20 < winding.lowest < winding.highest < winding.limit  # °C, in the cycle it settles into
    assert winding.longest_on["forward"] > 40 and winding.shortest_rest < 720  # s: one run; all rests of a cycle
    assert study.parts["supply cable"].shortest_rest == 0  # the cable never needs one
    assert study.battery.share < 0.02
    print(study.contactor)  # continuous or intermittent, in numbers

    rated = drive.with_values({"contactor.duty_rating.longest_on_time": "60 s", "contactor.duty_rating.duty_factor": "25 %"})
    verdicts = {check.requirement: check.verdict for check in sp.duty_study(rated, lift).checks}
    assert verdicts["The contactor may be energised as long as the cycle asks"] == "pass"
    assert verdicts["The motor winding does not get too warm"] == "pass"

    for_ever = sp.duty_study(drive, sp.Cycle.continuous())
    assert for_ever.parts["motor winding"].highest > 155
    once = sp.duty_study(drive, sp.Cycle.short_time("1 min"))
    assert once.parts["motor winding"].longest_on_from_cold > 60
    axes = study.plot()
    assert axes.get_ylabel() == "temperature, °C"
