//! A requirement at its edge: it passes by a hair, and a hair beyond it alone fails.

use stallpoint::drive::Drive;
use stallpoint::report::{Check, Verdict};
use stallpoint::studies::sizing::{Assessment, Evidence, SizingOptions, assess};

/// A drive by one number, and between which numbers the requirement begins to fail.
pub struct Trial<'a> {
    pub key: &'a str,
    pub drive: &'a dyn Fn(f64) -> Drive,
    pub good: f64,
    pub bad: f64,
    /// Whether the number is a rating, so that the runs need be made once only.
    pub rating: bool,
    pub options: SizingOptions,
}

impl<'a> Trial<'a> {
    pub fn rating(key: &'a str, drive: &'a dyn Fn(f64) -> Drive, good: f64, bad: f64) -> Self {
        Self { key, drive, good, bad, rating: true, options: SizingOptions::default() }
    }

    pub fn circuit(key: &'a str, drive: &'a dyn Fn(f64) -> Drive, good: f64, bad: f64) -> Self {
        Self { rating: false, ..Self::rating(key, drive, good, bad) }
    }

    fn check(&self, number: f64, evidence: Option<&Evidence>) -> Check {
        let drive = (self.drive)(number);
        let found = match evidence {
            Some(evidence) => Assessment::by(&drive, evidence, &self.options),
            None => assess(&drive, &self.options).unwrap(),
        };
        found.of(self.key).unwrap_or_else(|| panic!("no check {}", self.key)).clone()
    }

    /// Finds the edge by false position on the margin and looks at both its sides.
    #[track_caller]
    pub fn hangs_by_a_hair(&self) {
        let evidence = self.rating.then(|| Evidence::gather(&(self.drive)(self.good), &self.options).unwrap());
        let margin = |number: f64| {
            let check = self.check(number, evidence.as_ref());
            check.margin.unwrap_or_else(|| panic!("{} has no margin at {number}: {check:?}", self.key))
        };
        let (mut good, mut bad) = (self.good, self.bad);
        let (mut up, mut down) = (margin(good), margin(bad));
        assert!(up > 0.0 && down < 0.0, "{}: margins {up} and {down} do not bracket the edge", self.key);
        let mut last_up = None;
        for _ in 0..60 {
            if up < 1e-5 && ((bad - good) / good).abs() < 1e-3 {
                break;
            }
            // False position with the stale end halved (Illinois), and a bisection now and then where it creeps.
            let share = (up / (up - down)).clamp(0.05, 0.95);
            let mut middle = good + (bad - good) * share;
            let mut found = margin(middle);
            if found == 0.0 {
                middle += (bad - good) * 1e-4; // the edge itself belongs to either side
                found = margin(middle);
            }
            if found > 0.0 {
                (good, up) = (middle, found);
                if last_up == Some(true) {
                    down *= 0.5;
                }
                last_up = Some(true);
            } else {
                (bad, down) = (middle, found);
                if last_up == Some(false) {
                    up *= 0.5;
                }
                last_up = Some(false);
            }
        }
        self.judge(good, bad);
    }

    /// Both sides of an edge that is known.
    #[track_caller]
    pub fn judge(&self, good: f64, bad: f64) {
        let by_a_hair = assess(&(self.drive)(good), &self.options).unwrap();
        let check = by_a_hair.of(self.key).unwrap();
        assert!(by_a_hair.broken().is_empty(), "{} at {good}: {:?}", self.key, by_a_hair.broken());
        assert_eq!(check.verdict, Verdict::Marginal, "{} at {good}: {check:?}", self.key);
        assert!(check.margin.unwrap() < 1e-3, "{} at {good}: {check:?}", self.key);
        let beyond = assess(&(self.drive)(bad), &self.options).unwrap();
        assert_eq!(beyond.broken(), [self.key], "at {bad}: {:#?}", beyond.of(self.key));
        assert!(beyond.of(self.key).unwrap().margin.unwrap() < 0.0);
    }
}
