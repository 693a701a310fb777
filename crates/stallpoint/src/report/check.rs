//! A requirement held against its limit.

use std::borrow::Cow;
use std::fmt;

/// What a check says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Within the limit.
    Pass,
    /// Within the limit by less than [`Check::MARGINAL`].
    Marginal,
    /// Beyond the limit.
    Fail,
    /// It depends on the device within its trip band.
    May,
    /// A datum is missing; never counts as a pass.
    NotChecked,
}

impl Verdict {
    /// All, worst first: the order of a report.
    pub const ALL: [Self; 5] = [Self::Fail, Self::May, Self::NotChecked, Self::Marginal, Self::Pass];
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.pad(match self {
            Self::Pass => "pass",
            Self::Marginal => "marginal",
            Self::Fail => "fail",
            Self::May => "may",
            Self::NotChecked => "not checked",
        })
    }
}

/// Whether the value must stay below or above its limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The value must not exceed the limit.
    AtMost,
    /// The value must not fall below the limit.
    AtLeast,
}

/// A requirement with value, limit, margin, verdict and the basis of its limit.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Check {
    /// What is required, in one sentence.
    pub requirement: String,
    /// What was found; none when nothing could be.
    pub value: Option<f64>,
    /// The limit; none when the datum is missing.
    pub limit: Option<f64>,
    /// Unit of value and limit.
    pub unit: &'static str,
    /// Relative distance to the limit; positive passes.
    pub margin: Option<f64>,
    /// What it comes to.
    pub verdict: Verdict,
    /// Where the limit comes from, or which datum is missing.
    pub basis: String,
    /// In which run and when.
    pub when: String,
    /// Stable key of the kind of requirement, "nuisance_trip"; several checks of a study may share it.
    pub key: Cow<'static, str>,
    /// At which time of its run, s, where there is one.
    pub time: Option<f64>,
    /// In which corner of the tolerances it was found; none where the drive was as described.
    pub corner: Option<String>,
}

impl Check {
    /// Relative margin below which a pass is marginal (our own convention).
    pub const MARGINAL: f64 = 0.1;

    /// A value against a limit.
    pub fn against(
        requirement: impl Into<String>,
        value: f64,
        side: Side,
        limit: f64,
        unit: &'static str,
        basis: impl Into<String>,
        when: impl Into<String>,
    ) -> Self {
        let distance = match side {
            Side::AtMost => limit - value,
            Side::AtLeast => value - limit,
        };
        // Whatever is finite is as far as can be from a limit that nothing reaches.
        let unlimited = side == Side::AtMost && limit == f64::INFINITY && value.is_finite();
        let margin = if unlimited { 1.0 } else { distance / limit.abs() };
        // NaN must not pass.
        let verdict = if !(margin >= 0.0) {
            Verdict::Fail
        } else if margin < Self::MARGINAL {
            Verdict::Marginal
        } else {
            Verdict::Pass
        };
        Self {
            requirement: requirement.into(),
            value: Some(value),
            limit: Some(limit),
            unit,
            margin: Some(margin),
            verdict,
            basis: basis.into(),
            when: when.into(),
            key: Cow::Borrowed(""),
            time: None,
            corner: None,
        }
    }

    /// A requirement whose limit (or value) is missing: `missing` names the datum.
    pub fn missing(
        requirement: impl Into<String>,
        value: Option<f64>,
        unit: &'static str,
        missing: impl Into<String>,
        when: impl Into<String>,
    ) -> Self {
        Self {
            requirement: requirement.into(),
            value,
            limit: None,
            unit,
            margin: None,
            verdict: Verdict::NotChecked,
            basis: missing.into(),
            when: when.into(),
            key: Cow::Borrowed(""),
            time: None,
            corner: None,
        }
    }

    /// A yes or no: `holds` passes, without a margin.
    pub fn whether(
        requirement: impl Into<String>,
        holds: bool,
        basis: impl Into<String>,
        when: impl Into<String>,
    ) -> Self {
        Self {
            value: Some(f64::from(u8::from(!holds))),
            limit: Some(0.0),
            verdict: if holds { Verdict::Pass } else { Verdict::Fail },
            ..Self::missing(requirement, None, "1", basis, when)
        }
    }

    /// The same under a stable key.
    #[must_use]
    pub fn keyed(mut self, key: impl Into<Cow<'static, str>>) -> Self {
        self.key = key.into();
        self
    }

    /// The same, found at a time of its run, s.
    #[must_use]
    pub fn at_time(mut self, time: f64) -> Self {
        self.time = Some(time);
        self
    }

    /// Whether it counts as met: pass or marginal.
    pub fn met(&self) -> bool {
        matches!(self.verdict, Verdict::Pass | Verdict::Marginal)
    }

    /// Whether it counts as broken: fail, or may (it depends on the device).
    pub fn broken(&self) -> bool {
        matches!(self.verdict, Verdict::Fail | Verdict::May)
    }

    /// Order by how bad: broken before not checked before met, then the least margin first. A broken one without a margin
    /// comes before those with.
    pub fn worse_first(&self, other: &Self) -> std::cmp::Ordering {
        let rank = |check: &Self| match check.verdict {
            Verdict::Fail => 0,
            Verdict::May => 1,
            Verdict::NotChecked => 2,
            Verdict::Marginal | Verdict::Pass => 3,
        };
        // A verdict without a margin: broken is as bad as can be, met as good.
        let margin =
            |check: &Self| check.margin.unwrap_or(if check.broken() { f64::NEG_INFINITY } else { f64::INFINITY });
        rank(self).cmp(&rank(other)).then(margin(self).total_cmp(&margin(other)))
    }

    /// The same with another verdict, where the margin alone does not tell.
    pub fn judged(mut self, verdict: Verdict) -> Self {
        self.verdict = verdict;
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(value: f64, side: Side, limit: f64) -> Check {
        Check::against("r", value, side, limit, "A", "b", "w")
    }

    #[test]
    fn exact_margin_is_the_relative_distance_to_the_limit() {
        assert_eq!(check(80.0, Side::AtMost, 100.0).margin, Some(0.2));
        assert_eq!(check(80.0, Side::AtMost, 100.0).verdict, Verdict::Pass);
        assert_eq!(check(95.0, Side::AtMost, 100.0).verdict, Verdict::Marginal);
        assert_eq!(check(101.0, Side::AtMost, 100.0).verdict, Verdict::Fail);
        assert_eq!(check(9.0, Side::AtLeast, 10.0).verdict, Verdict::Fail);
        assert_eq!(check(12.0, Side::AtLeast, 10.0).margin, Some(0.2));
    }

    #[test]
    fn exact_a_limit_that_nothing_reaches_passes() {
        assert_eq!(check(50.0, Side::AtMost, f64::INFINITY).verdict, Verdict::Pass);
        assert_eq!(check(f64::INFINITY, Side::AtMost, f64::INFINITY).verdict, Verdict::Fail);
    }

    #[test]
    fn exact_nan_never_passes() {
        assert_eq!(check(f64::NAN, Side::AtMost, 1.0).verdict, Verdict::Fail);
        assert_eq!(check(1.0, Side::AtMost, f64::NAN).verdict, Verdict::Fail);
    }
}
