//! What a drawing set needs, held against the details of the whole run.

use std::collections::HashSet;
use std::sync::Arc;

use crate::facts::NeedFact;
use crate::model::{Assembly, Name, Need};
use crate::report::Checked;
use crate::review::Reviewer;
use crate::text::FileId;

/// An assembly as the run knows it: the name of its file and its own. A file may be read twice, on its own and as an
/// include, so that numbers of files do not tell assemblies apart.
type Identity = (String, Name);

/// A kind of detail and an assembly, or the two in order, that some detail joins.
pub type Supply = (Name, Vec<Identity>);

/// A need with what answers it.
pub struct Wanted {
    pub set: Option<Name>,
    pub need: Need,
    pub key: Supply,
}

/// What the details of a file answer: each its whole interface, and each of the joined assemblies alone.
pub fn supplies(checked: &Checked) -> HashSet<Supply> {
    let mut supplies = HashSet::new();
    for facts in &checked.facts.details {
        let kind = &facts.detail.kind;
        let joined: Vec<Identity> = facts.detail.joins.iter().map(|join| identity(checked, &join.assembly)).collect();
        supplies.extend(joined.iter().map(|one| (kind.clone(), vec![one.clone()])));
        supplies.insert((kind.clone(), in_order(joined)));
    }
    supplies
}

pub fn wanted(checked: &Checked) -> Vec<Wanted> {
    let sets = checked.sets.iter().flat_map(|set| set.needs.iter().map(|need| (set.title.as_deref(), need)));
    sets.map(|(title, need)| {
        let assemblies = need.assemblies.iter().map(|assembly| identity(checked, assembly)).collect();
        Wanted { set: title.map(Name::from), need: need.clone(), key: (need.kind.clone(), in_order(assemblies)) }
    })
    .collect()
}

/// The facts of all needs.
pub fn needs(reviewer: &Reviewer<'_>, wanted: &[Wanted], supplies: &HashSet<Supply>) -> Vec<NeedFact> {
    wanted
        .iter()
        .map(|wanted| NeedFact {
            set: wanted.set.clone(),
            kind: wanted.need.kind.clone(),
            assemblies: wanted.need.assemblies.iter().map(|assembly| reviewer.facts_of(assembly)).collect(),
            found: supplies.contains(&wanted.key),
            span: wanted.need.span,
        })
        .collect()
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
