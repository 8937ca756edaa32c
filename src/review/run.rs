//! Many files at once, and one report of them all.

use std::collections::BTreeMap;
use std::panic::AssertUnwindSafe;
use std::sync::{Arc, Mutex};

use foldhash::{HashMap, HashSet};

use crate::facts::NeedFact;
use crate::finding::{Finding, Id};
use crate::model::is_builtin;
use crate::report::{Checked, Report};
use crate::review::need::Answers;
use crate::review::{Message, Outcome, Reviewer};
use crate::rules;
use crate::text::{FileId, Source, Span};
use crate::threads;

/// The files of a run. They are asked for one by one, so that not all of them have to be held at once.
pub struct Files<'a> {
    pub count: usize,
    /// Reads one when its turn comes.
    pub read: &'a (dyn Fn(usize) -> Given + Sync),
    /// One of them has this name.
    pub has: &'a (dyn Fn(&str) -> bool + Sync),
}

/// A file as it was found.
pub enum Given {
    /// Its text, to be reviewed.
    Text(Arc<Source>),
    /// Why it could not be read; the source holds what could be.
    Unreadable(Arc<Source>, Finding),
    /// The outcome of an earlier review of the same texts under the same rules.
    Known(Outcome),
}

/// A run's report, with what outputs want to show besides.
#[derive(Default)]
pub struct Run {
    pub report: Report,
    /// The files in the order of their names, when they were to be kept.
    pub checked: Vec<Checked>,
    /// What the sets of the run need.
    pub needs: Vec<NeedFact>,
}

impl Run {
    /// Runs over several libraries as one.
    pub fn together(runs: Vec<Run>) -> Run {
        let mut runs = runs.into_iter();
        let mut all = runs.next().unwrap_or_default();
        let before = all.report.findings.len();
        for run in runs {
            all.report.findings.extend(run.report.findings);
            all.report.sources.extend(run.report.sources);
            all.report.files += run.report.files;
            all.report.left_out += run.report.left_out;
            all.report.off.extend(run.report.off);
            // Of two libraries with pages of their own, the first explains what both have found.
            run.report.pages.into_iter().for_each(|(rule, page)| {
                all.report.pages.entry(rule).or_insert(page);
            });
            all.checked.extend(run.checked);
            all.needs.extend(run.needs);
        }
        if all.report.findings.len() > before {
            all.report.sort();
            all.report.findings.dedup();
        }
        all.checked.sort_by(|a, b| a.source.name.cmp(&b.source.name));
        all
    }

    /// The names of all details and assemblies, when the facts were kept.
    pub fn names(&self) -> impl Iterator<Item = &str> + Clone {
        self.checked.iter().flat_map(|file| {
            let details = file.facts.details.iter().map(|facts| &*facts.detail.name);
            details.chain(file.facts.assemblies.iter().map(|facts| &*facts.assembly.name))
        })
    }
}

/// Reviews files on all cores. The report is the same whatever the number of threads. With `keep`, the facts of every
/// file are returned as well.
pub fn run(reviewer: &Reviewer<'_>, files: &Files<'_>, keep: bool) -> Run {
    let shared = Shared::default();
    let one = |given: Given| {
        let mut outcome = outcome(reviewer, given, keep);
        outcome.shrink();
        shared.take(&mut outcome, files);
        if !reviewer.texts && !keep {
            outcome.fade(&mut shared.faded.lock().expect("no thread panics here"));
        }
        if !outcome.wanted.is_empty() {
            shared.wait(outcome);
            return None;
        }
        (!outcome.is_silent()).then(|| Box::new(outcome))
    };
    let mut outcomes = threads::filter_map(0..files.count, |number| one((files.read)(number)));
    let included = shared.included_besides();
    let mut report = Report { files: files.count + included.len(), ..Report::default() };
    outcomes.extend(threads::filter_map(included, |source| one(Given::Text(source))));
    let waiting = std::mem::take(&mut shared.waiting.lock().expect("no thread panics here").outcomes);
    outcomes.extend(waiting.into_iter().map(Box::new));
    with_includers(&mut outcomes);
    outcomes.sort_by(|a, b| a.name.cmp(&b.name));
    let answers = shared.answers.into_inner().expect("no thread panics here");
    let (mut needs, mut checked) = (Vec::new(), Vec::new());
    report.findings.reserve_exact(outcomes.iter().map(|outcome| outcome.findings.len()).sum());
    for outcome in outcomes {
        report.findings.extend(outcome.findings);
        report.sources.extend(outcome.sources.into_iter().map(|source| (source.id, source)));
        let mut of_needs = Vec::new();
        for (findings, fact) in outcome.wanted.into_iter().map(|wanted| wanted.answered(&answers)) {
            of_needs.extend(findings);
            needs.extend(fact);
        }
        rules::group_by_cause(&mut of_needs);
        report.findings.extend(of_needs);
        checked.extend(outcome.checked.map(|checked| *checked));
    }
    report.sort();
    report.findings.dedup();
    Run { report, checked, needs }
}

fn outcome(reviewer: &Reviewer<'_>, given: Given, keep: bool) -> Outcome {
    match given {
        Given::Unreadable(source, finding) => Outcome::unreadable(source, finding),
        Given::Known(outcome) => outcome,
        Given::Text(source) => {
            let review = || {
                let outcome = Outcome::of(reviewer, reviewer.check(source.clone()), keep);
                reviewer.remember(&source, &outcome);
                outcome
            };
            // One file must not take the others along. What it touched besides itself is only ever added to.
            std::panic::catch_unwind(AssertUnwindSafe(review)).unwrap_or_else(|_| {
                let finding = Message::Failed.at(Span::new(source.id, 0, 0));
                Outcome::unreadable(source.clone(), finding)
            })
        }
    }
}

/// Outcomes with needs that nothing had met when they were last looked through.
#[derive(Default)]
struct Waiting {
    outcomes: Vec<Outcome>,
    /// How many there are when they are looked through again.
    swept_at: usize,
}

/// The fewest outcomes among which it is worth while to look for some that are settled.
const SWEPT: usize = 64;

/// What many files say alike, kept once: memory must not grow with what they repeat.
#[derive(Default)]
struct Shared {
    answers: Mutex<Answers>,
    words: Mutex<HashSet<Arc<str>>>,
    /// Outcomes with needs that nothing has met yet.
    waiting: Mutex<Waiting>,
    /// What is left of texts whose places are shown.
    faded: Mutex<HashMap<FileId, Arc<Source>>>,
    /// Files that others include and that the command did not name: they are part of what is reviewed.
    included: Mutex<BTreeMap<String, Arc<Source>>>,
}

impl Shared {
    fn take(&self, outcome: &mut Outcome, files: &Files<'_>) {
        let mut words = self.words.lock().expect("no thread panics here");
        let mut shared = |word: &Arc<str>| match words.get(word) {
            Some(known) => known.clone(),
            None => {
                words.insert(word.clone());
                word.clone()
            }
        };
        let mut answers = self.answers.lock().expect("no thread panics here");
        let joined = std::iter::once(&*outcome).chain(&outcome.fragments).flat_map(|part| &part.interfaces);
        joined.for_each(|interface| answers.add(interface, &mut shared));
        outcome.wanted.retain_mut(|wanted| wanted.settle(&answers));
        drop(answers);
        outcome.findings_mut().flat_map(Finding::words).for_each(|word| *word = shared(word));
        drop(words);
        outcome.interfaces = Vec::new();
        let mut known = self.included.lock().expect("no thread panics here");
        for source in std::mem::take(&mut outcome.included) {
            // Built-in libraries are not reviewed.
            if !is_builtin(&source.name) && !known.contains_key(&source.name) && !(files.has)(&source.name) {
                known.insert(source.name.clone(), source);
            }
        }
    }

    /// Files that meet a need mostly stand close to the set that has it: whenever there are twice as many, those that have nothing left to
    /// say go.
    fn wait(&self, outcome: Outcome) {
        let mut waiting = self.waiting.lock().expect("no thread panics here");
        waiting.outcomes.push(outcome);
        if waiting.outcomes.len() >= waiting.swept_at.max(SWEPT) {
            let answers = self.answers.lock().expect("no thread panics here");
            waiting.outcomes.retain_mut(|outcome| {
                outcome.wanted.retain_mut(|wanted| wanted.settle(&answers));
                !outcome.is_silent()
            });
            waiting.swept_at = 2 * waiting.outcomes.len();
        }
    }

    fn included_besides(&self) -> Vec<Arc<Source>> {
        std::mem::take(&mut *self.included.lock().expect("no thread panics here")).into_values().collect()
    }
}

/// A fragment is reported as it reads in the files that include it, once for all of them. An include of its own that fails is reported
/// all the same: others may happen to bring what it was to bring.
fn with_includers(outcomes: &mut [Box<Outcome>]) {
    let mut parts: BTreeMap<String, Vec<Outcome>> = BTreeMap::new();
    for outcome in outcomes.iter_mut() {
        for part in std::mem::take(&mut outcome.fragments) {
            parts.entry(part.name.clone()).or_default().push(part);
        }
    }
    for outcome in outcomes.iter_mut().filter(|outcome| outcome.fragment) {
        let Some(parts) = parts.remove(&outcome.name) else { continue };
        outcome.findings.retain(|finding| *finding.rule == *Id::IncludeFailed.word());
        if outcome.findings.is_empty() {
            outcome.sources.clear();
        }
        outcome.wanted.clear();
        for part in parts {
            outcome.findings.extend(part.findings);
            outcome.sources.extend(part.sources);
            outcome.wanted.extend(part.wanted);
        }
    }
}
