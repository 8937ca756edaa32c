//! What a run shares between its files: each included text is read, parsed and resolved once for those that are read about the same time.

mod shelf;
mod tree;
mod unit;

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, OnceLock};

use foldhash::{HashMap, HashSet};

use crate::finding::Finding;
use crate::model::builtin::{builtin, builtin_document, is_builtin};
use crate::model::include::{Include, includes};
use crate::model::reach::IncludeReach;
use crate::model::{Library, Message, Words};
use crate::syntax::{self, Diagnostics, Document};
use crate::text::{FileId, Source};

use shelf::{LoadedOnce, Shelf};
use tree::Tree;
use unit::Alone;

/// Gives the text of an included file by its path (the includer's folder and the include put together, `..` resolved),
/// or says why it is not available.
pub type Fetch<'a> = dyn Fn(&str) -> Result<Arc<Source>, String> + Sync + 'a;

/// Given the path of an include that failed and its includer, the name of a file that may have been meant.
pub type Near<'a> = dyn Fn(&str, &str) -> Option<String> + Sync + 'a;

/// The built-in texts that were included, for all source maps that take the same words from their rules: what is built in never changes,
/// and includes nothing else.
#[derive(Default)]
pub struct BuiltIns(Mutex<HashMap<String, Arc<LoadedOnce>>>);

/// The texts that the files of a run include.
pub struct SourceMap<'a> {
    fetch: &'a Fetch<'a>,
    near: Option<&'a Near<'a>>,
    words: &'a Words,
    built_ins: Option<&'a BuiltIns>,
    own_built_ins: BuiltIns,
    /// The one that the next file is read with.
    shelf: Mutex<Arc<Shelf>>,
    /// Bytes of all that one file includes, where they are most.
    largest_tree: AtomicUsize,
}

/// Reads one file with all that it includes, from one shelf to the end.
struct Reader<'m, 'a> {
    map: &'m SourceMap<'a>,
    shelf: Arc<Shelf>,
}

/// One file with all that it includes, resolved.
pub struct Reading {
    pub source: Arc<Source>,
    /// What this file defines, over the names of what it includes.
    pub library: Library,
    /// Of this file's text only: an included file reports its own when it is read.
    pub findings: Vec<Finding>,
    /// The texts of all that it includes, directly or not.
    pub included: Vec<Arc<Source>>,
    /// Each include of its tree led to a text.
    pub whole: bool,
    /// Some of its names have to come from a file that includes it, so that alone it proves nothing.
    pub fragment: bool,
    /// Included fragments, as they read in this file's tree.
    pub fragments: Vec<Fragment>,
}

/// A fragment read with the names of its includer.
pub struct Fragment {
    pub source: Arc<Source>,
    pub library: Library,
    pub findings: Vec<Finding>,
}

/// An included text.
struct IncludedText {
    path: String,
    source: Arc<Source>,
    document: Document,
    /// What was found when it was read.
    problems: Diagnostics,
    includes: Vec<Include>,
    reach: OnceLock<IncludeReach>,
    alone: OnceLock<Alone>,
}

impl<'a> SourceMap<'a> {
    pub fn new(fetch: &'a Fetch<'a>, words: &'a Words) -> SourceMap<'a> {
        let (own_built_ins, shelf, largest_tree) = (BuiltIns::default(), Mutex::default(), AtomicUsize::new(0));
        SourceMap { fetch, near: None, words, built_ins: None, own_built_ins, shelf, largest_tree }
    }

    /// With the built-in texts that source maps before it have read.
    pub fn knowing(self, built_ins: Option<&'a BuiltIns>) -> SourceMap<'a> {
        SourceMap { built_ins, ..self }
    }

    /// With suggestions for includes that fail.
    pub fn guessing(self, near: &'a Near<'a>) -> SourceMap<'a> {
        SourceMap { near: Some(near), ..self }
    }

    /// Reads a file and all that it includes. Never fails: what is wrong is a finding.
    pub fn read(&self, source: Arc<Source>) -> Reading {
        Reader { map: self, shelf: self.shelf() }.read(source)
    }

    /// The shelf for a file that is read now. The files that are being read keep the one that they have.
    fn shelf(&self) -> Arc<Shelf> {
        let mut shelf = self.shelf.lock().expect("no thread panics here");
        let full = shelf.is_full(self.largest_tree.load(Ordering::Relaxed)).then(|| std::mem::take(&mut *shelf));
        let chosen = shelf.clone();
        drop(shelf);
        // What nobody needs any more is freed while no other thread waits.
        drop(full);
        chosen
    }
}

impl Reader<'_, '_> {
    fn read(&self, source: Arc<Source>) -> Reading {
        let (document, mut problems) = syntax::read(&source);
        let includes = includes(&document, &source);
        let Tree { texts: tree, whole, lost } = self.tree(&source.name, &includes, &mut problems);
        let bytes = tree.iter().map(|kept| kept.source.text.len()).sum();
        self.map.largest_tree.fetch_max(bytes, Ordering::Relaxed);
        let mut unit = self.unit(&source, &document, problems, lost, &tree);
        self.report_duplicates(&includes, &unit.base, &mut unit.problems);
        Reading {
            library: if unit.fragments.is_empty() { unit.library } else { unit.library.of_file(source.id) },
            findings: unit.problems.finish(source.id),
            included: tree.iter().map(|kept| kept.source.clone()).collect(),
            whole,
            fragment: !unit.missing.is_empty(),
            fragments: unit.fragments,
            source,
        }
    }

    /// The text of a path, fetched and parsed by the first thread that needs it.
    fn keep(&self, path: &str) -> Result<Arc<IncludedText>, String> {
        let places = match is_builtin(path) {
            true => &self.map.built_ins.unwrap_or(&self.map.own_built_ins).0,
            false => &self.shelf.kept,
        };
        let cell = places.lock().expect("no thread panics here").entry(path.to_owned()).or_default().clone();
        cell.get_or_init(|| {
            let built_in = builtin(path).zip(builtin_document(path));
            let (source, document, problems) = match built_in {
                Some((source, document)) => (source, document, Diagnostics::default()),
                None => {
                    let source = (self.map.fetch)(path)?;
                    self.shelf.holds_more(source.text.len());
                    let (document, problems) = syntax::read(&source);
                    (source, document, problems)
                }
            };
            let includes = includes(&document, &source);
            let (reach, alone) = (OnceLock::new(), OnceLock::new());
            Ok(Arc::new(IncludedText { path: path.to_owned(), source, document, problems, includes, reach, alone }))
        })
        .clone()
    }

    /// Names that two included files define, reported at the include of the second.
    fn report_duplicates(&self, includes: &[Include], base: &[Arc<IncludedText>], problems: &mut Diagnostics) {
        let merged = self.merge(base);
        if merged.twice.is_empty() {
            return;
        }
        let brought: Vec<HashSet<FileId>> = includes
            .iter()
            .map(|include| {
                let (mut seen, mut tree) = (HashSet::default(), Vec::new());
                let _ = self.follow(include, &mut seen, &mut tree, &mut true);
                tree.iter().map(|kept| kept.source.id).collect()
            })
            .collect();
        let mut bringer: HashMap<FileId, Option<&Include>> = HashMap::default();
        for twice in &merged.twice {
            let file = twice.second.file;
            let find =
                || includes.iter().zip(&brought).rfind(|(_, tree)| tree.contains(&file)).map(|(include, _)| include);
            let Some(include) = *bringer.entry(file).or_insert_with(find) else { continue };
            let (phrase, name) = (twice.kind, &twice.name);
            let message = Message::DuplicateInIncludes { phrase, name, first: twice.first, second: twice.second };
            problems.add(message.at(include.span));
        }
    }
}
