//! Names that come from Python and that the library holds for ever.

use std::collections::BTreeSet;
use std::sync::{Mutex, PoisonError};

/// A text that stays; each is kept once.
pub fn interned(text: &str) -> &'static str {
    static NAMES: Mutex<BTreeSet<&'static str>> = Mutex::new(BTreeSet::new());
    let mut names = NAMES.lock().unwrap_or_else(PoisonError::into_inner);
    names.get(text).copied().unwrap_or_else(|| {
        let kept: &'static str = Box::leak(text.into());
        names.insert(kept);
        kept
    })
}
