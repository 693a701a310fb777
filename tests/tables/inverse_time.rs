//! Trip curves against IEC 60255-151 and IEEE C37.112, to every printed digit.

use crate::reference::{assert_prints_as, csv};
use stallpoint::tables::inverse_time::InverseTimeCurve;

#[test]
fn val_eight_curves_at_six_multiples() {
    let rows = csv("inverse_time.csv", 8);
    for (row, curve) in rows.iter().zip(InverseTimeCurve::ALL) {
        assert_eq!(row["curve"].to_lowercase(), curve.name());
        let constants = curve.constants();
        for (column, value) in [("k_or_A", constants.a_s), ("B", constants.b_s), ("alpha_or_p", constants.p)] {
            assert_eq!(row[column].parse::<f64>().unwrap(), value, "{} {column}", curve.name());
        }
        for multiple in ["1.5", "2", "3", "5", "10", "20"] {
            let time = curve.time(multiple.parse().unwrap(), 1.0).unwrap();
            assert_prints_as(time, &row[&format!("t_{multiple}x")], &format!("{} at {multiple}", curve.name()));
        }
    }
}

#[test]
fn val_times_printed_in_a_relay_manual() {
    for row in csv("inverse_time_printed.csv", 19) {
        let multiple: f64 = row["multiple"].parse().unwrap();
        for (column, curve) in [
            ("standard_inverse", InverseTimeCurve::IecStandardInverse),
            ("very_inverse", InverseTimeCurve::IecVeryInverse),
        ] {
            // Three decimals, of which the file leaves out trailing zeros.
            let printed = format!("{:.3}", row[column].parse::<f64>().unwrap());
            assert_prints_as(curve.time(multiple, 1.0).unwrap(), &printed, &format!("{column} at {multiple}"));
        }
    }
}
