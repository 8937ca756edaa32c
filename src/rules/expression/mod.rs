//! The small language in which rules ask about facts: type-checked when a rule is loaded, so that evaluation cannot fail.

mod check;
mod code;
mod compare;
mod env;
mod eval;
mod lists;
mod message;
mod operate;
mod parts;
mod truth;
mod types;

pub use check::TypeChecker;
pub use code::Code;
pub use env::Env;
pub use eval::{cause, truth_of_parts, value};
pub use lists::CandidateCache;
pub use message::{Message, Verb};
pub use operate::same;
pub use parts::Parts;
pub use truth::Truth;
pub use types::{ExprType, WordsOf, describe_field, with_article};
