//! A coil as a part of its own: its armature stays open.

use super::super::{above_zero, in_range, not_negative};
use super::data::Coil;
use super::winding::{Leads, Position};
use crate::circuit::{At, Part, Path, Power, Probe, Stamp, Terminal, Unknown, electrical, path};
use crate::error::PartError;

const PLUS: usize = 0;
const MINUS: usize = 1;
const LEADS: Leads = Leads { plus: PLUS, minus: MINUS, flux: 2, suppressor: 3 };
const TERMINALS: [Terminal; 2] = [electrical("plus"), electrical("minus")];
const PROBES: [Probe; 2] = [Probe { name: "current", unit: "A" }, Probe { name: "voltage", unit: "V" }];

impl Part for Coil {
    fn kind(&self) -> &'static str {
        "coil"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        above_zero("rated_voltage", self.rated_voltage)?;
        above_zero("resistance", self.resistance)?;
        // Below -234.5 °C copper's straight line would turn its resistance negative.
        let t = self.temperature_c;
        in_range("temperature_c", t, t.si() > -100.0 && t.si() < 400.0, "between -100 degC and 400 degC")?;
        if let Some(open) = self.open_inductance {
            above_zero("open_inductance", open)?;
        }
        if let Some(sealed) = self.sealed_inductance {
            let allowed = format!("at least the open inductance, {} H", self.inductance_open());
            in_range("sealed_inductance", sealed, sealed.si() >= self.inductance_open(), &allowed)?;
        }
        self.suppression.check()?;
        self.suppression_diode.check()?;
        self.faults.check("faults", &self.suppression)?;
        not_negative("core_loss_conductance", self.core_loss_conductance)
    }

    fn unknowns(&self) -> Vec<Unknown> {
        self.winding(&self.faults).unknowns_named("flux", "suppressor_current").to_vec()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let winding = self.winding(&self.faults);
        winding.stamp(at, out, LEADS, winding.flux_current(at, LEADS, Position::OPEN));
    }

    fn paths(&self) -> Vec<Path> {
        vec![path(PLUS, MINUS, self.winding(&self.faults).tie())]
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: 0.0, dissipated: self.winding(&self.faults).lost(at, LEADS, Position::OPEN) }
    }

    fn stored(&self, at: &At) -> f64 {
        self.winding(&self.faults).field(at, LEADS, Position::OPEN)
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        match index {
            0 => self.winding(&self.faults).flux_current(at, LEADS, Position::OPEN).value,
            _ => at.x(PLUS) - at.x(MINUS),
        }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
