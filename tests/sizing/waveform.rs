//! Currents as polylines.

use stallpoint::studies::surge::Waveform;

/// 0 A to 100 A in 1 s, 1 s there, a jump to 20 A, 1 s there, back to 60 A in 1 s.
fn wave() -> Waveform {
    Waveform { time: vec![0.0, 1.0, 2.0, 2.0, 3.0, 4.0], value: vec![0.0, 100.0, 100.0, 20.0, 20.0, 60.0] }
}

#[test]
fn exact_the_longest_time_above_a_level() {
    assert_eq!(wave().longest_above(50.0, 50.0), (1.5, 0.5)); // from half way up to the jump
    assert_eq!(wave().longest_above(10.0, 10.0), (3.9, 0.1));
    assert_eq!(wave().longest_above(100.0, 100.0), (0.0, 0.0));
    // Back only at 15 A, it is still above when it has fallen to 20 A.
    assert_eq!(wave().longest_above(50.0, 15.0), (3.5, 0.5));
}

#[test]
fn exact_the_longest_time_below_a_level() {
    assert_eq!(wave().longest_below(50.0, 50.0), (1.75, 2.0)); // from the jump to three quarters of the way up
    assert_eq!(wave().longest_below(50.0, 70.0), (2.0, 2.0));
}

#[test]
fn exact_values_and_beginnings() {
    assert_eq!((wave().at(0.25), wave().at(2.0), wave().at(3.5), wave().at(9.0)), (25.0, 20.0, 40.0, 60.0));
    let beginning = wave().until(3.5);
    assert_eq!((beginning.length(), *beginning.value.last().unwrap()), (3.5, 40.0));
    assert_eq!(wave().until(9.0), wave());
}
