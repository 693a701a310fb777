//! Adiabatic withstand against IEC 60364-5-54 and IEC 60949.

use crate::reference::{assert_prints_as, csv, number, toml};
use stallpoint::tables::adiabatic::{Insulation, k_from_temperatures, k_value, minimum_area_mm2};
use stallpoint::tables::conductors::{Conductor, standard_sizes_mm2};

/// The standard's k values, and the same from K, beta and the temperatures, rounded to a whole number as printed.
/// Aluminium's beta is from memory: it is under test here, the printed k is the limit.
#[test]
fn val_k_values_printed_and_from_first_principles() {
    let file = toml("adiabatic.toml");
    let rows = file["k_value"].as_array().unwrap();
    assert_eq!(rows.len(), 5);
    for row in rows.iter().map(|r| r.as_table().unwrap()) {
        let conductor = if row["conductor"].as_str() == Some("Cu") { Conductor::Copper } else { Conductor::Aluminium };
        let name = row["insulation"].as_str().unwrap();
        let insulation = if name.starts_with("PVC 70C") { Insulation::Pvc70 } else { Insulation::Xlpe90 };
        let area = if name.contains(">300") { 400.0 } else { 35.0 };
        let ours = k_value(conductor, insulation, area).unwrap();
        let k = number(row, "k");
        assert_eq!((ours.k, ours.initial_c, ours.final_c), (k, number(row, "ti_C"), number(row, "tf_C")), "{name}");
        let computed = k_from_temperatures(conductor, ours.initial_c, ours.final_c).unwrap();
        assert_prints_as(computed, &format!("{k:.0}"), name);
    }
}

#[test]
fn val_worked_examples_and_the_next_standard_size() {
    let file = toml("adiabatic.toml");
    let examples = file["example"].as_array().unwrap();
    assert_eq!(examples.len(), 2);
    for example in examples.iter().map(|e| e.as_table().unwrap()) {
        let area = minimum_area_mm2(number(example, "I_A"), number(example, "t_s"), number(example, "k"));
        assert_prints_as(area, &format!("{:.1}", number(example, "S_mm2")), "S_mm2");
        let next = standard_sizes_mm2().find(|size| *size >= area).unwrap();
        assert_eq!(next, number(example, "next_standard_mm2"));
    }
}

/// k between other temperatures than the table's own: printed whole numbers of NEN 1010. Aluminium's beta is from memory: it is
/// under test here, the printed k is the limit.
#[test]
fn val_k_between_other_temperatures() {
    for row in csv("adiabatic_nen1010.csv", 12) {
        let conductor = if row["conductor"] == "Cu" { Conductor::Copper } else { Conductor::Aluminium };
        let [initial, last] = ["initial_C", "final_C"].map(|column| row[column].parse().unwrap());
        let computed = k_from_temperatures(conductor, initial, last).unwrap();
        assert_prints_as(computed, &row["k"], &format!("{row:?}"));
    }
}
