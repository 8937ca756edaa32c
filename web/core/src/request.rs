//! What the page may ask.

use std::collections::BTreeMap;

use serde::Deserialize;

/// One request.
#[derive(Deserialize)]
#[serde(tag = "do", rename_all = "lowercase")]
pub enum Request {
    /// The findings in a file and what it includes, and the drawings of the item at a line of it.
    Review(Shown),
    /// The text of a file in its layout.
    Tidy { text: String },
    /// The drawings of the item at the line, as files.
    Drawings(Shown),
    /// The report as one page.
    Report(Shown),
    /// The fixes of a finding, by its place in the report.
    Cures {
        #[serde(flatten)]
        shown: Shown,
        finding: usize,
    },
    /// What is known of the word at a place.
    About {
        #[serde(flatten)]
        shown: Shown,
        /// From 1, in characters.
        column: usize,
    },
}

/// A file among others, and where the cursor is in it.
#[derive(Deserialize)]
pub struct Shown {
    /// Texts by their names.
    pub files: BTreeMap<String, String>,
    /// Settings and rules by their names: the nearest `headlap.toml` above a file holds for it.
    #[serde(default)]
    pub toml: BTreeMap<String, String>,
    pub name: String,
    /// From 1.
    pub line: usize,
    /// As in 2026-05-04.
    pub today: String,
}
