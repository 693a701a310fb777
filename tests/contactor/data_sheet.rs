//! A contactor from a file, and what is refused.

use stallpoint::circuit::Part;
use stallpoint::parts::{ContactorDuty, RestPosition, ReversingContactor, Suppression};

use super::drive::contactor;

const FILE: &str = r#"
pull_in_voltage = "8 V"
drop_out_voltage = "4 V"
rest = "open"
making_current = "400 A"
duty = "intermittent"
bounce = []
[coil]
rated_voltage = "12 V"
resistance = "24 ohm"
suppression = { kind = "diode_and_resistor", resistance = "47 ohm" }
"#;

#[test]
fn exact_reads_from_a_file_and_back() {
    let read: ReversingContactor = toml::from_str(FILE).unwrap();
    assert_eq!(read.rest, RestPosition::Open);
    assert_eq!(read.duty, Some(ContactorDuty::Intermittent));
    assert_eq!(read.carrying_current, None);
    assert!(read.interlock && read.bounce.is_empty());
    assert!(matches!(&read.coil.suppression, Suppression::DiodeAndResistor { resistance } if resistance.si() == 47.0));
    let again: ReversingContactor = toml::from_str(&toml::to_string(&read).unwrap()).unwrap();
    assert_eq!(read, again);
}

#[test]
fn exact_refuses_what_cannot_be_and_names_it() {
    let base = || contactor(RestPosition::Braked);
    let named = |part: ReversingContactor, argument: &str| {
        let message = part.check().unwrap_err().to_string();
        assert!(message.contains(argument), "{message}");
    };
    named(ReversingContactor { drop_out_voltage: "8 V".parse().unwrap(), ..base() }, "drop_out_voltage");
    named(ReversingContactor { operate_time: "0 s".parse().unwrap(), ..base() }, "operate_time");
    named(ReversingContactor { bounce: vec!["1 ms".parse().unwrap()], ..base() }, "bounce");
    named(ReversingContactor { breaking_current: Some("0 A".parse().unwrap()), ..base() }, "breaking_current");
    named(ReversingContactor { highest_drop_out_voltage: Some("3 V".parse().unwrap()), ..base() }, "highest_drop_out");
    let mut sealed_below_open = base();
    sealed_below_open.coil.sealed_inductance = Some("0.1 H".parse().unwrap());
    named(sealed_below_open, "sealed_inductance");
    let unknown = FILE.replace("rest = \"open\"", "rest_position = \"open\"");
    assert!(toml::from_str::<ReversingContactor>(&unknown).unwrap_err().to_string().contains("rest_position"));
}
