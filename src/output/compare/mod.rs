//! A comparison of a submittal with the issued details.

mod html;
mod json;
mod text;

pub use html::html;
pub use json::json;
pub use text::text;
