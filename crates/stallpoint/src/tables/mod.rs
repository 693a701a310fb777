//! Standards' data with their sources.
