//! The installation sequence of a detail: the steps in the order of its lines, with what each of them needs.
//!
//! The lines of a detail are its order of installation. Here they are written for the people who install it: what goes
//! where, what must stay loose and until when, what to check before it is covered, and whether it can be built so at all.

mod cure;
mod markdown;
mod narrated;
mod problem;
mod step;
mod text;
mod words;

pub use markdown::markdown;
pub use narrated::narrated;
pub use problem::{Problem, SequenceChange};
pub use step::{numbers, seal_number};
pub use text::text;
pub use words::bead_name;

use crate::facts::DetailFacts;

/// The installation sequence of one detail.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sequence {
    /// Name and title of the detail.
    pub name: String,
    pub title: Option<String>,
    pub sheet: Option<String>,
    /// What holds for the whole work: temperature, days uncovered.
    pub limits: Vec<String>,
    pub steps: Vec<InstallationStep>,
    /// Why the drawn order cannot be built or leads water inward, and what would cure it.
    pub problems: Vec<String>,
    pub notes: Vec<String>,
}

/// One step.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct InstallationStep {
    /// What to do, a whole sentence.
    pub act: String,
    /// What it laps over, and by how much: a drawing shows that too.
    pub laps: Vec<String>,
    /// How else: behind what, bonds, primers, places.
    pub how: Vec<String>,
    /// In which air, as its maker asks.
    pub air: Option<String>,
    /// What to check before it is covered.
    pub hold: Vec<String>,
    /// Cautions that belong to the step.
    pub cautions: Vec<String>,
}

impl InstallationStep {
    /// All of how it is done.
    pub fn manner(&self) -> impl Iterator<Item = &String> {
        self.laps.iter().chain(&self.how).chain(&self.air)
    }
}

/// The installation sequence in the order of a detail's lines.
pub fn sequence(facts: &DetailFacts) -> Sequence {
    let detail = &facts.detail;
    Sequence {
        name: detail.name.to_string(),
        title: detail.title.clone(),
        sheet: detail.sheet.clone(),
        limits: step::limits(facts),
        steps: step::steps(facts),
        problems: cure::problems(facts),
        notes: detail.notes.clone(),
    }
}
