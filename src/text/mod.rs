//! Where words stand: files, byte spans, lines and columns, and the nearest known name.

mod lines;
mod number;
mod set_off;
mod source;
mod span;
mod stored;
mod suggest;

pub use lines::{Lines, Position};
pub use set_off::set_off;
pub use source::Source;
pub use span::{FileId, Span};
pub use suggest::{akin, nearest, only_nearest};
