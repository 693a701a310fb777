//! What protects a drive: a breaker, or a fuse in its place.

use std::borrow::Cow;

use serde_json::Value;

use super::description::Drive;
use crate::circuit::Part;
use crate::error::Error;
use crate::parts::{Accumulated, Breaker, Fuse, Reset, TripBand};
use crate::quantity::{Current, Fraction};

/// The protective device of a drive, asked for what breakers and fuses have in common.
///
/// A fuse's integrals are a breaker's of the same band that nobody resets, and so it answers as one; only its name, its
/// words and its part in the circuit are its own.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::parts::Fuse;
/// use stallpoint::tables::trip_gates::FuseClass;
///
/// let mut drive = Drive::from_toml_str(BOAT_LIFT)?;
/// assert_eq!(drive.protection().name(), "breaker");
/// let slowest = drive.protection().trip_time(1.0, 400.0);
/// drive.protect_by(Fuse::of_class(FuseClass::BladeMaxi, "80 A")?)?;
/// assert_eq!((drive.protection().name(), drive.protection().opens()), ("fuse", "blows"));
/// assert!(drive.protection().trip_time(1.0, 400.0) < slowest);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct Protection<'d> {
    fuse: Option<&'d Fuse>,
    /// The breaker, or one that counts as the fuse does.
    counts_as: Cow<'d, Breaker>,
}

impl Protection<'_> {
    /// "breaker" or "fuse": its table in the drive's file, its part in the circuit, the beginning of its two points' names.
    pub fn name(&self) -> &'static str {
        if self.fuse.is_some() { "fuse" } else { "breaker" }
    }

    /// What its event says when it opens: "trips" (a breaker's magnetic element: with more words behind) or "blows".
    pub fn opens(&self) -> &'static str {
        if self.fuse.is_some() { "blows" } else { "trips" }
    }

    /// The fuse, if it is one.
    pub fn fuse(&self) -> Option<&Fuse> {
        self.fuse
    }

    /// The part, as the circuit has it.
    pub fn part(&self) -> Box<dyn Part> {
        self.fuse.map_or_else(|| self.counts_as.boxed(), Part::boxed)
    }

    /// The part at another position of its band, 0 fastest to 1 slowest.
    pub fn part_at(&self, position: f64) -> Box<dyn Part> {
        let band_position = Fraction::from_si(position);
        match self.fuse {
            Some(fuse) => Fuse { band_position, ..fuse.clone() }.boxed(),
            None => Breaker { band_position, ..self.counts_as.as_ref().clone() }.boxed(),
        }
    }

    /// Rated current.
    pub fn rated_current(&self) -> Current {
        self.counts_as.rated_current
    }

    /// Where it sits in its band.
    pub fn band_position(&self) -> f64 {
        self.counts_as.band_position.si()
    }

    /// Its band.
    pub fn band(&self) -> &TripBand {
        &self.counts_as.trip_band
    }

    /// Largest current it may break, where that is given.
    pub fn interrupting_capacity(&self) -> Option<Current> {
        self.counts_as.interrupting_capacity
    }

    /// How it closes again; a fuse never does by itself.
    pub fn reset(&self) -> Reset {
        self.counts_as.reset
    }

    /// Resistance when closed and cold, ohm.
    pub fn closed_resistance(&self) -> f64 {
        match self.fuse {
            Some(fuse) => fuse.resistance_when_cold(),
            None => self.counts_as.contact.closed_resistance.si(),
        }
    }

    /// As [`Breaker::trips_from`].
    pub fn trips_from(&self, position: f64) -> f64 {
        self.counts_as.trips_from(position)
    }

    /// As [`Breaker::trip_time`]; of a fuse the pre-arcing time.
    pub fn trip_time(&self, position: f64, current: f64) -> Option<f64> {
        self.counts_as.trip_time(position, current)
    }

    /// As [`Breaker::accumulate`].
    pub fn accumulate(&self, position: f64, time: &[f64], current: &[f64], from: f64) -> Accumulated {
        self.counts_as.accumulate(position, time, current, from)
    }

    /// Melting I²t for short times of the fastest and the slowest fuse, A²s; none of a breaker.
    pub fn melting_i2t(&self) -> Option<[f64; 2]> {
        self.fuse?.melting_i2t()
    }

    /// The breaker, or one that counts as the fuse does.
    pub(crate) fn counts_as(&self) -> &Breaker {
        &self.counts_as
    }
}

impl Drive {
    /// What protects it.
    ///
    /// A drive with both or neither, which [`check`](Drive::check) refuses, answers with its breaker, or with one that never
    /// trips.
    pub fn protection(&self) -> Protection<'_> {
        match (&self.breaker, &self.fuse) {
            (Some(breaker), _) => Protection { fuse: None, counts_as: Cow::Borrowed(breaker) },
            (None, Some(fuse)) => Protection { fuse: Some(fuse), counts_as: Cow::Owned(fuse.as_breaker()) },
            (None, None) => Protection { fuse: None, counts_as: Cow::Owned(Breaker::that_never_trips()) },
        }
    }

    /// Puts a fuse in the breaker's place, or another fuse in the fuse's. What the drive says of the breaker's two joints and
    /// points goes over to the fuse's.
    ///
    /// # Errors
    /// A fuse that cannot be.
    pub fn protect_by(&mut self, fuse: Fuse) -> Result<(), Error> {
        let mut description = self.to_value()?;
        let table = serde_json::to_value(fuse)
            .map_err(|error| Error::Description { what: "fuse".into(), problem: error.to_string() })?;
        super::set_value(&mut description, "fuse", table)?;
        *self = Self::from_value(description)?;
        Ok(())
    }

    /// The name of a point, a joint or a part in this drive that has the breaker's name in a drive with one: "fuse_in" for
    /// "breaker_in".
    pub(crate) fn own_name(&self, name: &str) -> String {
        match name.strip_prefix("breaker") {
            Some(rest) => format!("{}{rest}", self.protection().name()),
            None => name.into(),
        }
    }
}

/// The two devices: one in the other's place.
const DEVICES: [&str; 2] = ["breaker", "fuse"];

/// Makes room for a whole new table `key` in a drive's description, if it is a protective device: the other one goes, and
/// joints, series resistances and bridges take the new one's names.
pub(crate) fn make_room(description: &mut Value, key: &str) {
    let Some(other) = DEVICES.iter().find(|device| DEVICES.contains(&key) && **device != key) else { return };
    let Some(drive) = description.as_object_mut() else { return };
    if drive.remove(*other).is_none() {
        return;
    }
    let renamed = |name: &str| match name.strip_prefix(other) {
        Some(rest) if rest.is_empty() || rest.starts_with('_') => format!("{key}{rest}"),
        _ => name.to_string(),
    };
    let rename_keys = |table: Option<&mut Value>| {
        let Some(table) = table.and_then(Value::as_object_mut) else { return };
        *table = std::mem::take(table).into_iter().map(|(name, value)| (renamed(&name), value)).collect();
    };
    rename_keys(drive.get_mut("joints"));
    let Some(faults) = drive.get_mut("faults") else { return };
    rename_keys(faults.get_mut("series"));
    let bridges = faults.get_mut("bridges").and_then(Value::as_object_mut);
    for bridge in bridges.into_iter().flat_map(|table| table.values_mut()) {
        for end in ["from", "to"] {
            if let Some(Value::String(point)) = bridge.get_mut(end) {
                *point = renamed(point);
            }
        }
    }
}

/// The other device's name, where `key` is one.
pub(super) fn in_place_of(key: &str) -> Option<&'static str> {
    DEVICES.contains(&key).then(|| DEVICES.into_iter().find(|device| *device != key)).flatten()
}
