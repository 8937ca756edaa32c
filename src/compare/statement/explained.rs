//! What other changes say of a statement already.

use foldhash::HashSet;

use super::{PlainStatement, what};
use crate::compare::Change;

/// What other changes cover, which say it better than a statement would.
pub(super) struct Explained<'c> {
    pub(super) about: HashSet<&'c str>,
    pub(super) layers: bool,
}

impl<'c> Explained<'c> {
    pub(super) fn of(changes: &'c [Change]) -> Explained<'c> {
        let about: HashSet<&str> = changes.iter().filter_map(|change| change.what.split(',').next()).collect();
        let layers = about.iter().any(|what| what.starts_with("layer ") || what.starts_with("order of layers"));
        Explained { about, layers }
    }

    pub(super) fn covers(&self, statement: &PlainStatement) -> bool {
        match statement.keyword() {
            "seal" => self.about.contains("bead"),
            "fasten" => self.about.contains("fasteners"),
            "exposed" => self.about.contains("days uncovered"),
            "grade" => self.about.contains("finished grade"),
            "layer" => self.layers,
            _ => self.about.contains(&*what(statement)),
        }
    }
}
