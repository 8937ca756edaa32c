//! The report as one page that needs nothing else: it opens from disk, prints, and reads without its script.
//!
//! maud escapes all text; what steers a reader (directions, control characters) is spelled out before that.

mod assemblies;
mod contact;
mod drawings;
mod finding;
mod front;
mod page;
mod prose;
mod sheet;
mod summary;
mod verdict;

pub use drawings::scaled;
pub use prose::prose;

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::sync::Arc;

use jiff::civil::Date;

use crate::facts::NeedFact;
use crate::finding::Finding;
use crate::output::unbroken::unbroken;
use crate::report::{Checked, Report};
use crate::rules::Pack;
use crate::text::{FileId, Source};

/// What the page is made from.
pub struct Input<'a> {
    pub report: &'a Report,
    /// The files with their facts.
    pub checked: &'a [Checked],
    pub needs: &'a [NeedFact],
    pub pack: &'a Pack,
    /// The day of the review, for the reviewer's sheet.
    pub today: Date,
}

/// Writes the whole page.
pub fn html(input: &Input, out: &mut dyn Write) -> io::Result<()> {
    let topics = Topics::new(input.pack);
    let drawings = drawings::Drawings::new(input);
    out.write_all(unbroken(&page::page(input, &topics, &drawings).into_string()).as_bytes())
}

/// What rules are about, by the folder that their file stands in.
pub struct Topics(BTreeMap<Arc<str>, String>);

/// Findings about the text itself have no rule file.
const TEXT: &str = "text of the files";

impl Topics {
    fn new(pack: &Pack) -> Topics {
        let topic = |file: FileId| {
            let name = pack.sources().get(&file).map_or("", |source| source.name.as_str());
            let folders: Vec<&str> = name.split(['/', '\\']).collect();
            folders.iter().rev().nth(1).map_or("rules", |folder| *folder).replace('-', " ")
        };
        Topics(pack.rules.iter().map(|rule| (rule.id.clone(), topic(rule.span.file))).collect())
    }

    fn of(&self, finding: &Finding) -> &str {
        self.0.get(&finding.rule).map_or(TEXT, String::as_str)
    }
}

impl Input<'_> {
    /// A source that the report or a checked file carries.
    fn source(&self, file: FileId) -> Option<&Source> {
        let checked = || self.checked.iter().flat_map(|c| std::iter::once(&c.source).chain(&c.included));
        self.report.sources.get(&file).or_else(|| checked().find(|s| s.id == file)).map(|s| &**s)
    }
}
