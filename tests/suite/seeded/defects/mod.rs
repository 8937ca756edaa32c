//! Defects with known verdicts. Each verdict is reasoned from the text of the detail and the meaning of the face, and is
//! never what the tool happened to say. A site that differs from its kind says why.

mod bonds;
mod continuity;
mod drainage;
mod edges;
mod fasteners;
mod layers;
mod library;
mod missing;
mod site;

use crate::seeded::text::Edit;

/// One kind of mistake, and where it is made.
pub struct Kind {
    pub name: &'static str,
    /// One of these rules has to report it.
    pub brings: &'static [&'static str],
    pub sites: &'static [Site],
}

/// One mistake: an edit of the statements of an item that begin so.
pub struct Site {
    /// The name of a clean item, or [`EACH`].
    pub item: &'static str,
    pub statement: &'static str,
    pub edit: Edit,
    /// Where it is not what the kind brings; nothing at all where the change does no harm.
    pub brings: Option<&'static [&'static str]>,
    /// What else may come, each with the reason.
    pub also: &'static [(&'static str, &'static str)],
    /// Why nothing has to come.
    pub why: &'static str,
}

/// Every clean item in which the edit has a place.
pub const EACH: &str = "*";

pub const KINDS: &[&[Kind]] = &[
    bonds::KINDS,
    continuity::KINDS,
    drainage::KINDS,
    edges::KINDS,
    fasteners::KINDS,
    layers::KINDS,
    library::KINDS,
    missing::KINDS,
    site::KINDS,
];

/// A mistake that brings what its kind brings.
const fn at(item: &'static str, statement: &'static str, edit: Edit) -> Site {
    Site { item, statement, edit, brings: None, also: &[], why: "" }
}

impl Site {
    const fn brings(self, rules: &'static [&'static str]) -> Site {
        Site { brings: Some(rules), ..self }
    }

    const fn also(self, rules: &'static [(&'static str, &'static str)]) -> Site {
        Site { also: rules, ..self }
    }

    /// The change does no harm here.
    const fn harmless(self, why: &'static str) -> Site {
        Site { brings: Some(&[]), why, ..self }
    }
}
