//! What is left of a file when it has been reviewed: nothing of its text, unless a finding shows it.

use std::sync::Arc;

use foldhash::{HashMap, HashSet};

use crate::finding::Finding;
use crate::report::{Checked, in_file};
use crate::review::Reviewer;
use crate::review::need::{self, Interface, Wanted};
use crate::text::{FileId, Source};

#[derive(Default)]
pub struct Outcome {
    /// Of the file, as findings show it.
    pub name: String,
    pub findings: Vec<Finding>,
    /// The texts that the findings mention.
    pub sources: Vec<Arc<Source>>,
    /// What its details join, each once.
    pub interfaces: Vec<Arc<Interface>>,
    /// What its sets of drawings ask for.
    pub wanted: Vec<Wanted>,
    /// The texts of all that it includes, directly or not.
    pub included: Vec<Arc<Source>>,
    /// Some of its names come from files that include it.
    pub fragment: bool,
    /// Included fragments, as they read in this file's tree.
    pub fragments: Vec<Outcome>,
    /// A waiver in it ends on some day, so that the outcome depends on the day.
    pub dated: bool,
    /// Each include of its tree led to a text.
    pub whole: bool,
    /// With all facts, when they are to be kept.
    pub checked: Option<Box<Checked>>,
}

impl Outcome {
    /// Of a file that could not be read.
    pub fn unreadable(source: Arc<Source>, finding: Finding) -> Outcome {
        Outcome { name: source.name.clone(), findings: vec![finding], sources: vec![source], ..Outcome::default() }
    }

    pub fn of(reviewer: &Reviewer<'_>, mut checked: Checked, keep: bool) -> Outcome {
        let wanted = need::wanted(reviewer, &checked, keep);
        let interfaces = need::interfaces(&checked);
        let fragments = std::mem::take(&mut checked.fragments)
            .into_iter()
            .map(|part| Outcome { included: Vec::new(), ..Outcome::of(reviewer, part, false) });
        let fragments = fragments.collect();
        let findings = if keep { checked.findings.clone() } else { std::mem::take(&mut checked.findings) };
        let (fragment, dated, whole) = (checked.fragment, checked.dated, checked.whole);
        let (source, included) = (checked.source.clone(), checked.included.clone());
        let checked = keep.then(|| Box::new(checked));
        Outcome { findings, interfaces, wanted, fragment, fragments, dated, whole, checked, ..Outcome::default() }
            .with_texts(&source, included)
    }

    /// It adds nothing to a report, once what its details join and what it includes is known elsewhere.
    pub fn is_silent(&self) -> bool {
        let has_output = !self.findings.is_empty() || !self.wanted.is_empty() || self.checked.is_some();
        !has_output && !self.fragment && self.fragments.is_empty()
    }

    /// Makes it small, for a run that may hold many. A list that was made in the place of another keeps its room, even if
    /// nothing is in it.
    pub fn shrink(&mut self) {
        self.fragments.shrink_to_fit();
        self.sources.shrink_to_fit();
        self.findings.sort_by(in_file);
        self.findings.shrink_to_fit();
        self.findings_mut().for_each(Finding::shrink);
    }

    /// Its findings, and those that depend on what other files have.
    pub fn findings_mut(&mut self) -> impl Iterator<Item = &mut Finding> {
        self.findings.iter_mut().chain(self.wanted.iter_mut().flat_map(Wanted::findings_mut))
    }

    /// Leaves of the texts no more than where their lines begin, for outputs that show no words of them. `known` is what was left of
    /// them elsewhere: many files show places of the same included text.
    pub fn fade(&mut self, known: &mut HashMap<FileId, Arc<Source>>) {
        if self.fragment || !self.fragments.is_empty() {
            return;
        }
        for source in &mut self.sources {
            let faded = || source.faded().map_or_else(|| source.clone(), Arc::new);
            *source = known.entry(source.id).or_insert_with(faded).clone();
        }
    }

    /// With the name of its file and those of the texts that are mentioned.
    pub fn with_texts(mut self, source: &Arc<Source>, included: Vec<Arc<Source>>) -> Outcome {
        if !self.findings.is_empty() || !self.wanted.is_empty() {
            let findings = self.findings.iter().chain(self.wanted.iter().flat_map(Wanted::findings));
            let mentioned: HashSet<FileId> = findings.flat_map(mentions).collect();
            let all = std::iter::once(source).chain(&included);
            self.sources = all.filter(|s| mentioned.contains(&s.id)).cloned().collect();
        }
        Outcome { name: source.name.clone(), included, ..self }
    }
}

fn mentions(finding: &Finding) -> impl Iterator<Item = FileId> + '_ {
    let related = finding.related.iter().map(|related| related.span.file);
    let trail = finding.trail.iter().filter_map(|step| step.span).map(|span| span.file);
    std::iter::once(finding.span.file).chain(related).chain(trail)
}
