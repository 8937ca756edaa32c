//! A part of a rule that has its own syntax: an expression or a sentence.

use serde::{Deserialize, Serialize};

use crate::rules::written::Quoted;

#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum Written<'s, T> {
    /// As text, to be parsed when the rule is checked, which reports its mistakes.
    Written(#[serde(borrow)] Quoted<'s>),
    /// Of a stock rule, parsed when the program was built. It has no places in the file.
    Read(T),
}

impl<'s, T> Written<'s, T> {
    /// The same, parsed. If it cannot be parsed, it stays as text.
    pub fn read<'t, U>(&'t self, read: impl FnOnce(&'t Quoted<'s>) -> Option<U>) -> Written<'t, U> {
        match self {
            Written::Written(quoted) => read(quoted).map_or_else(|| Written::Written(quoted.clone()), Written::Read),
            Written::Read(_) => unreachable!("what a file says is read once"),
        }
    }
}
