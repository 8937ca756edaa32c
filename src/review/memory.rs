//! What the last review of a text worked out, for the next one: who writes changes one detail at a time, and the others stay what they
//! were.

use std::ops::Range;
use std::sync::{Arc, Mutex};

use foldhash::HashMap;

use crate::facts::face::{FaceFacts, TooLarge};
use crate::facts::{DetailFacts, FileFacts};
use crate::finding::{Finding, Said};
use crate::model::{BuiltIns, Detail};
use crate::text::{FileId, Source, Span};

/// What reviews under one set of rules remember.
#[derive(Default)]
pub struct Memory {
    /// The last one of each text, by its name.
    texts: Mutex<HashMap<String, Arc<LastReview>>>,
    /// What is built in has been read for all of them.
    pub built_ins: BuiltIns,
}

/// A text as it was, with all that its details lean on besides their own words.
struct LastReview {
    source: Arc<Source>,
    included: Vec<Arc<Source>>,
    details: Vec<RememberedDetail>,
    found: RuleFindings,
}

struct RememberedDetail {
    detail: Arc<Detail>,
    face: Arc<FaceFacts>,
    too_large: Option<TooLarge>,
}

/// What the rules say, before waivers: of the materials and assemblies of a file, and of each of its details.
pub(in crate::review) struct RuleFindings {
    pub around: Vec<Finding>,
    pub details: Vec<Vec<Finding>>,
}

/// The last review of a text that has changed inside of some details and nowhere else.
pub(in crate::review) struct Recalled {
    last: Arc<LastReview>,
    parts: Vec<TextPart>,
    /// The number of the file in this run.
    file: FileId,
}

/// A detail, or the text between two of them.
struct TextPart {
    before: Range<usize>,
    now: usize,
    /// It reads as it did.
    same: bool,
}

impl Memory {
    /// The last review of this text, if what stands outside of its details, and all that it includes, has not changed.
    pub(in crate::review) fn recall(
        &self,
        source: &Source,
        included: &[Arc<Source>],
        details: &[Arc<Detail>],
    ) -> Option<Recalled> {
        let last = self.texts.lock().expect("no thread panics here").get(&source.name).cloned()?;
        let alike = |(a, b): (&Arc<Source>, &Arc<Source>)| a.id == b.id && a.name == b.name && a.text == b.text;
        let leans_on_the_same = last.included.len() == included.len() && last.included.iter().zip(included).all(alike);
        // A name that two details bear, or that comes or goes, may bear on the others.
        let names = |(a, b): (&RememberedDetail, &Arc<Detail>)| a.detail.name == b.name;
        let named_the_same = last.details.len() == details.len() && last.details.iter().zip(details).all(names);
        if !leans_on_the_same || !named_the_same || twice(details) {
            return None;
        }
        let (before, now): (Vec<_>, Vec<_>) =
            last.details.iter().zip(details).map(|(kept, now)| (kept.detail.whole.range(), now.whole.range())).unzip();
        let (before, now) = (split(&before, last.source.text.len())?, split(&now, source.text.len())?);
        let part = |(before, now): (Range<usize>, Range<usize>)| {
            let same = last.source.text[before.clone()] == source.text[now.clone()];
            TextPart { before, now: now.start, same }
        };
        let parts: Vec<TextPart> = before.into_iter().zip(now).map(part).collect();
        // Details are every second part.
        parts.iter().step_by(2).all(|between| between.same).then_some(Recalled { last, parts, file: source.id })
    }

    pub(in crate::review) fn note(
        &self,
        source: &Arc<Source>,
        included: &[Arc<Source>],
        facts: &FileFacts,
        found: RuleFindings,
    ) {
        let kept = |facts: &DetailFacts| RememberedDetail {
            detail: facts.detail.clone(),
            face: facts.face.clone(),
            too_large: facts.too_large,
        };
        let details = facts.details.iter().map(kept).collect();
        let last = LastReview { source: source.clone(), included: included.to_vec(), details, found };
        self.texts.lock().expect("no thread panics here").insert(source.name.clone(), Arc::new(last));
    }

    /// A text that is no longer open.
    pub fn forget(&self, name: &str) {
        self.texts.lock().expect("no thread panics here").remove(name);
    }
}

impl Recalled {
    /// What was worked out of the face of a detail that reads as it did.
    pub fn face(&self, detail: usize) -> Option<(Arc<FaceFacts>, Option<TooLarge>)> {
        let kept = &self.last.details[detail];
        self.parts[2 * detail + 1].same.then(|| (kept.face.clone(), kept.too_large))
    }

    /// What the rules said of a detail that reads as it did, at the places where it stands now.
    pub fn detail(&self, detail: usize) -> Option<Vec<Finding>> {
        self.parts[2 * detail + 1].same.then(|| self.moved(&self.last.found.details[detail])).flatten()
    }

    /// The same of what stands between the details.
    pub fn around(&self) -> Option<Vec<Finding>> {
        self.moved(&self.last.found.around)
    }

    fn moved(&self, findings: &[Finding]) -> Option<Vec<Finding>> {
        let mut findings = findings.to_vec();
        let mut spans = findings.iter_mut().flat_map(|finding| {
            let finding: &mut Said = finding;
            let related = finding.related.iter_mut().map(|related| &mut related.span);
            let trail = finding.trail.iter_mut().filter_map(|step| step.span.as_mut());
            let edits = finding.edits.iter_mut().map(|edit| &mut edit.span);
            std::iter::once(&mut finding.span).chain(related).chain(trail).chain(edits)
        });
        spans.try_for_each(|span| self.place(*span).map(|now| *span = now))?;
        drop(spans);
        Some(findings)
    }

    /// Where words stand now; nowhere if they have changed.
    fn place(&self, span: Span) -> Option<Span> {
        if span.file != self.last.source.id {
            return Some(span);
        }
        let words = span.range();
        let within = |part: &&TextPart| part.same && part.before.start <= words.start && words.end <= part.before.end;
        let part = self.parts.iter().find(within)?;
        let now = |at: usize| at - part.before.start + part.now;
        Some(Span::new(self.file, now(words.start), now(words.end)))
    }
}

fn twice(details: &[Arc<Detail>]) -> bool {
    let mut names: Vec<_> = details.iter().map(|detail| &detail.name).collect();
    names.sort_unstable();
    names.windows(2).any(|pair| pair[0] == pair[1])
}

/// A text cut at its details, with what stands before, between and behind them.
fn split(details: &[Range<usize>], length: usize) -> Option<Vec<Range<usize>>> {
    let (mut parts, mut at) = (Vec::with_capacity(2 * details.len() + 1), 0);
    for detail in details {
        parts.extend([at..detail.start, detail.clone()]);
        at = detail.end;
    }
    parts.push(at..length);
    parts.iter().all(|part| part.start <= part.end).then_some(parts)
}
