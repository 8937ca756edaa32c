//! The small language in which rules ask about facts: typed when a rule is loaded, evaluated without surprises.

mod check;
mod code;
mod compare;
mod eval;
mod message;
mod share;
mod types;

pub use check::Checker;
pub use code::Code;
pub use eval::{Env, Truth, cause, same, truth_of_parts, value};
pub use message::{Message, Verb};
pub use share::{Memo, Words, numbered, share, shared};
pub use types::{Ty, WordsOf, describe_field, with_article};
