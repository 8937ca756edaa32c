//! The names that a library defines, for those who complete them.

use std::collections::BTreeSet;
use std::path::Path;

use crate::project::home::top_of;
use crate::project::{read, walk};
use crate::syntax::{Keyword, read as read_text};
use crate::text::{FileId, Source};

/// More than a shell shows; a script that names all items of a large library would take long to load.
const MOST_NAMES: usize = 1000;
const MOST_FILES: usize = 2000;

/// Details, assemblies and materials of the library around a folder, in the order of their letters.
pub fn item_names(working: &Path) -> Vec<String> {
    let walked = walk(&[top_of(working, working)], working);
    let mut names = BTreeSet::new();
    for found in walked.files.iter().take(MOST_FILES) {
        let Ok(text) = read(&found.path(working)) else { continue };
        let source = Source::new(FileId(0), &*found.name, text);
        let heads = read_text(&source).0.items.into_iter().map(|item| item.head);
        let named = heads.filter(|h| matches!(h.keyword, Keyword::Detail | Keyword::Assembly | Keyword::Material));
        names.extend(named.filter_map(|head| head.names.first).map(|name| source.at(name).to_owned()));
    }
    names.into_iter().take(MOST_NAMES).collect()
}
