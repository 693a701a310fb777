//! A ladder of equal sections: input resistance by continued fraction, node voltages by the same recursion.

use super::build::{resistor, with_source};
use stallpoint::parts::VoltageSource;

#[test]
fn exact_ladder_of_equal_sections() {
    let (series, shunt, volts) = (1.0, 40.0, 12.0);
    for n in [1, 2, 5, 50, 300] {
        let mut circuit = with_source(VoltageSource::constant(volts).unwrap());
        let mut last = "p".to_string();
        for k in 1..=n {
            let node = format!("n{k}");
            resistor(&mut circuit, &format!("series{k}"), series, &last, &node);
            resistor(&mut circuit, &format!("shunt{k}"), shunt, &node, "ground");
            last = node;
        }
        let op = circuit.operating_point().unwrap();
        // z[k]: resistance seen at the input of the last k sections; z = series + 1/(1/shunt + 1/(…)).
        let mut z = vec![f64::INFINITY];
        for k in 0..n {
            z.push(series + 1.0 / (1.0 / shunt + 1.0 / z[k]));
        }
        let input = -volts / op.current("source").unwrap();
        assert!((input / z[n] - 1.0).abs() < 1e-10, "{n} sections: {input} against {}", z[n]);
        let mut exact = volts;
        for k in 1..=n {
            exact *= (z[n - k + 1] - series) / z[n - k + 1];
            let found = op.voltage(&format!("n{k}")).unwrap();
            assert!((found / exact - 1.0).abs() < 1e-10, "{n} sections, node {k}: {found} against {exact}");
        }
    }
}
