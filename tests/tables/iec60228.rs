//! Metric conductors against IEC 60228.

use crate::reference::csv;
use stallpoint::quantity::ConductorSize;
use stallpoint::tables::conductors::{Conductor, StrandClass, max_resistance_per_m, resistance_at, standard_sizes_mm2};

#[test]
fn val_iec60228_maxima_are_the_standards() {
    let rows = csv("iec60228.csv", 18);
    let mut compared = 0;
    for row in &rows {
        let size: ConductorSize = format!("{} mm2", row["S_mm2"]).parse().unwrap();
        for (column, conductor, class) in [
            ("cu_class2", Conductor::Copper, StrandClass::Stranded),
            ("cu_class5", Conductor::Copper, StrandClass::Flexible),
            ("al_class2", Conductor::Aluminium, StrandClass::Stranded),
        ] {
            let Some(printed) = Some(&row[column]).filter(|t| !t.is_empty()) else {
                continue;
            };
            let ours = max_resistance_per_m(size, class, conductor);
            assert_eq!(ours.ohm_per_m, printed.parse::<f64>().unwrap() / 1e3, "{size} {column}");
            assert!(ours.basis.starts_with("IEC 60228 maximum"), "{}", ours.basis);
            compared += 1;
        }
    }
    assert_eq!(compared, 18 + 18 + 11);
    let sizes: Vec<f64> = rows.iter().map(|r| r["S_mm2"].parse().unwrap()).collect();
    assert_eq!(standard_sizes_mm2().collect::<Vec<_>>(), sizes);
}

/// A maximum below resistivity over area would be a misread digit. The documented gap, 4 to 16 %, is this file's own
/// range: from 0.5 mm2 stranded, 36.0 against 34.483 ohm/km, to 2.5 mm2 flexible, 7.98 against 6.897.
#[test]
fn val_iec60228_maxima_lie_above_resistivity_by_4_to_16_percent() {
    let resistivity = Conductor::Copper.material().resistivity_20c_ohm_m;
    let (mut smallest, mut largest) = (f64::INFINITY, f64::NEG_INFINITY);
    for mm2 in standard_sizes_mm2() {
        for class in [StrandClass::Stranded, StrandClass::Flexible] {
            let maximum = max_resistance_per_m(ConductorSize::Metric { mm2 }, class, Conductor::Copper).ohm_per_m;
            let excess = maximum / (resistivity / (mm2 * 1e-6)) - 1.0;
            smallest = excess.min(smallest);
            largest = excess.max(largest);
        }
    }
    assert!((smallest - (36.0 * 0.5 * 58.0 / 1e3 - 1.0)).abs() < 1e-12, "{smallest}");
    assert!((largest - (7.98 * 2.5 * 58.0 / 1e3 - 1.0)).abs() < 1e-12, "{largest}");
}

/// IEC 60228 Annex B reduces to 20 °C with 254.5/(234.5 + t), IEC 60028 with 0.00393 per K. They agree as far as the
/// three digits of 0.00393 say: half a unit of its last digit times the temperature difference.
#[test]
fn val_iec60228_annex_b_temperature_factor() {
    assert_eq!(Conductor::Copper.material().inferred_zero_c, 234.5);
    for t in [-20.0, 0.0, 20.0, 50.0, 75.0, 90.0, 105.0] {
        let annex_b = (234.5 + t) / 254.5;
        let limit = 0.5e-5 * (t - 20.0_f64).abs() + f64::EPSILON;
        assert!((resistance_at(1.0, t, Conductor::Copper) - annex_b).abs() <= limit, "{t}");
    }
}
