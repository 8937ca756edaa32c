//! What people and programs get to see: one file for each form, each a function of the same report.
//!
//! No form drops, adds or re-ranks a finding.

mod caution;
mod excerpt;
mod json;
mod look;
mod narrated;
mod place;
mod text;
mod visible;
mod words;
mod wrap;

pub use caution::CAUTION;
pub use json::{json, jsonl};
pub use look::Look;
pub use text::text;
pub use visible::visible;
