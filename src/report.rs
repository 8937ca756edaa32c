//! What an output may see of a run.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::finding::{Finding, Level};
use crate::text::{FileId, Position, Source, Span};

/// All findings of a run, in the order in which they are told, with the texts that they point into.
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// By file, line, column, rule; waived ones among them.
    pub findings: Vec<Finding>,
    /// The sources that findings, related places and trails mention.
    pub sources: BTreeMap<FileId, Arc<Source>>,
    /// Files that were checked.
    pub files: usize,
}

/// How many findings there are of each level; waived ones count apart.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Summary {
    pub error: usize,
    pub warning: usize,
    pub note: usize,
    pub waived: usize,
}

impl Report {
    pub fn summary(&self) -> Summary {
        let mut summary = Summary::default();
        for finding in &self.findings {
            *match (&finding.waived, finding.level) {
                (Some(_), _) => &mut summary.waived,
                (None, Level::Error) => &mut summary.error,
                (None, Level::Warning) => &mut summary.warning,
                (None, Level::Note) => &mut summary.note,
            } += 1;
        }
        summary
    }

    pub fn source(&self, span: Span) -> Option<&Source> {
        self.sources.get(&span.file).map(|s| &**s)
    }

    /// The shown file name with line and column.
    pub fn place(&self, span: Span) -> Option<(&str, Position)> {
        self.source(span).map(|s| (s.name.as_str(), s.position(span.start as usize)))
    }

    /// Puts findings in the order in which they are told, whatever the order in which threads made them.
    pub fn sort(&mut self) {
        let sources = std::mem::take(&mut self.sources);
        let name = |span: Span| sources.get(&span.file).map_or("", |s| s.name.as_str());
        self.findings.sort_by(|a, b| {
            name(a.span)
                .cmp(name(b.span))
                .then_with(|| a.span.start.cmp(&b.span.start))
                .then_with(|| a.rule.cmp(&b.rule))
                .then_with(|| a.span.end.cmp(&b.span.end))
                .then_with(|| a.message.cmp(&b.message))
        });
        self.sources = sources;
    }
}
