//! Each load as a part: derivatives, refusals, files.

use stallpoint::circuit::{At, LocalEquations, Memory, Part};
use stallpoint::parts::load::{Conveyor, EndStop, Hoist, HydraulicPump, Load, WormGear};

/// Asserts that a part's derivatives at local values `x` are those of central differences.
#[track_caller]
fn assert_derivatives(part: &dyn Part, x: &[f64], mode: u32) {
    let n = part.terminals().len() + part.unknowns().len();
    let identity: Vec<u32> = (0..n as u32).collect();
    let memory = Memory::new(mode, part.memory().numbers);
    let equations = |x: &[f64]| {
        let mut local = LocalEquations::new(n);
        part.evaluate(&At::alone(0.0, x, &memory, &identity), &mut local.stamp());
        local
    };
    let own = equations(x);
    for column in 0..n {
        let step = 1e-5 * x[column].abs().max(1e-3);
        let (mut above, mut below) = (x.to_vec(), x.to_vec());
        above[column] += step;
        below[column] -= step;
        let (above, below) = (equations(&above), equations(&below));
        for row in 0..n {
            for (what, own, high, low) in [
                ("df", own.df[row * n + column], above.f[row], below.f[row]),
                ("dq", own.dq[row * n + column], above.q[row], below.q[row]),
            ] {
                let difference = (high - low) / (2.0 * step);
                let slack = 1e-6 * own.abs() + 8.0 * f64::EPSILON * high.abs().max(low.abs()) / step;
                let what = format!("{} mode {mode} {what}[{row},{column}]", part.kind());
                assert!((own - difference).abs() <= slack, "{what}: {own} {difference}");
            }
        }
    }
}

#[test]
fn exact_derivatives_in_every_mode() {
    let stop = EndStop { damping: "0.7 N m s/rad".parse().unwrap(), ..EndStop::new("20 rad", "80 N m/rad").unwrap() };
    for mode in 0..5 {
        assert_derivatives(&stop, &[13.0, 20.3, 0.3], mode);
    }
    let pump = HydraulicPump {
        stroke: Some("100 cm3".parse().unwrap()),
        ..HydraulicPump::new("2 cm3", "150 bar", "100 bar", "40 bar").unwrap()
    };
    for mode in 0..15 {
        assert_derivatives(&pump, &[130.0, 1.23e7, 0.4], mode);
    }
    assert_derivatives(&Hoist::new("10 kg", "5 cm", 20.0, 0.7).unwrap(), &[3.0], 0);
    assert_derivatives(&WormGear::new(20.0, 0.4, "5 N m").unwrap(), &[3.0], 0);
    assert_derivatives(&Conveyor::new("10 kg", "5 cm", 20.0, 0.7, 0.1).unwrap(), &[3.0], 0);
}

#[test]
fn exact_refusals_name_the_argument() {
    let text = |error: stallpoint::Error| error.to_string();
    let error = text(Hoist::new("10 kg", "5 cm", 20.0, 1.2).unwrap_err());
    assert_eq!(error, "`efficiency` is 1.2, but must be above 0 and at most 1");
    let gear =
        WormGear { breakaway_efficiency: Some("55 %".parse().unwrap()), ..WormGear::new(20.0, 0.6, 1.0).unwrap() };
    assert_eq!(
        gear.check().unwrap_err().to_string(),
        "`breakaway_efficiency` is 0.55, but must be at most 0.5: above it a gear can be driven back, describe it as a hoist"
    );
    let error = text(HydraulicPump::new("2 cm3", "90 bar", "100 bar", "40 bar").unwrap_err());
    assert!(error.starts_with("`forward_pressure` is 10000000 Pa, but must be 0 Pa or more and below"), "{error}");
    let error = text(HydraulicPump::new("2 cm3", "90 A", "100 bar", "40 bar").unwrap_err());
    assert_eq!(error, "`relief_pressure`: \"90 A\" is a current; a pressure is expected, for example \"160 bar\"");
    let error = text(EndStop::new("-3 rad", "80 N m/rad").unwrap_err());
    assert_eq!(error, "`forward` is -3 rad, but must be forward of the angle at the start, 0 rad");
    let nowhere = EndStop { forward: None, ..EndStop::new("3 rad", "80 N m/rad").unwrap() };
    assert_eq!(
        nowhere.check().unwrap_err().to_string(),
        "the end stop has no stop; give `forward`, `backward` or both"
    );
    let error = text(Conveyor::new("10 kg", "5 cm", 20.0, 0.7, -0.1).unwrap_err());
    assert_eq!(error, "`friction_coefficient` is -0.1, but must be 0  or more");
}

#[test]
fn exact_files_give_every_load_back() {
    let loads = [
        Load::Hoist(Hoist::new("10 kg", "5 cm", 20.0, 0.7).unwrap()),
        Load::WormGear(WormGear::new(20.0, 0.4, "5 N m").unwrap()),
        Load::Conveyor(Conveyor::new("10 kg", "5 cm", 20.0, 0.7, 0.1).unwrap()),
        Load::HydraulicPump(HydraulicPump::new("2 cm3", "150 bar", "100 bar", "40 bar").unwrap()),
        Load::EndStop(EndStop::new("20 rad", "80 N m/rad").unwrap()),
    ];
    for load in loads {
        let text = toml::to_string(&load).unwrap();
        assert_eq!(toml::from_str::<Load>(&text).unwrap(), load, "{text}");
    }
}
