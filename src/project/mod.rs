//! The only module that touches files.

mod read;
mod shown;
mod walk;

pub use read::{LARGEST, Unreadable, read};
pub use shown::shown;
pub use walk::{Found, Walked, walk};
