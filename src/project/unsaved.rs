//! Texts that an editor holds, saved or not: they win over what the disk says.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::project::{Unreadable, read};

/// By absolute path, without `.` and `..`.
#[derive(Clone, Debug, Default)]
pub struct Unsaved {
    texts: BTreeMap<PathBuf, Arc<str>>,
}

impl Unsaved {
    pub fn put(&mut self, path: PathBuf, text: impl Into<Arc<str>>) {
        self.texts.insert(path, text.into());
    }

    pub fn remove(&mut self, path: &Path) {
        self.texts.remove(path);
    }

    pub fn get(&self, path: &Path) -> Option<&Arc<str>> {
        self.texts.get(path)
    }

    pub fn has(&self, path: &Path) -> bool {
        self.texts.contains_key(path)
    }

    pub fn paths(&self) -> impl Iterator<Item = &PathBuf> {
        self.texts.keys()
    }

    /// The text that is held, or that of the file.
    ///
    /// # Errors
    /// As `project::read`.
    pub fn read(&self, path: &Path) -> Result<String, Unreadable> {
        match self.get(path) {
            Some(text) => Ok(text.strip_prefix('\u{FEFF}').unwrap_or(text).to_owned()),
            None => read(path),
        }
    }
}
