//! Tests of the loader and of what every table owes.

use super::*;
use crate::quantity::ConductorSize;

const GOOD: &str = "# source: a standard\n# status: read\na,b\n1,2\n";

#[test]
fn exact_a_good_table_is_read() {
    let table = Table::parse("good", GOOD).unwrap();
    assert_eq!((table.name(), table.source(), table.status_text()), ("good", "a standard", "read"));
    assert_eq!(table.status(0), Some(Status::Read));
    assert_eq!(table.status(1), None);
    assert_eq!(table.number(0, "b"), Ok(2.0));
}

#[test]
fn exact_a_table_without_source_is_refused() {
    let refused = |text: &str| Table::parse("bad", text).unwrap_err();
    let no_source = TableError::NoSource { table: "bad".into() };
    assert_eq!(refused(&GOOD.replace("# source: a standard\n", "")), no_source);
    assert_eq!(refused(&GOOD.replace("a standard", "")), no_source);
    assert_eq!(refused("a,b\n1,2\n# source: too late\n# status: read\n"), no_source);
    assert_eq!(
        no_source.to_string(),
        "table \"bad\" names no source; add a line \"# source: ...\" at its head, \"typical, no source\" if there is none"
    );
}

#[test]
fn exact_other_faults_are_refused() {
    let refused = |from: &str, to: &str| Table::parse("bad", &GOOD.replace(from, to)).unwrap_err();
    let table = || "bad".to_owned();
    assert_eq!(refused("# status: read\n", ""), TableError::NoStatus { table: table() });
    assert_eq!(refused("status: read", "status: sure"), TableError::NoStatus { table: table() });
    assert_eq!(refused("a standard", "typical, no source"), TableError::SourceContradictsStatus { table: table() });
    assert_eq!(refused("1,2\n", ""), TableError::Empty { table: table() });
    assert_eq!(refused("1,2\n", "1\n"), TableError::RowLength { table: table(), row: 1, cells: 1, columns: 2 });
    let odd_status = "# source: a standard\n# status: see the status column\na,status\n1,sure\n";
    assert_eq!(
        Table::parse("bad", odd_status).unwrap_err().to_string(),
        "table \"bad\", row 1, column \"status\": \"sure\" is not a status"
    );
    let nan = Table::parse("bad", &GOOD.replace("1,2", "1,nan")).unwrap();
    assert!(matches!(nan.number(0, "b"), Err(TableError::Cell { .. })));
    assert!(matches!(nan.number(0, "c"), Err(TableError::NoColumn { .. })));
}

#[test]
fn exact_every_file_loads_and_is_in_the_catalogue() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/tables/data");
    let mut files: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| {
            let path = entry.unwrap().path();
            let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
            Table::parse(&name, &std::fs::read_to_string(&path).unwrap()).unwrap_or_else(|e| panic!("{e}"));
            name
        })
        .collect();
    let mut listed: Vec<String> = all().iter().map(|t| t.name().to_owned()).collect();
    files.sort();
    listed.sort();
    assert_eq!(files, listed);
}

#[test]
fn exact_every_typed_view_loads() {
    use conductors::Conductor;
    for metal in [Conductor::Copper, Conductor::Aluminium] {
        assert!(metal.material().resistivity_20c_ohm_m > 0.0);
        assert!(adiabatic::k_from_temperatures(metal, 70.0, 160.0).is_some());
    }
    for curve in inverse_time::InverseTimeCurve::ALL {
        assert!(curve.time(2.0, 1.0).is_some());
        assert_eq!(serde_json::to_value(curve).unwrap(), curve.name());
    }
    for chemistry in Chemistry::ALL {
        let curve = open_circuit_voltage(chemistry);
        assert!(curve.points().windows(2).all(|p| p[0].1 < p[1].1), "{chemistry:?} does not rise");
        assert_eq!((curve.points()[0].0, curve.points().last().unwrap().0), (0.0, 1.0));
    }
    assert_eq!(open_circuit_voltage(Chemistry::AgmLeadAcid).table().name(), "ocv_agm_lead_acid");
    assert_eq!(open_circuit_voltage(Chemistry::LithiumIronPhosphate).cells(), 4);
    assert_eq!(ampacity::trailing_cables().len(), 13);
    assert_eq!(conductors::standard_sizes_mm2().count(), 18);
}

#[test]
fn exact_basis_says_where_a_resistance_comes_from() {
    use conductors::{Conductor, StrandClass, max_resistance_per_m};
    let basis = |size: &str, class, metal| max_resistance_per_m(size.parse().unwrap(), class, metal).basis;
    let (stranded, flexible) = (StrandClass::Stranded, StrandClass::Flexible);
    for (size, class, metal, expected) in [
        ("35 mm2", stranded, Conductor::Copper, "IEC 60228 maximum for 35 mm2 stranded (class 2) copper"),
        ("36 mm2", stranded, Conductor::Copper, "copper resistivity (IEC 60028) over the area of 36 mm2"),
        ("2 AWG", flexible, Conductor::Copper, "copper resistivity (IEC 60028) over the area of 2 AWG (ASTM B258)"),
        ("35 mm2", stranded, Conductor::Aluminium, "IEC 60228 maximum for 35 mm2 stranded (class 2) aluminium"),
        (
            "35 mm2",
            flexible,
            Conductor::Aluminium,
            "aluminium resistivity (IEC 60889, from memory) over the area of 35 mm2",
        ),
        (
            "6 mm2",
            stranded,
            Conductor::Aluminium,
            "aluminium resistivity (IEC 60889, from memory) over the area of 6 mm2",
        ),
    ] {
        assert_eq!(basis(size, class, metal), expected);
    }
    let through_m2 = ConductorSize::Metric { mm2: 35.0 * 1e-6 * 1e6 };
    assert!(max_resistance_per_m(through_m2, stranded, Conductor::Copper).basis.starts_with("IEC 60228"));
}

#[test]
fn exact_names_in_files() {
    use adiabatic::Insulation;
    use conductors::{Conductor, StrandClass};
    assert_eq!(serde_json::from_str::<Conductor>("\"copper\"").unwrap(), Conductor::Copper);
    assert_eq!(serde_json::from_str::<StrandClass>("\"class_5\"").unwrap(), StrandClass::Flexible);
    assert_eq!(serde_json::to_string(&StrandClass::Stranded).unwrap(), "\"stranded\"");
    assert_eq!(serde_json::to_string(&Insulation::Xlpe90).unwrap(), "\"xlpe_90\"");
    assert_eq!(serde_json::to_string(&Insulation::Pvc70).unwrap(), "\"pvc_70\"");
    assert_eq!(serde_json::to_string(&Chemistry::FloodedLeadAcid).unwrap(), "\"flooded_lead_acid\"");
}

#[test]
fn exact_piecewise_meets_points_and_goes_on_outside() {
    let curve = PiecewiseLinear::new(vec![(0.0, 1.0), (1.0, 3.0), (3.0, 4.0)]).unwrap();
    for (x, value, slope) in [(-1.0, -1.0, 2.0), (0.0, 1.0, 2.0), (0.5, 2.0, 2.0), (1.0, 3.0, 0.5), (5.0, 5.0, 0.5)] {
        assert_eq!((curve.value(x), curve.slope(x)), (value, slope), "at {x}");
    }
    assert_eq!(PiecewiseLinear::new(vec![(0.0, 1.0)]), None);
    assert_eq!(PiecewiseLinear::new(vec![(0.0, 1.0), (0.0, 2.0)]), None);
    assert_eq!(PiecewiseLinear::new(vec![(0.0, 1.0), (f64::NAN, 2.0)]), None);
}

#[test]
fn exact_inverse_time_never_trips_at_or_below_the_setting() {
    use inverse_time::InverseTimeCurve;
    for curve in InverseTimeCurve::ALL {
        for multiple in [1.0, 0.5, 0.0, -2.0, f64::NAN, f64::NEG_INFINITY] {
            assert_eq!(curve.time(multiple, 1.0), None);
        }
        let half = curve.time(3.0, 0.5).unwrap();
        assert!((curve.time(3.0, 1.0).unwrap() - 2.0 * half).abs() < 1e-12);
    }
    // Very inverse is A/(M - 1) exactly, also a hair above the setting.
    let just_above = 1.0 + 1e-9;
    let time = InverseTimeCurve::IecVeryInverse.time(just_above, 1.0).unwrap();
    assert!((time / (13.5 / (just_above - 1.0)) - 1.0).abs() < 1e-12);
}

#[test]
fn exact_adiabatic_limits() {
    use adiabatic::{Insulation, k_from_temperatures, k_value};
    use conductors::Conductor;
    let k = |metal, insulation, area| k_value(metal, insulation, area).map(|v| v.k);
    assert_eq!(k(Conductor::Copper, Insulation::Pvc70, 300.0), Some(115.0));
    assert_eq!(k(Conductor::Copper, Insulation::Pvc70, 301.0), Some(103.0));
    assert_eq!(k(Conductor::Aluminium, Insulation::Pvc70, 301.0), None);
    assert_eq!(k_from_temperatures(Conductor::Copper, 160.0, 70.0), None);
    assert_eq!(k_from_temperatures(Conductor::Copper, 70.0, 70.0), None);
    assert_eq!(k_from_temperatures(Conductor::Copper, -300.0, 70.0), None);
    assert_eq!(k_from_temperatures(Conductor::Copper, f64::NAN, 70.0), None);
}
