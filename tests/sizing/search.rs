//! The search: the same answer whatever is shared, however many threads, and why each candidate was rejected.

use stallpoint::circuit::Flow;
use stallpoint::studies::sizing::{Choice, Corner, Outcome, Row, Rule, SizingOptions, State, Tolerance, size_with};
use stallpoint::{Drive, Error};

use super::support::with;

pub fn cables() -> Choice {
    let row = |size: &str, ampacity: &str, price: f64| {
        Row::new(size, [("supply_cable.cross_section", size), ("supply_cable.ampacity", ampacity)]).price(price)
    };
    let rows = [
        row("10 mm2", "60 A", 25.0),
        row("16 mm2", "85 A", 40.0),
        row("25 mm2", "110 A", 62.0),
        row("50 mm2", "170 A", 120.0),
    ];
    Choice::catalogue("supply cable", rows)
}

pub fn breakers() -> Choice {
    let row = |size: &str, price: f64| Row::new(size, [("breaker.rated_current", size)]).price(price);
    Choice::catalogue("breaker", [row("50 A", 30.0), row("80 A", 32.0), row("100 A", 35.0)])
}

/// The second differs from the first in its ratings alone, the third in its coil.
pub fn contactors() -> Choice {
    let strong = [("contactor.making_current", "400 A"), ("contactor.breaking_current", "300 A")];
    let rows = [
        Row::new("as given", [("contactor.making_current", "250 A")]).price(80.0),
        Row::new("strong", strong).price(130.0),
        Row::new("slow coil", [("contactor.coil.resistance", "12 ohm")]).price(60.0),
    ];
    Choice::catalogue("contactor", rows)
}

pub fn corners(drive: &Drive) -> Vec<Corner> {
    let cold_to_hot = Tolerance::interval("supply_cable.temperature_c", 0.0, 60.0).and("ground_cable.temperature_c");
    Corner::all(drive, &[Tolerance::interval("battery.state_of_charge", "50 %", "100 %"), cold_to_hot]).unwrap()
}

pub fn find(drive: &Drive, choices: &[Choice], options: &SizingOptions) -> Outcome {
    size_with(drive, choices, options, &mut |_| Flow::Continue).unwrap()
}

#[test]
fn exact_the_same_answer_for_any_number_of_threads_and_whatever_is_shared() {
    let drive = with(&[]);
    let choices = [cables(), breakers(), contactors()];
    let options = SizingOptions { corners: corners(&drive)[1..3].to_vec(), ..SizingOptions::default() };
    let one = find(&drive, &choices, &SizingOptions { threads: Some(1), ..options.clone() });
    for threads in [2, 3] {
        assert_eq!(one, find(&drive, &choices, &SizingOptions { threads: Some(threads), ..options.clone() }));
    }
    // 4 cables, 2 different coils, 2 corners; breakers and ratings make no circuit of their own.
    assert_eq!((one.cases, one.circuits, one.transients), (72, 16, 160));
    let alone = find(&drive, &choices, &SizingOptions { share: false, ..options });
    assert_eq!((alone.circuits, alone.transients), (72, 720));
    assert_eq!(alone.candidates, one.candidates);
    assert_eq!((alone.best, alone.pareto), (one.best, one.pareto));
}

#[test]
fn exact_every_rejected_candidate_says_why() {
    let drive = with(&[]);
    let options = SizingOptions { corners: corners(&drive), ..SizingOptions::default() };
    let found = find(&drive, &[cables(), breakers()], &options);
    assert_eq!(found.candidates.len(), 12);
    for (_, candidate) in found.in_state(State::Rejected) {
        let broken = candidate.broken();
        assert_eq!(candidate.reasons().len(), broken.len());
        for check in broken {
            assert!(check.margin.is_some_and(|margin| margin < 0.0) && check.corner.is_some(), "{check:?}");
        }
    }
    // 50 A on any cable: the running current is in the band, by the full battery most.
    let small = found.candidates.iter().find(|candidate| candidate.names == ["16 mm2", "50 A"]).unwrap();
    let running = small.broken().into_iter().find(|check| check.key == "running_trip").unwrap().clone();
    assert!(running.corner.as_ref().unwrap().contains("battery.state_of_charge"), "{running:?}");
    assert!(small.reasons().iter().any(|reason| reason.contains("beyond") && reason.contains("state_of_charge")));
    let thin = found.candidates.iter().find(|candidate| candidate.names == ["10 mm2", "80 A"]).unwrap();
    assert!(thin.broken().iter().any(|check| check.key == "ampacity"));
}

#[test]
fn exact_best_and_pareto_by_hand() {
    let drive = with(&[]);
    let choices = [cables(), contactors()];
    let found = find(&drive, &choices, &SizingOptions::default());
    let fits: Vec<usize> = found.in_state(State::Fits).map(|(k, _)| k).collect();
    assert!(fits.len() >= 3, "{}", found.summary());
    let cheapest = fits
        .iter()
        .copied()
        .min_by(|a, b| found.candidates[*a].price.unwrap().total_cmp(&found.candidates[*b].price.unwrap()));
    assert_eq!(found.best, cheapest);
    // On the front: none that fits is as good in price, mass and margin.
    let figures = |k: usize| {
        let own = &found.candidates[k];
        [own.price.unwrap(), own.mass, -own.margin.unwrap()]
    };
    for &k in &fits {
        let beaten = fits
            .iter()
            .any(|&other| figures(other) != figures(k) && figures(other).iter().zip(figures(k)).all(|(a, b)| *a <= b));
        assert_eq!(found.pareto.contains(&k), !beaten, "{:?}", found.candidates[k].names);
    }
    let widest = find(&drive, &choices, &SizingOptions { rule: Rule::LargestMargin, ..SizingOptions::default() });
    let margins = fits.iter().map(|&k| found.candidates[k].margin.unwrap()).fold(f64::NEG_INFINITY, f64::max);
    assert_eq!(widest.best().unwrap().margin, Some(margins));
    let lightest = find(&drive, &choices, &SizingOptions { rule: Rule::LeastCopper, ..SizingOptions::default() });
    assert!(fits.iter().all(|&k| lightest.best().unwrap().mass <= found.candidates[k].mass));
}

#[test]
fn exact_a_candidate_that_cannot_be_made_keeps_its_place() {
    let drive = with(&[]);
    let choices = [Choice::list("supply_cable.length", ["7 m", "-7 m"]), breakers()];
    let found = find(&drive, &choices, &SizingOptions::default());
    assert_eq!(found.candidates.len(), 6);
    let impossible = &found.candidates[3];
    assert_eq!((impossible.state, impossible.run), (State::Rejected, false));
    assert!(impossible.reasons()[0].contains("length"), "{:?}", impossible.reasons());
}

#[test]
fn exact_errors_name_what_is_wrong() {
    let drive = with(&[]);
    let refuse = |choices: &[Choice]| {
        size_with(&drive, choices, &SizingOptions::default(), &mut |_| Flow::Continue).unwrap_err().to_string()
    };
    assert!(refuse(&[]).contains("candidates"));
    assert!(refuse(&[Choice::list("supply_cable.size", ["16 mm2"])]).contains("supply_cable.size"));
    assert!(refuse(&[Choice::list("breaker.rated_current", ["80 V"])]).contains("breaker.rated_current"));
    assert!(refuse(&[Choice::catalogue("cable", [])]).contains("cable"));
    assert!(
        refuse(&[Choice::catalogue("cable", [Row::new("a", [("supply_cable.length", "5 m")]).price(f64::NAN)])])
            .contains("price")
    );
    let no_threads = SizingOptions { threads: Some(0), ..SizingOptions::default() };
    assert!(size_with(&drive, &[breakers()], &no_threads, &mut |_| Flow::Continue).is_err());
}

#[test]
fn exact_a_watcher_stops_it() {
    let stopped = size_with(&with(&[]), &[breakers()], &SizingOptions::default(), &mut |_| Flow::Stop);
    assert!(matches!(stopped, Err(Error::Cancelled)));
}
