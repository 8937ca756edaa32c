//! The cures of one finding that an editor offers.

use std::path::Path;
use std::sync::Arc;

use crate::finding::{Edit, Finding};
use crate::mend::{self, Context};
use crate::model::Material;
use crate::server::State;
use crate::server::references::NamedText;

/// An edit with its title, and whether it is proved.
pub struct OfferedCure {
    pub title: String,
    pub edits: Vec<Edit>,
    pub proved: bool,
}

/// Proved cures first, then a waiver to be filled in.
pub fn cures(state: &State, path: &Path, finding: &Finding) -> Vec<OfferedCure> {
    let (Some(text), Some(library)) = (state.text(path), state.libraries.of(path)) else {
        return Vec::new();
    };
    let finding = here(finding, &text);
    let materials: Vec<Arc<Material>> = state
        .reading(path)
        .map_or(Vec::new(), |reading| reading.library.all_materials().into_iter().cloned().collect());
    let pack = library.rules_for(path);
    let details = state.checked(path).map_or(&[][..], |checked| &checked.facts.details);
    let facts = details.iter().find(|facts| finding.item.as_deref() == Some(&facts.detail.name));
    let context = Context {
        source: &text.source,
        document: &text.document,
        facts,
        materials: &materials,
        pack,
        finding: &finding,
    };
    let review = |new: &str| state.trial(path, new);
    let proved = mend::cures(&context, &review).into_iter().map(|cure| (cure, true));
    let waiver = mend::waiver(&context).map(|cure| (cure, false));
    proved.chain(waiver).map(|(cure, proved)| OfferedCure { title: cure.title, edits: cure.edits, proved }).collect()
}

/// The finding with its places in the open text, which a run numbers otherwise. Edits of other files are left out.
fn here(finding: &Finding, text: &NamedText) -> Finding {
    let (old, new) = (finding.span.file, text.source.id);
    let mut finding = finding.clone();
    finding.edits.retain(|edit| edit.span.file == old);
    finding.span.file = new;
    finding.edits.iter_mut().for_each(|edit| edit.span.file = new);
    finding
}
