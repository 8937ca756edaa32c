//! Sources, rules and a date make a report. Parse, resolve, derive, judge, waive: each step returns what it could make.

mod check;
mod day;
mod example;
mod memory;
mod message;
mod need;
mod outcome;
mod run;

pub use check::Reviewer;
pub use day::Day;
pub use example::{review_alone, review_text};
pub use memory::Memory;
pub use message::Message;
pub use need::Interface;
pub use outcome::Outcome;
pub use run::{Files, Given, Run, run};
