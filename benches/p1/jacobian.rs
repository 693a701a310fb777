//! Pattern and analytic Jacobian: a constant part, and the slopes of what is non-linear or switched.

use stallpoint_solve::Evaluation;
use stallpoint_solve::sparse::Pattern;

use super::modes::ENDS;
use super::parameters::*;
use super::unknowns::*;

/// Slopes at one evaluation.
pub struct Slopes {
    pub contacts: [f64; 4],
    pub suppression: f64,
    pub per_henry: f64,
    pub armature: f64,
    pub armature_by_temperature: f64,
    pub brush: f64,
    pub load: f64,
    pub heat_by_current: f64,
    pub heat_by_temperature: f64,
    pub trip: f64,
}

/// Two-terminal elements of changing slope: the contacts, the diode, the armature.
const BRANCHES: [(usize, usize); 6] = [ENDS[0], ENDS[1], ENDS[2], ENDS[3], (VN, VK), (VMA, VA1)];

/// Single entries of changing slope, in the order in which [`Jacobian::write`] adds them.
const SINGLES: [(usize, usize); 11] = [
    (VN, LAM),
    (VK, LAM),
    (LAM, LAM),
    (VMA, TW),
    (VA1, TW),
    (VA2, IM),
    (OM, OM),
    (TW, IM),
    (TW, TW),
    (TH, VBI),
    (TH, VBO),
];

/// The pattern, the constant parts and where the slopes go.
#[derive(Debug, Clone)]
pub struct Jacobian {
    pub pattern: Pattern,
    df: Vec<f64>,
    dq: Vec<f64>,
    branches: [[usize; 4]; 6],
    singles: [usize; 11],
}

impl Jacobian {
    pub fn new(variant: &Variant) -> Self {
        let constant = constant(variant);
        let branches = BRANCHES.iter().flat_map(|&(a, b)| corners(a, b));
        let diagonal = (0..N).map(|i| (i, i));
        let places =
            constant.iter().map(|&(i, j, _)| (i, j)).chain(branches).chain(SINGLES).chain(diagonal).collect::<Vec<_>>();
        let pattern = Pattern::from_entries(N, places).expect("indices below N");
        let slot = |(i, j)| pattern.slot(i, j).expect("the pattern holds every place");
        let mut df = vec![0.0; pattern.nonzeros()];
        for (i, j, value) in constant {
            df[slot((i, j))] += value;
        }
        let mut dq = vec![0.0; pattern.nonzeros()];
        let storage = [C1, L_CABLE * variant.stretch(), LA, L_RETURN, 1.0, INERTIA, WINDING_HEAT, BREAKER_TIME];
        for (i, value) in (U1..).zip(storage) {
            dq[slot((i, i))] = value;
        }
        let branches = BRANCHES.map(|(a, b)| corners(a, b).map(slot));
        let singles = SINGLES.map(slot);
        Self { pattern, df, dq, branches, singles }
    }

    /// Writes both Jacobians.
    pub fn write(&self, slopes: &Slopes, out: &mut Evaluation) {
        out.dq.copy_from_slice(&self.dq);
        out.df.copy_from_slice(&self.df);
        let [a, b, c, d] = slopes.contacts;
        let branches = [a, b, c, d, slopes.suppression, slopes.armature];
        for (slots, slope) in self.branches.iter().zip(branches) {
            for (&slot, signed) in slots.iter().zip([slope, -slope, -slope, slope]) {
                out.df[slot] += signed;
            }
        }
        let singles = [
            -slopes.per_henry,
            slopes.per_henry,
            R_COIL * slopes.per_henry,
            slopes.armature_by_temperature,
            -slopes.armature_by_temperature,
            -slopes.brush,
            slopes.load,
            -slopes.heat_by_current,
            -slopes.heat_by_temperature,
            -slopes.trip,
            slopes.trip,
        ];
        for (&slot, slope) in self.singles.iter().zip(singles) {
            out.df[slot] += slope;
        }
    }
}

/// Places of a two-terminal element: (a, a), (a, b), (b, a), (b, b).
fn corners(a: usize, b: usize) -> [(usize, usize); 4] {
    [(a, a), (a, b), (b, a), (b, b)]
}

/// The constant entries of `df/dx`, to be added up.
fn constant(variant: &Variant) -> Vec<(usize, usize, f64)> {
    let mut entries = Vec::new();
    for (a, b, g) in [
        (VB, VD, G_ISOLATOR),
        (VD, VBI, G_JOINT),
        (VBI, VBO, G_BREAKER),
        (VBO, VC0, G_JOINT),
        (VC0, VC1, G_CABLE / variant.stretch()),
        (VC2, VP, G_JOINT),
        (VN, VR1, G_RETURN),
        (VR2, VG, G_JOINT),
        (VMB, VN, G_CLOSED),
        (VK, VN, variant.core_loss),
    ] {
        entries.extend(corners(a, b).into_iter().zip([g, -g, -g, g]).map(|((i, j), value)| (i, j, value)));
    }
    entries.extend([
        (VB, IB, -1.0),
        (VC1, IL1, 1.0),
        (VC2, IL1, -1.0),
        (VMB, IM, -1.0),
        (VR1, IR, 1.0),
        (VR2, IR, -1.0),
        (VG, VG, 1.0 / variant.ground_joint),
        (VA1, IM, 1.0),
        (VA2, VA2, 1.0),
        (VA2, VMB, -1.0),
        (VA2, OM, -KE),
        (IB, VB, 1.0),
        (IB, IB, R0),
        (IB, U1, 1.0),
        (U1, U1, 1.0 / R1),
        (U1, IB, -1.0),
        (IL1, VC2, 1.0),
        (IL1, VC1, -1.0),
        (IM, VA2, 1.0),
        (IM, VA1, -1.0),
        (IR, VR2, 1.0),
        (IR, VR1, -1.0),
        (LAM, VN, 1.0),
        (LAM, VK, -1.0),
        (OM, OM, FRICTION),
        (OM, IM, -KE),
        (TW, TW, 1.0 / WINDING_K_PER_W),
        (TH, TH, 1.0),
    ]);
    entries
}
