//! American wire gauge (ASTM B258).

pub use crate::quantity::{awg_area_m2 as area_m2, awg_diameter_m as diameter_m};
