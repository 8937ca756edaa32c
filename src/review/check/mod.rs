//! One file, from its text to its findings.

mod missing;

use std::sync::{Arc, RwLock};

use foldhash::HashMap;

use crate::facts::vocabulary::{Fact, Kind};
use crate::facts::{AssemblyFacts, DetailFacts, FileFacts, WaiverFact};
use crate::finding::Finding;
use crate::model::{Assembly, Library, Name, Reading, SourceMap, Waiver};
use crate::report::Checked;
use crate::review::memory::{Recalled, RuleFindings};
use crate::review::{Day, Memory, Message, Outcome};
use crate::rules::{self, Pack};
use crate::text::Source;
use missing::{place_where_used, report_once};

/// The most assemblies whose facts a run holds at once: memory must not grow with the library.
const MOST_SHARED: usize = 500;

/// Takes note of what came of a text.
pub type OnOutcome<'a> = dyn Fn(&Source, &Outcome) + Sync + 'a;

/// What all files of a run are reviewed with.
pub struct Reviewer<'a> {
    pub source_map: &'a SourceMap<'a>,
    pub pack: &'a Pack,
    /// Waivers end on dates, so a review has one.
    today: Day,
    /// The rules for a file of this name, where they differ from the others'.
    pack_of: Option<&'a (dyn Fn(&str) -> &'a Pack + Sync)>,
    /// What the last review of each text worked out.
    memory: Option<&'a Memory>,
    /// Told what came of each text that was reviewed, from any thread.
    on_outcome: Option<&'a OnOutcome<'a>>,
    /// Outputs show words of the texts, and not only places in them.
    pub(in crate::review) texts: bool,
    /// Facts of included assemblies, worked out once for all files that include them.
    shared: RwLock<HashMap<usize, Arc<AssemblyFacts>>>,
}

impl<'a> Reviewer<'a> {
    pub fn new(source_map: &'a SourceMap<'a>, pack: &'a Pack, today: impl Into<Day>) -> Reviewer<'a> {
        let today = today.into();
        Reviewer {
            source_map,
            pack,
            today,
            pack_of: None,
            memory: None,
            on_outcome: None,
            texts: true,
            shared: RwLock::default(),
        }
    }

    /// With rules that depend on the file. All of them know the same words, so that the text means the same.
    pub fn by_file(self, pack_of: &'a (dyn Fn(&str) -> &'a Pack + Sync)) -> Reviewer<'a> {
        Reviewer { pack_of: Some(pack_of), ..self }
    }

    /// With what the last review of each text worked out. The rules have to be the same.
    pub fn remembering(self, memory: Option<&'a Memory>) -> Reviewer<'a> {
        Reviewer { memory, ..self }
    }

    /// With a cache that keeps outcomes for the next run.
    pub fn on_outcome(self, on_outcome: &'a OnOutcome<'a>) -> Reviewer<'a> {
        Reviewer { on_outcome: Some(on_outcome), ..self }
    }

    /// For outputs that show places of the texts, and their words only if asked.
    pub fn showing_texts(self, texts: bool) -> Reviewer<'a> {
        Reviewer { texts, ..self }
    }

    /// The rules for a file of this name.
    pub(in crate::review) fn pack_for(&self, name: &str) -> &'a Pack {
        self.pack_of.map_or(self.pack, |of| of(name))
    }

    pub(in crate::review) fn remember(&self, source: &Source, outcome: &Outcome) {
        if let Some(on_outcome) = self.on_outcome {
            on_outcome(source, outcome);
        }
    }

    pub fn check(&self, source: Arc<Source>) -> Checked {
        let reading = self.source_map.read(source);
        let Reading { source, library, findings, included, whole, fragment, fragments } = reading;
        // A fragment leans on what its includer gives, so that its findings may show that text as well.
        let around = || included.iter().chain([&source]).cloned().collect();
        let fragments = fragments
            .into_iter()
            .map(|part| self.judged(part.source, &part.library, part.findings, around(), true, None))
            .collect();
        Checked { fragments, whole, ..self.judged(source, &library, findings, included, fragment, self.memory) }
    }

    fn judged(
        &self,
        source: Arc<Source>,
        library: &Library,
        mut findings: Vec<Finding>,
        included: Vec<Arc<Source>>,
        fragment: bool,
        memory: Option<&Memory>,
    ) -> Checked {
        let recalled = memory.and_then(|memory| memory.recall(&source, &included, &library.details));
        let facts = self.derive(library, recalled.as_ref());
        findings.extend(facts.details.iter().filter_map(too_large));
        let pack = self.pack_for(&source.name);
        let found = found(pack, &facts, recalled.as_ref());
        match memory {
            Some(memory) => {
                findings.extend(found.around.iter().chain(found.details.iter().flatten()).cloned());
                memory.note(&source, &included, &facts, found);
            }
            None => findings.extend(found.around.into_iter().chain(found.details.into_iter().flatten())),
        }
        findings.iter_mut().for_each(|finding| place_where_used(finding, &facts, &source, &included));
        report_once(&mut findings);
        let dated = self.waive(pack, &facts, &mut findings);
        rules::group_by_cause(&mut findings);
        rules::leave_out_consequences(pack, &mut findings);
        let (sets, fragments) = (library.sets.clone(), Vec::new());
        Checked { source, facts, sets, findings, included, whole: true, dated, fragment, fragments }
    }

    fn derive(&self, library: &Library, recalled: Option<&Recalled>) -> FileFacts {
        let own: Vec<Arc<AssemblyFacts>> =
            library.assemblies.iter().map(|a| Arc::new(AssemblyFacts::derive(a.clone(), &self.pack.assumed))).collect();
        let facts_of = |assembly: &Arc<Assembly>| match own.iter().find(|f| Arc::ptr_eq(&f.assembly, assembly)) {
            Some(facts) => facts.clone(),
            None => self.facts_of(assembly),
        };
        let details = library
            .details
            .iter()
            .enumerate()
            .map(|(number, detail)| {
                let joined = detail.joins.iter().map(|join| facts_of(&join.assembly)).collect();
                let weather = self.pack.words.kinds.get(&detail.kind).is_none_or(|kind| kind.weather);
                let (detail, assumed) = (detail.clone(), &self.pack.assumed);
                match recalled.and_then(|recalled| recalled.face(number)) {
                    Some(face) => DetailFacts::with_face(detail, joined, weather, assumed, face),
                    None => DetailFacts::derive(detail, joined, weather, assumed),
                }
            })
            .collect();
        FileFacts { materials: library.materials.clone(), assemblies: own, details }
    }

    /// Facts of an assembly that another file defines. Its address identifies it: the facts keep it alive.
    pub fn facts_of(&self, assembly: &Arc<Assembly>) -> Arc<AssemblyFacts> {
        let key = Arc::as_ptr(assembly) as usize;
        if let Some(known) = self.shared.read().expect("no thread panics here").get(&key) {
            return known.clone();
        }
        let facts = Arc::new(AssemblyFacts::derive(assembly.clone(), &self.pack.assumed));
        let mut shared = self.shared.write().expect("no thread panics here");
        if shared.len() >= MOST_SHARED {
            shared.clear();
        }
        shared.entry(key).or_insert(facts).clone()
    }

    /// Applies the waivers; returns whether some of them have an end date.
    fn waive(&self, pack: &Pack, facts: &FileFacts, findings: &mut Vec<Finding>) -> bool {
        let of_assemblies =
            facts.assemblies.iter().flat_map(|a| a.assembly.waivers.iter().map(|w| (a.assembly.name.clone(), w)));
        let of_details = facts.details.iter().flat_map(|d| d.detail.waivers.iter().map(|w| (d.detail.name.clone(), w)));
        // Where some text was not read, a waiver without a finding may yet have one.
        let in_doubt = |home: &Name| {
            facts.assemblies.iter().any(|a| a.assembly.name == *home && a.doubtful())
                || facts.details.iter().any(|d| d.detail.name == *home && (d.doubtful || d.too_large.is_some()))
        };
        // A waiver of an unknown rule was reported already.
        let known = |(_, waiver): &(Name, &Waiver)| pack.rule(&waiver.rule).is_some();
        let waivers: Vec<(Name, &Waiver)> = of_assemblies.chain(of_details).filter(known).collect();
        if waivers.is_empty() {
            return false;
        }
        let outcomes = rules::waive(pack, findings, &waivers, self.today.date());
        let on_outcome: Vec<WaiverFact> = waivers
            .into_iter()
            .zip(outcomes)
            .map(|((home, waiver), outcome)| WaiverFact {
                waiver: waiver.clone(),
                expired: outcome.expired,
                matched: outcome.matched || in_doubt(&home),
                home,
                until: waiver.until.map(|date| date.to_string()),
            })
            .collect();
        findings.extend(rules::judge(pack, on_outcome.iter().map(Fact::Waiver)));
        on_outcome.iter().any(|waiver| waiver.until.is_some())
    }
}

/// What the rules say, but for what is known already.
fn found(pack: &Pack, facts: &FileFacts, recalled: Option<&Recalled>) -> RuleFindings {
    let kinds = || Kind::ALL.into_iter().filter(|kind| pack.asks_about(*kind));
    let around = || rules::judge(pack, kinds().flat_map(|kind| facts.around(kind)));
    let detail = |(number, facts): (usize, &DetailFacts)| {
        let known = recalled.and_then(|recalled| recalled.detail(number));
        known.unwrap_or_else(|| rules::judge(pack, kinds().flat_map(|kind| facts.items(kind).iter())))
    };
    let known = recalled.and_then(Recalled::around);
    RuleFindings {
        around: known.unwrap_or_else(around),
        details: facts.details.iter().enumerate().map(detail).collect(),
    }
}

fn too_large(facts: &DetailFacts) -> Option<Finding> {
    let excess = facts.too_large?;
    let finding = Message::DetailTooLarge { excess }.at(facts.detail.name_span);
    Some(finding.item(Some(facts.detail.name.clone())))
}
