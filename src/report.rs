//! What an output may see of a run.

use std::cmp::Ordering;
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use crate::facts::FileFacts;
use crate::finding::{Finding, Level};
use crate::model::{Name, Set};
use crate::text::{FileId, Position, Source, Span};

/// All findings of a run, in the order of reports, with the texts that they point into.
///
/// ```
/// use headlap::{Checker, Date, Texts};
///
/// let mut texts = Texts::new();
/// texts.add("wall.detail", "detial W1 base-of-wall\n");
/// let checker = Checker::stock();
/// let review = checker.review(&texts, ["wall.detail"], Date::constant(2026, 5, 4));
/// let report = review.report();
/// let (file, at) = report.place(report.findings[0].span).expect("its text is there");
/// assert_eq!((file, at.line), ("wall.detail", 1));
/// ```
#[non_exhaustive]
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// By file, line, column, rule; waived ones among them.
    pub findings: Vec<Finding>,
    /// The sources that findings, related places and trails mention.
    pub sources: BTreeMap<FileId, Arc<Source>>,
    /// Files that were checked.
    pub files: usize,
    /// Details that ignore files left out.
    pub left_out: usize,
    /// Rules that were not asked, with the reason.
    pub off: Vec<Off>,
    /// The address of the page on each rule that found something, where the settings say that pages are published.
    pub pages: BTreeMap<Arc<str>, String>,
    /// Edits that were proved to cure findings, by the place of the finding in the list, where they were asked for. They seldom
    /// are, so it takes little room.
    pub proved: Box<BTreeMap<usize, Proved>>,
}

/// An edit that was tried on a copy: it clears its finding, and no other comes.
///
/// ```
/// assert!(headlap::Report::default().proved.is_empty());
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proved {
    /// What it does.
    pub title: String,
    /// The lines that go, each behind `-`, and those that come, behind `+`.
    pub lines: Vec<String>,
}

/// A rule that the settings switch off.
///
/// ```
/// let off = headlap::Off { rule: "flat-lap".into(), folder: None, because: "Our roofs are steep.".into() };
/// assert!(off.folder.is_none());
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Off {
    /// Its id.
    pub rule: Name,
    /// Below this folder alone.
    pub folder: Option<String>,
    /// Why, in the words of the settings.
    pub because: String,
}

/// One file after its review.
pub struct Checked {
    /// Its text.
    pub source: Arc<Source>,
    /// What was worked out of its details and assemblies.
    pub facts: FileFacts,
    /// The sets of drawings that it defines.
    pub sets: Vec<Arc<Set>>,
    /// In no order; of what this file defines.
    pub findings: Vec<Finding>,
    /// The texts of all that it includes, directly or not.
    pub included: Vec<Arc<Source>>,
    /// Each include of its tree led to a text.
    pub whole: bool,
    /// A waiver in it ends on some day, so that the findings depend on the day.
    pub dated: bool,
    /// Some of its names have to come from a file that includes it.
    pub fragment: bool,
    /// Included fragments, reviewed as part of this file's tree.
    pub fragments: Vec<Checked>,
}

/// How many findings there are of each level; waived and known ones count apart.
///
/// ```
/// assert_eq!(headlap::Report::default().summary(), headlap::Summary::default());
/// ```
#[non_exhaustive]
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Summary {
    /// Open ones that are errors.
    pub error: usize,
    /// Open ones that are warnings.
    pub warning: usize,
    /// Open ones that are notes.
    pub note: usize,
    /// Covered by a waiver.
    pub waived: usize,
    /// On the list of known findings.
    pub known: usize,
}

impl Report {
    /// The count of findings.
    pub fn summary(&self) -> Summary {
        let mut summary = Summary::default();
        for finding in &self.findings {
            *match finding.level {
                _ if finding.waived.is_some() => &mut summary.waived,
                _ if finding.listed => &mut summary.known,
                Level::Error => &mut summary.error,
                Level::Warning => &mut summary.warning,
                Level::Note => &mut summary.note,
            } += 1;
        }
        summary
    }

    /// The text that a span is in, if the report carries it.
    pub fn source(&self, span: Span) -> Option<&Source> {
        self.sources.get(&span.file).map(|s| &**s)
    }

    /// The shown file name with line and column.
    pub fn place(&self, span: Span) -> Option<(&str, Position)> {
        self.source(span).map(|s| (s.name.as_str(), s.position(span.start as usize)))
    }

    /// A fingerprint of each finding, in their order: by rule, item, names and numbers and not by place, so
    /// that it survives moved lines and renamed files. Equal findings are numbered on: `….2`, `….3`.
    pub fn fingerprints(&self) -> impl Iterator<Item = String> {
        let mut seen: HashMap<u64, usize> = HashMap::new();
        self.findings.iter().map(move |finding| {
            let print = fingerprint(finding);
            let count = seen.entry(print).or_default();
            *count += 1;
            if *count == 1 { format!("{print:016x}") } else { format!("{print:016x}.{count}") }
        })
    }

    /// Puts findings in the order of reports, whatever the order in which threads made them.
    pub fn sort(&mut self) {
        let name = |span: Span| self.sources.get(&span.file).map_or("", |s| s.name.as_str());
        let order = |a: &Finding, b: &Finding| match a.span.file == b.span.file {
            true => in_file(a, b),
            false => name(a.span).cmp(name(b.span)).then_with(|| in_file(a, b)),
        };
        // To sort takes half as much room again, and mostly they lie in order file by file.
        if !self.findings.is_sorted_by(|a, b| order(a, b).is_le()) {
            let mut findings = std::mem::take(&mut self.findings);
            findings.sort_by(order);
            self.findings = findings;
        }
    }
}

/// The order of findings within a file.
pub fn in_file(a: &Finding, b: &Finding) -> Ordering {
    let start = a.span.start.cmp(&b.span.start);
    let rule = start.then_with(|| a.rule.cmp(&b.rule));
    rule.then_with(|| a.span.end.cmp(&b.span.end)).then_with(|| a.message.cmp(&b.message))
}

/// FNV-1a over what a finding is about: the same on every machine and in every version. The message stands in only
/// where nothing else distinguishes findings, since its wording may change.
pub fn fingerprint(finding: &Finding) -> u64 {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    let mut add = |text: &str| {
        for byte in text.bytes().chain([0]) {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    };
    add(&finding.rule);
    add(finding.item.as_deref().unwrap_or(""));
    finding.subject.iter().for_each(|name| add(name));
    for (name, value) in &finding.values {
        add(name);
        add(value);
    }
    if finding.subject.is_empty() && finding.values.is_empty() {
        add(&finding.message);
    }
    hash
}
