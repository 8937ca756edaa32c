//! The texts of a library, held in memory.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use crate::model::no_text;
use crate::text::{FileId, Source, nearest};

/// Texts by their names: paths with `/`, from the folder that is the library. An include is looked for here, from the
/// folder of the text that it stands in.
///
/// ```
/// let mut texts = headlap::Texts::new();
/// texts.add("walls/base.detail", "include \"../shared.detail\"\n");
/// texts.add("shared.detail", "include \"stock.detail\"\n");
/// assert_eq!(texts.names().collect::<Vec<_>>(), ["shared.detail", "walls/base.detail"]);
/// ```
#[derive(Clone, Debug, Default)]
pub struct Texts {
    by_name: BTreeMap<String, Arc<Source>>,
    next: usize,
}

impl Texts {
    /// Without a text.
    pub fn new() -> Texts {
        Texts::default()
    }

    /// Adds a text, or puts it in the place of the one that had this name.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) {
        let name = name.into();
        let source = Source::new(FileId::detail(self.next), name.as_str(), text.into());
        self.next += 1;
        self.by_name.insert(name, Arc::new(source));
    }

    /// The names, sorted.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.by_name.keys().map(String::as_str)
    }

    pub(in crate::checker) fn iter(&self) -> impl Iterator<Item = &Arc<Source>> {
        self.by_name.values()
    }

    pub(in crate::checker) fn source(&self, name: &str) -> Option<&Arc<Source>> {
        self.by_name.get(name)
    }

    /// The text that an include leads to, or in words why it cannot be had.
    pub(in crate::checker) fn fetch(&self, path: &str) -> Result<Arc<Source>, String> {
        self.source(path).cloned().ok_or_else(|| {
            let folder = Path::new(path).parent();
            let beside = self.names().filter(|name| Path::new(name).parent() == folder);
            let file = |name: &str| name.rsplit('/').next().unwrap_or(name).to_owned();
            let files: Vec<String> = beside.map(file).collect();
            let near = nearest(&file(path), files.iter().map(String::as_str));
            no_text::near(no_text::NO_FILE, near)
        })
    }
}
