//! A part of a rule that is in a language of its own: an expression, or a sentence.

use serde::{Deserialize, Serialize};

use crate::rules::written::Quoted;

#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum Written<'s, T> {
    /// To be read when the rule is checked, which reports its mistakes.
    Written(#[serde(borrow)] Quoted<'s>),
    /// Of a stock rule, read when the program was built. It knows no places.
    Read(T),
}

impl<'s, T> Written<'s, T> {
    /// The same, read. What cannot be read stays as it is written.
    pub fn read<'t, U>(&'t self, read: impl FnOnce(&'t Quoted<'s>) -> Option<U>) -> Written<'t, U> {
        match self {
            Written::Written(quoted) => read(quoted).map_or_else(|| Written::Written(quoted.clone()), Written::Read),
            Written::Read(_) => unreachable!("what a file says is read once"),
        }
    }
}
