//! Many files at once, and one report of them all.

use std::collections::{BTreeMap, HashSet};
use std::sync::Arc;

use rayon::prelude::*;

use crate::facts::NeedFact;
use crate::facts::vocabulary::Item;
use crate::finding::Finding;
use crate::report::Checked;
use crate::report::Report;
use crate::review::Reviewer;
use crate::review::need::{self, Supply, Wanted};
use crate::rules;
use crate::text::{FileId, Source};

/// A file as it was found.
pub struct Given {
    pub source: Arc<Source>,
    /// Why it could not be read; its source then holds what could be.
    pub unreadable: Option<Finding>,
}

/// A run's report, with what outputs want to show besides.
pub struct Run {
    pub report: Report,
    /// The files in the order of their names, when they were to be kept.
    pub checked: Vec<Checked>,
    /// What the sets of the run need.
    pub needs: Vec<NeedFact>,
}

/// What is left of a file when it has been reviewed: nothing of its text, unless a finding shows it.
struct Outcome {
    name: String,
    findings: Vec<Finding>,
    sources: BTreeMap<FileId, Arc<Source>>,
    supplies: HashSet<Supply>,
    wanted: Vec<Wanted>,
    included: Vec<Arc<Source>>,
    fragment: bool,
    fragments: Vec<Outcome>,
    checked: Option<Checked>,
}

/// Reviews `count` files, each read by `read` when its turn comes, on all cores. The report is the same whatever the
/// number of threads. With `keep`, the facts of every file are returned as well.
pub fn run(reviewer: &Reviewer<'_>, count: usize, read: &(dyn Fn(usize) -> Given + Sync), keep: bool) -> Run {
    let mut outcomes: Vec<Outcome> =
        (0..count).into_par_iter().map(|number| outcome(reviewer, read(number), keep)).collect();
    let included = included_only(&outcomes);
    outcomes.extend(
        included
            .into_par_iter()
            .map(|source| outcome(reviewer, Given { source, unreadable: None }, keep))
            .collect::<Vec<_>>(),
    );
    with_includers(&mut outcomes);
    outcomes.sort_by(|a, b| a.name.cmp(&b.name));
    let mut report = Report { files: outcomes.len(), ..Report::default() };
    let (mut supplies, mut wanted, mut checked) = (HashSet::new(), Vec::new(), Vec::new());
    for outcome in outcomes {
        report.findings.extend(outcome.findings);
        report.sources.extend(outcome.sources);
        supplies.extend(outcome.supplies);
        wanted.extend(outcome.wanted);
        checked.extend(outcome.checked);
    }
    let needs = need::needs(reviewer, &wanted, &supplies);
    report.findings.extend(rules::judge(reviewer.pack, needs.iter().map(Item::Need)));
    report.sort();
    report.findings.dedup();
    Run { report, checked, needs }
}

fn outcome(reviewer: &Reviewer<'_>, given: Given, keep: bool) -> Outcome {
    match given.unreadable {
        Some(finding) => Outcome {
            name: given.source.name.clone(),
            sources: BTreeMap::from([(given.source.id, given.source)]),
            findings: vec![finding],
            supplies: HashSet::new(),
            wanted: Vec::new(),
            included: Vec::new(),
            fragment: false,
            fragments: Vec::new(),
            checked: None,
        },
        None => told(reviewer.check(given.source), keep),
    }
}

fn told(mut checked: Checked, keep: bool) -> Outcome {
    let wanted = need::wanted(&checked);
    let findings = checked.findings.clone();
    let mut mentioned: HashSet<FileId> = findings.iter().flat_map(mentions).collect();
    mentioned.extend(wanted.iter().map(|w| w.need.span.file));
    mentioned.extend(wanted.iter().flat_map(|w| &w.need.assemblies).map(|a| a.name_span.file));
    let all = std::iter::once(&checked.source).chain(&checked.included);
    let sources = all.filter(|s| mentioned.contains(&s.id)).map(|s| (s.id, s.clone())).collect();
    let fragments = std::mem::take(&mut checked.fragments).into_iter().map(|part| told(part, false)).collect();
    Outcome {
        name: checked.source.name.clone(),
        findings,
        sources,
        supplies: need::supplies(&checked),
        wanted,
        included: checked.included.clone(),
        fragment: checked.fragment,
        fragments,
        checked: keep.then_some(checked),
    }
}

fn mentions(finding: &Finding) -> impl Iterator<Item = FileId> + '_ {
    let related = finding.related.iter().map(|related| related.span.file);
    let trail = finding.trail.iter().filter_map(|step| step.span).map(|span| span.file);
    std::iter::once(finding.span.file).chain(related).chain(trail)
}

/// Files that others include and that nobody named: they are part of what is reviewed. Built-in libraries are not.
fn included_only(outcomes: &[Outcome]) -> Vec<Arc<Source>> {
    let named: HashSet<&str> = outcomes.iter().map(|outcome| outcome.name.as_str()).collect();
    let all = outcomes.iter().flat_map(|outcome| &outcome.included);
    let own = all.filter(|source| !crate::model::is_builtin(&source.name));
    let rest: BTreeMap<&str, &Arc<Source>> = own
        .filter(|source| !named.contains(source.name.as_str()))
        .map(|source| (source.name.as_str(), source))
        .collect();
    rest.into_values().cloned().collect()
}

/// A fragment is told as it reads in the files that include it, once for all of them.
fn with_includers(outcomes: &mut [Outcome]) {
    let mut parts: BTreeMap<String, Vec<Outcome>> = BTreeMap::new();
    for outcome in outcomes.iter_mut() {
        for part in std::mem::take(&mut outcome.fragments) {
            parts.entry(part.name.clone()).or_default().push(part);
        }
    }
    for outcome in outcomes.iter_mut().filter(|outcome| outcome.fragment) {
        let Some(parts) = parts.remove(&outcome.name) else { continue };
        outcome.findings.clear();
        outcome.sources.clear();
        for part in parts {
            outcome.findings.extend(part.findings);
            outcome.sources.extend(part.sources);
            outcome.supplies.extend(part.supplies);
        }
    }
}
