//! The equations: Kirchhoff's current law at the nodes (currents that leave are positive), then branches and states.

use stallpoint_solve::Evaluation;

use super::contact::diode;
use super::drive::Drive;
use super::jacobian::Slopes;
use super::modes::{A_MINUS, A_PLUS, B_PLUS, CONTROL, ENDS};
use super::parameters::*;
use super::unknowns::*;

impl Drive {
    pub(super) fn equations(&self, t: f64, x: &[f64], jacobian: bool, out: &mut Evaluation) {
        let (Ok(x), Ok(f), Ok(q)) = (
            <&[f64; N]>::try_from(x),
            <&mut [f64; N]>::try_from(&mut out.f[..]),
            <&mut [f64; N]>::try_from(&mut out.q[..]),
        ) else {
            panic!("the solver evaluates at as many unknowns as the pattern has");
        };
        let contact = |k: usize| self.gaps[k].law(x[ENDS[k].0] - x[ENDS[k].1]);
        let contacts = [contact(A_PLUS), contact(A_MINUS), contact(B_PLUS), contact(CONTROL)];
        let [a_plus, a_minus, b_plus, control] = contacts.map(|(i, _)| i);
        let b_minus = G_CLOSED * (x[VMB] - x[VN]);
        let (suppressed, suppression) = diode(x[VN] - x[VK]);
        let per_henry = 1.0 / self.relay.inductance(t);
        let coil = x[LAM] * per_henry;
        let core = self.variant.core_loss * (x[VK] - x[VN]);
        let ra = RA_20 * (1.0 + COPPER_PER_K * (x[TW] - AMBIENT));
        let armature = (x[VMA] - x[VA1]) / ra;
        let brush = (x[IM] / BRUSH_CURRENT).tanh();
        let load = (x[OM] / LOAD_SPEED).tanh();

        let isolator = G_ISOLATOR * (x[VB] - x[VD]);
        let j1 = G_JOINT * (x[VD] - x[VBI]);
        let breaker = G_BREAKER * (x[VBI] - x[VBO]);
        let j2 = G_JOINT * (x[VBO] - x[VC0]);
        let cable = G_CABLE / self.variant.stretch() * (x[VC0] - x[VC1]);
        let j3 = G_JOINT * (x[VC2] - x[VP]);
        let back = G_RETURN * (x[VN] - x[VR1]);
        let j4 = G_JOINT * (x[VR2] - x[VG]);

        f[VB] = isolator - x[IB];
        f[VD] = j1 - isolator;
        f[VBI] = breaker + control - j1;
        f[VBO] = j2 - breaker;
        f[VC0] = cable - j2;
        f[VC1] = x[IL1] - cable;
        f[VC2] = j3 - x[IL1];
        f[VP] = a_plus + b_plus - j3;
        f[VMA] = a_minus + armature - a_plus;
        f[VMB] = b_minus - b_plus - x[IM];
        f[VN] = back + suppressed - a_minus - b_minus - coil - core;
        f[VR1] = x[IR] - back;
        f[VR2] = j4 - x[IR];
        f[VG] = x[VG] / self.variant.ground_joint - j4;
        f[VK] = coil + core - control - suppressed;
        f[VA1] = x[IM] - armature;
        f[VA2] = x[VA2] - x[VMB] - KE * x[OM] - BRUSH * brush;
        f[IB] = x[VB] - OCV + R0 * x[IB] + x[U1];

        f[U1] = x[U1] / R1 - x[IB];
        f[IL1] = x[VC2] - x[VC1];
        f[IM] = x[VA2] - x[VA1];
        f[IR] = x[VR2] - x[VR1];
        f[LAM] = R_COIL * coil + x[VN] - x[VK];
        f[OM] = FRICTION * x[OM] + LOAD * load - KE * x[IM];
        f[TW] = (x[TW] - AMBIENT) / WINDING_K_PER_W - ra * x[IM] * x[IM];
        let hot = breaker / BREAKER_CURRENT;
        f[TH] = x[TH] - hot * hot;

        q[U1] = C1 * x[U1];
        q[IL1] = L_CABLE * self.variant.stretch() * x[IL1];
        q[IM] = LA * x[IM];
        q[IR] = L_RETURN * x[IR];
        q[LAM] = x[LAM];
        q[OM] = INERTIA * x[OM];
        q[TW] = WINDING_HEAT * x[TW];
        q[TH] = BREAKER_TIME * x[TH];

        if jacobian {
            let slopes = Slopes {
                contacts: contacts.map(|(_, slope)| slope),
                suppression,
                per_henry,
                armature: 1.0 / ra,
                armature_by_temperature: -armature / ra * RA_20 * COPPER_PER_K,
                brush: BRUSH / BRUSH_CURRENT * (1.0 - brush * brush),
                load: LOAD / LOAD_SPEED * (1.0 - load * load),
                heat_by_current: 2.0 * ra * x[IM],
                heat_by_temperature: RA_20 * COPPER_PER_K * x[IM] * x[IM],
                trip: 2.0 * hot / BREAKER_CURRENT * G_BREAKER,
            };
            self.jacobian.write(&slopes, out);
        }
    }
}
