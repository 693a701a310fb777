//! Tests behind cold-cranking ratings.

use super::catalogue;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// The test that a battery's cold-cranking current is rated by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CrankingTest {
    /// 30 s to 7.2 V.
    #[default]
    SaeJ537,
    /// 10 s to 7.5 V (and in all 90 s to 6 V at a smaller current).
    #[serde(rename = "en_50342_1")]
    En50342,
    /// 30 s to 9 V.
    #[serde(rename = "din_43539")]
    Din43539,
    /// 60 s to 8.4 V, as in older editions.
    #[serde(rename = "iec_60095_1_old")]
    Iec60095Old,
}

/// What a test asks of a 12 V battery.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrankingLimit {
    /// How long it gives its cold-cranking current, s.
    pub time_s: f64,
    /// Its least voltage at the end of that time, V.
    pub least_voltage_v: f64,
    /// Temperature, °C.
    pub temperature_c: f64,
}

impl CrankingTest {
    /// Every test.
    pub const ALL: [Self; 4] = [Self::SaeJ537, Self::En50342, Self::Din43539, Self::Iec60095Old];

    /// Its name as in files: "sae_j537".
    pub fn name(self) -> &'static str {
        match self {
            Self::SaeJ537 => "sae_j537",
            Self::En50342 => "en_50342_1",
            Self::Din43539 => "din_43539",
            Self::Iec60095Old => "iec_60095_1_old",
        }
    }

    /// What the test asks.
    ///
    /// Source: SAE J537; EN 50342-1; DIN 43539; an older IEC 60095-1.
    ///
    /// ```
    /// let limit = stallpoint::tables::CrankingTest::SaeJ537.limit();
    /// assert_eq!((limit.time_s, limit.least_voltage_v, limit.temperature_c), (30.0, 7.2, -18.0));
    /// ```
    pub fn limit(self) -> CrankingLimit {
        static ROWS: LazyLock<Vec<(String, CrankingLimit)>> = LazyLock::new(|| {
            catalogue::rows("cranking_tests", |t, row| {
                let limit = CrankingLimit {
                    time_s: t.number(row, "time_s")?,
                    least_voltage_v: t.number(row, "least_voltage_v")?,
                    temperature_c: t.number(row, "temperature_c")?,
                };
                Ok((t.text(row, "test")?.to_owned(), limit))
            })
        });
        // Invariant: the tests of the tables ask for every one.
        let found = ROWS.iter().find(|(name, _)| name == self.name());
        found.unwrap_or_else(|| panic!("no row for {}", self.name())).1
    }
}
