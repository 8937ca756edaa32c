//! The small language in which rules ask about facts: parsed, typed when a rule is loaded, evaluated without surprises.

mod ast;
mod check;
mod code;
mod compare;
mod eval;
mod parse;
mod quick;
mod share;
mod types;

pub use check::Checker;
pub use code::{Code, Literal};
pub use eval::{Env, Truth, cause, same, truth_of_parts, value};
pub use parse::{bad_quantity, parse};
pub use share::{Memo, Words, share, shared};
pub use types::{Ty, WordsOf, describe_field, with_article};
