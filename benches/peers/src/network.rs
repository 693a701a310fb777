//! Matrices for the linear kernels: P1's, and harnesses of growing size. All values invented.

use stallpoint_solve::sparse::Pattern;

use crate::contestant::Dice;
use crate::p1::Matrices;

/// A pattern, and the values of two steps, so that no kernel sees the same matrix twice in a row.
pub struct Network {
    pub name: String,
    pub pattern: Pattern,
    pub values: [Vec<f64>; 2],
}

impl Network {
    /// The values of one turn.
    pub fn of(&self, turn: usize) -> &[f64] {
        &self.values[turn % 2]
    }

    pub fn p1() -> Self {
        let Matrices { pattern, values, .. } = Matrices::new().expect("P1 has a solution at rest");
        Self { name: "P1".to_owned(), pattern, values }
    }

    /// A tree of segments (resistance and inductance, each with its current), a motor (current, speed) at every twelfth
    /// node, and cross ties for one node in fifty; about `size` unknowns. A deep tree grows on near its last nodes (its
    /// longest path is a share of its size), a bushy one anywhere.
    pub fn harness(size: usize, deep: bool) -> Self {
        let mut dice = Dice::new();
        let nodes = (size as f64 / (2.0 + 2.0 / 12.0 + 0.02)).round() as usize;
        // From, to, ohms, henries.
        let mut segments = Vec::new();
        for node in 1..nodes {
            let back = dice.between(0.0, if deep { node.min(8) } else { node } as f64) as usize;
            let parent = node - 1 - back;
            let metres = dice.between(0.5, 5.0);
            segments.push((parent, node, 0.6e-3 * metres, 0.6e-6 * metres));
        }
        for _ in 0..nodes / 50 {
            let from = dice.between(0.0, nodes as f64) as usize;
            let to = (from + dice.between(1.0, 40.0) as usize).min(nodes - 1);
            if from != to {
                segments.push((from, to, 5e-3, 2e-6));
            }
        }
        let motors: Vec<usize> = (0..nodes).skip(6).step_by(12).collect();
        let n = nodes + segments.len() + 2 * motors.len();
        // The entries as (row, column, constant part, part divided by the step).
        let mut entries = vec![(0, 0, 125.0, 0.0)];
        entries.extend((0..nodes).map(|node| (node, node, 1e-6, 0.0)));
        for (k, &(from, to, ohms, henries)) in segments.iter().enumerate() {
            let i = nodes + k;
            entries.extend([(from, i, 1.0, 0.0), (to, i, -1.0, 0.0)]);
            entries.extend([(i, from, -1.0, 0.0), (i, to, 1.0, 0.0), (i, i, ohms, henries)]);
        }
        for (k, &node) in motors.iter().enumerate() {
            let (i, speed) = (nodes + segments.len() + 2 * k, nodes + segments.len() + 2 * k + 1);
            entries.extend([(node, i, 1.0, 0.0), (i, node, -1.0, 0.0), (i, i, 25e-3, 120e-6), (i, speed, 0.045, 0.0)]);
            entries.extend([(speed, i, -0.045, 0.0), (speed, speed, 2e-4, 0.004)]);
        }
        let pattern = Pattern::from_entries(n, entries.iter().map(|entry| (entry.0, entry.1))).expect("places below n");
        let values = [1e-4, 2e-4].map(|step| {
            let mut values = vec![0.0; pattern.nonzeros()];
            for &(row, column, constant, stored) in &entries {
                values[pattern.slot(row, column).expect("a place of the pattern")] += constant + stored / step;
            }
            values
        });
        Self { name: if deep { "deep harness" } else { "bushy harness" }.to_owned(), pattern, values }
    }
}
