//! What a drawing set needs, held against the details of the whole run.

use std::sync::Arc;

use foldhash::HashSet;

use crate::facts::NeedFact;
use crate::model::{Assembly, Name, Need};
use crate::report::Checked;
use crate::review::Reviewer;
use crate::text::FileId;

/// An assembly as the run knows it: the name of its file and its own. A file may be read twice, on its own and as an
/// include, so that numbers of files do not identify assemblies.
pub type Identity = (String, Name);

/// A kind of detail, and the assemblies that a detail of it joins, in order.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Interface {
    pub kind: Name,
    pub joined: Vec<Identity>,
}

/// A need with what answers it.
pub struct Wanted {
    pub set: Option<Name>,
    pub need: Need,
    pub asked: Interface,
}

/// What the details of a file join, each once.
pub fn interfaces(checked: &Checked) -> Vec<Arc<Interface>> {
    let mut interfaces: Vec<Arc<Interface>> = Vec::new();
    for facts in &checked.facts.details {
        let joined = facts.detail.joins.iter().map(|join| identity(checked, &join.assembly)).collect();
        let interface = Arc::new(Interface { kind: facts.detail.kind.clone(), joined: in_order(joined) });
        if !interfaces.contains(&interface) {
            interfaces.push(interface);
        }
    }
    interfaces
}

pub fn wanted(checked: &Checked) -> Vec<Wanted> {
    let sets = checked.sets.iter().flat_map(|set| set.needs.iter().map(|need| (set.title.as_deref(), need)));
    sets.map(|(title, need)| {
        let assemblies = need.assemblies.iter().map(|assembly| identity(checked, assembly)).collect();
        let asked = Interface { kind: need.kind.clone(), joined: in_order(assemblies) };
        Wanted { set: title.map(Name::from), need: need.clone(), asked }
    })
    .collect()
}

/// The facts of all needs.
pub fn needs(reviewer: &Reviewer<'_>, wanted: &[Wanted], interfaces: &HashSet<Arc<Interface>>) -> Vec<NeedFact> {
    let answers = Answers::of(interfaces);
    wanted
        .iter()
        .map(|wanted| NeedFact {
            set: wanted.set.clone(),
            kind: wanted.need.kind.clone(),
            assemblies: wanted.need.assemblies.iter().map(|assembly| reviewer.facts_of(assembly)).collect(),
            found: answers.have(&wanted.asked),
            span: wanted.need.span,
        })
        .collect()
}

/// What the details of a run answer for: a detail answers for its whole interface, and for each of the assemblies alone. A library has as
/// many interfaces as needs, so that neither is gone through for each of the other.
struct Answers<'a> {
    whole: &'a HashSet<Arc<Interface>>,
    alone: HashSet<(&'a str, &'a Identity)>,
}

impl<'a> Answers<'a> {
    fn of(interfaces: &'a HashSet<Arc<Interface>>) -> Answers<'a> {
        let of_each = |given: &'a Arc<Interface>| given.joined.iter().map(|assembly| (&*given.kind, assembly));
        Answers { whole: interfaces, alone: interfaces.iter().flat_map(of_each).collect() }
    }

    fn have(&self, asked: &Interface) -> bool {
        match &*asked.joined {
            [one] => self.alone.contains(&(&*asked.kind, one)),
            _ => self.whole.contains(asked),
        }
    }
}

fn identity(checked: &Checked, assembly: &Arc<Assembly>) -> Identity {
    (file_name(checked, assembly.name_span.file), assembly.name.clone())
}

fn file_name(checked: &Checked, file: FileId) -> String {
    let sources = std::iter::once(&checked.source).chain(&checked.included);
    sources.into_iter().find(|source| source.id == file).map_or_else(String::new, |source| source.name.clone())
}

fn in_order(mut assemblies: Vec<Identity>) -> Vec<Identity> {
    assemblies.sort();
    assemblies
}
