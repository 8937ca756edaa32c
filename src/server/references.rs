//! Where a name is defined and where it is mentioned, over all files that see one another.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use lsp_types::{Location, Position, Range, ReferenceParams, TextDocumentPositionParams};
use rayon::prelude::*;

use crate::about::{Mention, NameKind, meant, mention_at, mentions};
use crate::model::is_builtin;
use crate::project;
use crate::server::State;
use crate::syntax::{self, Document, unquoted};
use crate::text::{Source, Span};

/// A file with its names.
pub struct NamedText {
    pub source: Arc<Source>,
    pub document: Document,
    pub mentions: Vec<Mention>,
    /// What it includes itself.
    includes: Vec<PathBuf>,
}

/// A name with all places that mean the same thing.
pub struct Named {
    pub kind: NameKind,
    pub name: String,
    /// The words under the cursor.
    pub span: Span,
    pub places: Vec<(PathBuf, Arc<Source>, Mention)>,
}

impl NamedText {
    pub fn of(source: Arc<Source>, path: &Path) -> NamedText {
        let document = syntax::read(&source).0;
        let mentions = mentions(&document);
        let folder = path.parent().unwrap_or(path);
        let written = mentions.iter().filter(|m| m.kind == NameKind::Include).map(|m| unquoted(source.at(m.span)));
        let includes = written.filter(|w| !is_builtin(w)).map(|w| project::plain(w.as_ref(), folder)).collect();
        NamedText { source, document, mentions, includes }
    }
}

impl State {
    /// An open file with its names.
    pub fn text(&self, path: &Path) -> Option<NamedText> {
        Some(NamedText::of(self.source(path)?, path))
    }

    /// The name at a place.
    pub fn named(&self, at: &TextDocumentPositionParams) -> Option<Named> {
        let path = self.path(&at.text_document.uri)?;
        let text = self.text(&path)?;
        let offset = self.encoding.offset(&text.source, at.position);
        let found = mention_at(&text.mentions, offset)?;
        let name = text.source.at(found.span).to_owned();
        let kind = meant(&text.source, &text.mentions, found);
        let places = match kind {
            kind if kind.is_global() => self.global(&path, kind, &name),
            NameKind::Piece | NameKind::Layer => {
                let same = |m: &&Mention| {
                    m.item == found.item
                        && (m.kind == kind || m.kind == NameKind::Subject)
                        && text.source.at(m.span) == name
                };
                text.mentions.iter().filter(same).map(|m| (path.clone(), text.source.clone(), *m)).collect()
            }
            _ => Vec::new(),
        };
        Some(Named { kind, name, span: found.span, places })
    }

    fn global(&self, path: &Path, kind: NameKind, name: &str) -> Vec<(PathBuf, Arc<Source>, Mention)> {
        let texts = self.texts(path);
        let is = |text: &NamedText, m: &Mention| m.kind == kind && text.source.at(m.span) == name;
        let defines =
            |path: &PathBuf| texts.get(path).is_some_and(|text| text.mentions.iter().any(|m| m.defines && is(text, m)));
        let trees: BTreeMap<&PathBuf, BTreeSet<PathBuf>> =
            texts.keys().map(|file| (file, tree(&texts, file))).collect();
        let homes =
            |file: &PathBuf| trees[file].iter().filter(|inner| defines(inner)).cloned().collect::<BTreeSet<_>>();
        let own = trees.keys().find(|file| file.as_path() == path).map(|file| homes(file)).unwrap_or_default();
        // A name that a fragment leans on is given by the files that include it.
        let includers = || trees.iter().filter(|(_, tree)| tree.contains(path)).flat_map(|(file, _)| homes(file));
        let definitions: BTreeSet<PathBuf> = if own.is_empty() { includers().collect() } else { own };
        let sees = |file: &PathBuf| trees[file].iter().any(|inner| definitions.contains(inner));
        let mut members: BTreeSet<PathBuf> = BTreeSet::from([path.to_path_buf()]);
        for file in trees.keys().filter(|file| sees(file)) {
            members.insert((*file).clone());
            members.extend(trees[file].iter().filter(|inner| homes(inner).is_empty()).cloned());
        }
        let found = members.iter().filter_map(|file| Some((file, texts.get(file)?))).flat_map(|(file, text)| {
            let same = text.mentions.iter().filter(move |m| is(text, m));
            same.map(move |m| (file.clone(), text.source.clone(), *m))
        });
        found.collect()
    }

    /// All files of the library, with what is not saved.
    pub fn texts(&self, path: &Path) -> BTreeMap<PathBuf, NamedText> {
        let walked = project::library_of(path, &self.unsaved, &self.working, self.libraries.started(path));
        let mut paths: BTreeSet<PathBuf> = walked.files.iter().map(|found| found.path(&self.working)).collect();
        paths.insert(path.to_path_buf());
        paths.into_par_iter().filter_map(|path| self.text(&path).map(|text| (path, text))).collect()
    }
}

/// A file and all that it includes, directly or not.
fn tree(texts: &BTreeMap<PathBuf, NamedText>, file: &Path) -> BTreeSet<PathBuf> {
    let mut seen = BTreeSet::new();
    let mut open = vec![file.to_path_buf()];
    while let Some(path) = open.pop() {
        if let Some(text) = texts.get(&path)
            && seen.insert(path)
        {
            open.extend(text.includes.iter().cloned());
        }
    }
    seen
}

pub fn definition(state: &State, at: &TextDocumentPositionParams) -> Option<Vec<Location>> {
    let named = state.named(at)?;
    if named.kind == NameKind::Include {
        let path = state.path(&at.text_document.uri)?;
        let written = unquoted(&named.name);
        let target = project::plain(written.as_ref(), path.parent()?);
        let there = !is_builtin(&written) && (target.is_file() || state.unsaved.has(&target));
        let start = Position::default();
        return there
            .then(|| state.uri(&target))
            .flatten()
            .map(|uri| vec![Location { uri, range: Range { start, end: start } }]);
    }
    let defined = named.places.iter().filter(|(.., mention)| mention.defines);
    let places: Vec<Location> = defined.filter_map(|place| location(state, place)).collect();
    (!places.is_empty()).then_some(places)
}

pub fn references(state: &State, asked: &ReferenceParams) -> Option<Vec<Location>> {
    let named = state.named(&asked.text_document_position)?;
    let wanted = |m: &Mention| asked.context.include_declaration || !m.defines;
    Some(named.places.iter().filter(|(.., m)| wanted(m)).filter_map(|place| location(state, place)).collect())
}

fn location(state: &State, (path, source, mention): &(PathBuf, Arc<Source>, Mention)) -> Option<Location> {
    Some(Location { uri: state.uri(path)?, range: state.encoding.range(source, mention.span) })
}
