//! What a drawing set needs, held against the details of the whole run.

use std::sync::Arc;

use foldhash::{HashMap, HashSet};
use serde::{Deserialize, Serialize};

use crate::facts::NeedFact;
use crate::facts::vocabulary::Fact;
use crate::finding::Finding;
use crate::model::{Assembly, Name};
use crate::report::Checked;
use crate::review::Reviewer;
use crate::rules;
use crate::text::FileId;

/// An assembly as the run knows it: the name of its file and its own. A file may be read twice, on its own and as an
/// include, so that numbers of files do not identify assemblies.
pub type Identity = (Name, Name);

/// A kind of detail, and the assemblies that a detail of it joins, in order.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Interface {
    pub kind: Name,
    pub joined: Vec<Identity>,
}

/// A need of a set. Whether it is met is known when all files have been read, and their facts are gone by then: so the rules say at once
/// what they find in either case.
pub struct Wanted {
    asked: Interface,
    /// As if some file had the detail.
    met: Vec<Finding>,
    /// As if no file had it.
    unmet: Vec<Finding>,
    /// When facts are kept.
    fact: Option<Box<NeedFact>>,
}

impl Wanted {
    /// The findings of both cases.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        self.met.iter().chain(&self.unmet)
    }

    pub fn findings_mut(&mut self) -> impl Iterator<Item = &mut Finding> {
        self.met.iter_mut().chain(&mut self.unmet)
    }

    /// The findings of the case that it is.
    pub fn answered(self, answers: &Answers) -> (Vec<Finding>, Option<NeedFact>) {
        let found = answers.have(&self.asked);
        let fact = self.fact.map(|fact| NeedFact { found, ..*fact });
        (if found { self.met } else { self.unmet }, fact)
    }

    /// Lets go of what is not the case, once a detail is there; returns whether something is left to be said.
    pub fn settle(&mut self, answers: &Answers) -> bool {
        if answers.have(&self.asked) {
            self.unmet = Vec::new();
        }
        self.fact.is_some() || self.findings().next().is_some()
    }
}

/// What the details of a file join, each once.
pub fn interfaces(checked: &Checked) -> Vec<Arc<Interface>> {
    let mut names = FileNames::of(checked);
    let mut interfaces: Vec<Arc<Interface>> = Vec::new();
    for facts in &checked.facts.details {
        let joined = facts.detail.joins.iter().map(|join| names.identity(&join.assembly)).collect();
        let interface = Arc::new(Interface { kind: facts.detail.kind.clone(), joined: in_order(joined) });
        if !interfaces.contains(&interface) {
            interfaces.push(interface);
        }
    }
    interfaces
}

/// What the sets of a file need, as the rules of that file see it.
pub fn wanted(reviewer: &Reviewer<'_>, checked: &Checked, keep: bool) -> Vec<Wanted> {
    let mut names = FileNames::of(checked);
    let pack = reviewer.pack_for(&checked.source.name);
    let needs = checked.sets.iter().flat_map(|set| set.needs.iter().map(|need| (set.title.as_deref(), need)));
    needs
        .map(|(title, need)| {
            let identities = need.assemblies.iter().map(|assembly| names.identity(assembly)).collect();
            let asked = Interface { kind: need.kind.clone(), joined: in_order(identities) };
            let mut fact = NeedFact {
                set: title.map(Name::from),
                kind: need.kind.clone(),
                assemblies: need.assemblies.iter().map(|assembly| reviewer.facts_of(assembly)).collect(),
                found: true,
                span: need.span,
            };
            let met = rules::judge(pack, [Fact::Need(&fact)]);
            fact.found = false;
            let unmet = rules::judge(pack, [Fact::Need(&fact)]);
            Wanted { asked, met, unmet, fact: keep.then(|| Box::new(fact)) }
        })
        .collect()
}

/// What the details of a run answer for: a detail answers for its whole interface, and for each of the assemblies alone.
#[derive(Default)]
pub struct Answers {
    whole: HashSet<Arc<Interface>>,
    alone: HashMap<Name, HashSet<Identity>>,
}

impl Answers {
    /// `shared` gives of equal names always the same one: memory must not grow with what files repeat.
    pub fn add(&mut self, interface: &Arc<Interface>, mut shared: impl FnMut(&Name) -> Name) {
        if self.whole.contains(interface) {
            return;
        }
        let kind = shared(&interface.kind);
        let joined: Vec<Identity> =
            interface.joined.iter().map(|(file, assembly)| (shared(file), shared(assembly))).collect();
        self.alone.entry(kind.clone()).or_default().extend(joined.iter().cloned());
        self.whole.insert(Arc::new(Interface { kind, joined }));
    }

    fn have(&self, asked: &Interface) -> bool {
        match &*asked.joined {
            [one] => self.alone.get(&asked.kind).is_some_and(|joined| joined.contains(one)),
            _ => self.whole.contains(asked),
        }
    }
}

/// The names of a file and of those that it includes, each made once.
struct FileNames<'a> {
    checked: &'a Checked,
    made: HashMap<FileId, Name>,
}

impl<'a> FileNames<'a> {
    fn of(checked: &'a Checked) -> FileNames<'a> {
        FileNames { checked, made: HashMap::default() }
    }

    fn identity(&mut self, assembly: &Assembly) -> Identity {
        let (checked, file) = (self.checked, assembly.name_span.file);
        let name = || {
            let mut sources = std::iter::once(&checked.source).chain(&checked.included);
            sources.find(|source| source.id == file).map_or(Name::from(""), |source| source.name.as_str().into())
        };
        (self.made.entry(file).or_insert_with(name).clone(), assembly.name.clone())
    }
}

fn in_order(mut assemblies: Vec<Identity>) -> Vec<Identity> {
    assemblies.sort();
    assemblies
}
