//! Sources, rules and a date make a report. Parse, resolve, derive, judge, waive: each step returns what it could make.

mod check;
mod example;
mod need;
mod run;

pub use check::Reviewer;
pub use example::review_text;
pub use run::{Given, Run, run};
