//! How much conductor a drive needs.

use crate::drive::Drive;
use crate::parts::Cable;
use crate::tables::conductors::Conductor;

/// Density of copper and of aluminium, kg/m³ (CRC Handbook of Chemistry and Physics, from memory).
const COPPER: f64 = 8960.0;
const ALUMINIUM: f64 = 2700.0;

/// Mass of the metal in all cables of a drive, kg.
///
/// ```text
/// m = Σ density · area · length        motor leads count twice
/// ```
///
/// Limits: the metal alone, nominal areas; neither insulation nor lugs.
pub fn conductor_mass(drive: &Drive) -> f64 {
    let one = |(name, cable): (&str, &Cable)| {
        let density = if cable.conductor == Conductor::Copper { COPPER } else { ALUMINIUM };
        let runs = if name == "motor_lead" { 2.0 } else { 1.0 };
        runs * density * cable.area_m2() * cable.length.si()
    };
    drive.cables().into_iter().map(one).sum()
}
