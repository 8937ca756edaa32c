//! A comparison of a submittal with the issued details.

mod json;
mod text;

pub use json::json;
pub use text::text;
