//! What a submittal changes against the issued details.

mod assembly;
mod change;
mod detail;
mod finding;
mod likeness;
mod material;
mod other;
mod pieces;
mod statement;
mod waiver;
mod words;

pub use change::{Change, ItemChange};
pub use finding::{FindingChanges, changed_findings};
pub use likeness::pairs;
pub use material::{Substitution, Verdict};
pub use waiver::Brought;

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::facts::{AssemblyFacts, DetailFacts};
use crate::model::Name;
use crate::report::{Checked, Report};
use crate::text::{FileId, Source, Span};

/// One side of a comparison.
pub struct Side<'a> {
    pub checked: &'a [Checked],
    pub report: &'a Report,
}

/// Names that the submittal has other words for.
#[derive(Default)]
pub struct Renames {
    /// Of details and assemblies: the submitted name by the issued one.
    pub items: BTreeMap<Name, Name>,
    /// Of pieces, by the issued names of detail and piece: two details may call different things by one name.
    pub pieces: BTreeMap<(Name, Name), Name>,
}

/// Everything that differs.
pub struct Comparison<'a> {
    pub details: Vec<ItemChange>,
    pub assemblies: Vec<ItemChange>,
    /// Climates and drawing sets, as they are written.
    pub others: Vec<ItemChange>,
    /// Each pair of materials once, by the name of the issued one.
    pub substitutions: Vec<Substitution>,
    /// Waivers that only the submittal has. They acquit nothing.
    pub waivers: Vec<Brought>,
    pub findings: FindingChanges<'a>,
}

impl Comparison<'_> {
    /// Both sides were read whole, and say the same.
    pub fn is_empty(&self) -> bool {
        let items = self.details.is_empty() && self.assemblies.is_empty() && self.others.is_empty();
        let items = items && self.substitutions.is_empty();
        let findings = &self.findings;
        let read = findings.unread.is_empty() && findings.unread_issued.is_empty();
        items && self.waivers.is_empty() && read && findings.held().is_empty() && findings.gone.is_empty()
    }
}

/// Compares by name first and by likeness then, so that what was renamed is not listed as removed and added.
pub fn compare<'a>(issued: &Side<'a>, submitted: &Side<'a>) -> Comparison<'a> {
    let details = |side: &Side<'a>| side.checked.iter().flat_map(|c| &c.facts.details).collect::<Vec<_>>();
    let assemblies = |side: &Side<'a>| -> Vec<&'a AssemblyFacts> {
        side.checked.iter().flat_map(|c| &c.facts.assemblies).map(|facts| &**facts).collect()
    };
    let (old, new): (Vec<&DetailFacts>, Vec<&DetailFacts>) = (details(issued), details(submitted));
    let texts = (ItemTexts::of(issued), ItemTexts::of(submitted));
    let matched = pairs(&old, &new, |d| d.detail.name.clone(), detail::likeness);
    let mut materials = material::Substitutions::default();
    let mut renames = Renames::default();
    let mut changed = Vec::new();
    for pair in &matched {
        changed.extend(detail::change(pair.map(|n| old[n], |n| new[n]), &texts, &mut materials, &mut renames));
    }
    let (old_walls, new_walls) = (assemblies(issued), assemblies(submitted));
    let walls = pairs(&old_walls, &new_walls, |a| a.assembly.name.clone(), assembly::likeness);
    let mut changed_walls = Vec::new();
    for pair in &walls {
        changed_walls.extend(assembly::change(
            pair.map(|n| old_walls[n], |n| new_walls[n]),
            &texts,
            &mut materials,
            &mut renames,
        ));
    }
    own_materials(issued, submitted, &mut materials);
    let waivers = waiver::brought(issued.checked, submitted.checked, &renames);
    Comparison {
        details: changed,
        assemblies: changed_walls,
        others: other::changes(issued, submitted),
        substitutions: materials.list(),
        findings: changed_findings(issued.report, submitted.report, &renames, &waivers),
        waivers,
    }
}

/// The texts that items stand in.
struct ItemTexts<'a>(BTreeMap<FileId, &'a Source>);

impl<'a> ItemTexts<'a> {
    fn of(side: &Side<'a>) -> ItemTexts<'a> {
        let sources = side.checked.iter().flat_map(|c| std::iter::once(&c.source).chain(&c.included));
        ItemTexts(sources.map(|source| (source.id, &**source)).collect())
    }

    /// An item as it is written, by its first line.
    fn item(&self, head: Span) -> Option<statement::ItemText> {
        let text = self.0.get(&head.file)?.text.get(head.range().start..)?;
        statement::items(text).next()
    }
}

/// The texts of both sides, the issued ones first.
type BothTexts<'a> = (ItemTexts<'a>, ItemTexts<'a>);

/// Materials of one name whose values differ.
fn own_materials(issued: &Side<'_>, submitted: &Side<'_>, found: &mut material::Substitutions) {
    let by_name = |side: &Side<'_>| -> BTreeMap<Name, Arc<crate::model::Material>> {
        side.checked.iter().flat_map(|c| &c.facts.materials).map(|m| (m.name.clone(), m.clone())).collect()
    };
    let new = by_name(submitted);
    for (name, old) in by_name(issued) {
        if let Some(new) = new.get(&name) {
            found.add(&old, new);
        }
    }
}
