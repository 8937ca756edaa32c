//! Everything that can be worked out from the model: computed once, with no thresholds and no opinions.

pub mod face;
pub mod vocabulary;
