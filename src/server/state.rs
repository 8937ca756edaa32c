//! What a session knows: the open texts, the libraries that they belong to, and what their reviews came to.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::civil::Date;
use lsp_types::{Location, TextDocumentContentChangeEvent, Uri};

use crate::model::Reading;
use crate::project::{self, IncludeGraph, Unsaved};
use crate::report::Checked;
use crate::server::address::{address, is_unsaved, path_of};
use crate::server::library::Libraries;
use crate::server::position::Encoding;
use crate::server::review::Reviewed;
use crate::text::{FileId, Source, Span};

pub struct State {
    /// Findings name files from here.
    pub working: PathBuf,
    pub today: fn() -> Date,
    pub encoding: Encoding,
    pub hints: bool,
    pub open: BTreeMap<PathBuf, OpenText>,
    pub unsaved: Arc<Unsaved>,
    pub libraries: Libraries,
    pub reviewed: BTreeMap<PathBuf, Reviewed>,
    /// What the files of the libraries include.
    pub includes: IncludeGraph,
    /// Files that the client was sent findings of.
    pub published: BTreeMap<PathBuf, Uri>,
}

/// A text that the editor shows.
pub struct OpenText {
    /// As the client writes it.
    pub uri: Uri,
    pub version: i32,
    pub source: Arc<Source>,
}

impl State {
    pub fn new(working: PathBuf, folders: Vec<PathBuf>, today: fn() -> Date, encoding: Encoding) -> State {
        let libraries = Libraries::new(folders, working.clone());
        State {
            working,
            today,
            encoding,
            hints: true,
            open: BTreeMap::new(),
            unsaved: Arc::default(),
            libraries,
            reviewed: BTreeMap::new(),
            includes: IncludeGraph::default(),
            published: BTreeMap::new(),
        }
    }

    /// The file that an address names, with one name for one file.
    pub fn path(&self, uri: &Uri) -> Option<PathBuf> {
        path_of(uri).map(|path| project::plain(&path, &self.working))
    }

    pub fn uri(&self, path: &Path) -> Option<Uri> {
        self.open.get(path).map(|open| open.uri.clone()).or_else(|| address(path))
    }

    pub fn opened(&mut self, uri: Uri, version: i32, text: String) -> Option<PathBuf> {
        let path = self.path(&uri)?;
        self.hold(path.clone(), uri, version, text);
        Some(path)
    }

    /// Applies changes in their order; each is counted in the text that the one before it left.
    pub fn changed(
        &mut self,
        uri: &Uri,
        version: i32,
        changes: Vec<TextDocumentContentChangeEvent>,
    ) -> Option<PathBuf> {
        let path = self.path(uri)?;
        let mut source = self.open.get(&path)?.source.clone();
        for change in changes {
            let text = match change.range {
                None => change.text,
                Some(range) => {
                    let bytes = self.encoding.bytes(&source, range);
                    [&source.text[..bytes.start], &change.text, &source.text[bytes.end..]].concat()
                }
            };
            source = Arc::new(Source::new(FileId::detail(0), &*source.name, text));
        }
        self.hold(path.clone(), uri.clone(), version, source.text.clone());
        Some(path)
    }

    /// The disk holds for this file again.
    pub fn closed(&mut self, uri: &Uri) -> Option<PathBuf> {
        let path = self.path(uri)?;
        // A text that has just been saved may be open under its new address already.
        let saved = |open: &OpenText| is_unsaved(&open.uri) != is_unsaved(uri);
        if self.open.get(&path).is_some_and(saved) {
            return None;
        }
        self.open.remove(&path);
        self.reviewed.remove(&path);
        if let Some(memory) = self.libraries.memory(&path) {
            memory.forget(&project::shown(&path, &self.working));
        }
        Arc::make_mut(&mut self.unsaved).remove(&path);
        Some(path)
    }

    fn hold(&mut self, path: PathBuf, uri: Uri, version: i32, text: String) {
        let source = Arc::new(Source::new(FileId::detail(0), project::shown(&path, &self.working), text));
        Arc::make_mut(&mut self.unsaved).put(path.clone(), source.text.as_str());
        self.open.insert(path, OpenText { uri, version, source });
    }

    /// The text of a file that findings or names lead to.
    pub fn source(&self, path: &Path) -> Option<Arc<Source>> {
        if let Some(open) = self.open.get(path) {
            return Some(open.source.clone());
        }
        let text = self.unsaved.read(path).ok()?;
        Some(Arc::new(Source::new(FileId::detail(0), project::shown(path, &self.working), text)))
    }

    /// A place in a text of a run, by the name of its file.
    pub fn location(&self, source: &Source, span: Span) -> Option<Location> {
        let path = project::plain(Path::new(&source.name), &self.working);
        let range = self.encoding.range(source, span);
        Some(Location { uri: self.uri(&path)?, range })
    }

    /// An open file with all names that it may use.
    pub fn reading(&self, path: &Path) -> Option<Reading> {
        let library = self.libraries.of(path)?;
        project::reading(library, path, &self.unsaved, &self.working).ok()
    }

    /// What the last review worked out of an open file.
    pub fn checked(&self, path: &Path) -> Option<&Checked> {
        self.reviewed.get(path)?.checked()
    }
}
