//! Several matrices at once against one after the other.

use stallpoint_solve::sparse::{LANES, Lu};

use crate::samples::{Harness, Random};

/// Array of lanes from one array per lane.
fn across(arrays: &[Vec<f64>]) -> Vec<[f64; LANES]> {
    (0..arrays[0].len()).map(|i| std::array::from_fn(|lane| arrays[lane][i])).collect()
}

#[test]
fn prop_lanes_agree_with_one_after_the_other() {
    let mut random = Random(31);
    for (size, deep) in [(30, true), (300, false), (5000, true), (5000, false)] {
        let harness = Harness::new(size, deep, &mut random);
        let matrices: Vec<_> = (0..LANES).map(|_| harness.values(1e-4, 0.1, &mut random)).collect();
        let n = harness.pattern.n();
        let b: Vec<Vec<f64>> = (0..LANES).map(|_| crate::samples::some_vector(n, &mut random)).collect();
        let mut lu = Lu::new(&harness.pattern).unwrap();
        lu.factor(&matrices[0]).unwrap();
        let mut lanes = lu.lanes().unwrap();
        let mut together = across(&b);
        assert_eq!(lanes.factor(&across(&matrices)), [true; LANES]);
        lanes.solve(&mut together);
        for lane in 0..LANES {
            let mut alone = b[lane].clone();
            lu.factor(&matrices[lane]).unwrap();
            lu.solve(&mut alone);
            let top = alone.iter().fold(0.0f64, |top, x| top.max(x.abs()));
            let apart = alone.iter().zip(&together).map(|(x, y)| (x - y[lane]).abs()).fold(0.0, f64::max);
            assert!(apart <= 1e-12 * top, "{n}, lane {lane}: {apart:e} of {top:e}");
        }
    }
}

/// A lane that its pivots do not suit says so and leaves the others alone.
#[test]
fn exact_bad_lanes_are_told() {
    let mut random = Random(32);
    let harness = Harness::new(200, false, &mut random);
    let mut lu = Lu::new(&harness.pattern).unwrap();
    assert!(lu.lanes().is_none(), "no factors yet");
    let values = harness.values(1e-4, 0.0, &mut random);
    lu.factor(&values).unwrap();
    let mut lanes = lu.lanes().unwrap();
    let mut matrices = vec![values.clone(); LANES];
    matrices[1].fill(0.0);
    matrices[2][values.len() / 2] = f64::NAN;
    matrices[3][7] = f64::INFINITY;
    let expected = std::array::from_fn(|lane| !(1..=3).contains(&lane));
    assert_eq!(lanes.factor(&across(&matrices)), expected);
    assert_eq!(lanes.factor(&[]), [false; LANES], "wrong length");
    let mut short = [[1.0; LANES]];
    lanes.solve(&mut short);
    assert!(short[0].iter().all(|x| x.is_nan()));
}
