//! Root mean square of a profile.

/// The root mean square of straight pieces, each `(duration, value at its start, value at its end)`: the constant load that
/// heats as much, where losses go with its square.
///
/// Returns NaN without a piece.
///
/// # Example
/// ```
/// use stallpoint::studies::duty::rms;
///
/// assert_eq!(rms(&[(3.0, 4.0, 4.0), (1.0, 0.0, 0.0)]), (0.75_f64 * 16.0).sqrt());
/// assert!((rms(&[(1.0, 0.0, 3.0)]) - 3.0_f64.sqrt()).abs() < 1e-12);
/// ```
pub fn rms(pieces: &[(f64, f64, f64)]) -> f64 {
    let squares: f64 = pieces.iter().map(|&(t, a, b)| t * (a * a + a * b + b * b) / 3.0).sum();
    let whole: f64 = pieces.iter().map(|piece| piece.0).sum();
    (squares / whole).sqrt()
}
