//! The names that files define, found without working anything out.

use std::collections::BTreeSet;
use std::path::Path;

use crate::project::home::top_of;
use crate::project::{Walked, read, walk};
use crate::syntax::{Clause, Item, Keyword, read as read_text, unquoted};
use crate::text::{FileId, Source};

/// More than a shell shows; a script that names all items of a large library would take long to load.
const MOST_NAMES: usize = 1000;
const MOST_FILES: usize = 2000;

/// A detail, an assembly or a material.
pub struct Defined {
    pub name: String,
    /// The sheet that a detail is drawn on.
    pub sheet: Option<String>,
}

impl Defined {
    /// What its sheet can be called: `3/A-501`, the third detail on its sheet, or `A-501`, the whole of it.
    pub fn names_of_sheet(&self) -> impl Iterator<Item = &str> {
        let sheet = self.sheet.as_deref();
        sheet.into_iter().chain(sheet.and_then(|sheet| sheet.split_once('/')).map(|(_, whole)| whole))
    }
}

/// What a text defines, in its order.
pub fn defined(source: &Source) -> Vec<Defined> {
    let sheet = |item: &Item| {
        let stated = item.body.iter().filter(|statement| statement.keyword == Keyword::Sheet);
        let texts = stated.flat_map(|statement| &statement.clauses).filter_map(|part| match part.clause {
            Clause::Text(text) => Some(unquoted(source.at(text))),
            _ => None,
        });
        texts.last()
    };
    let named = |item: &Item| {
        matches!(item.head.keyword, Keyword::Detail | Keyword::Assembly | Keyword::Material)
            .then_some(item.head.names.first)
            .flatten()
            .map(|name| Defined { name: source.at(name).to_owned(), sheet: sheet(item) })
    };
    read_text(source).0.items.iter().filter_map(named).collect()
}

/// What these files define. One that cannot be read defines nothing.
pub fn defined_in(walked: &Walked, working: &Path) -> impl Iterator<Item = Defined> {
    walked.files.iter().flat_map(move |found| {
        let path = found.path(working);
        let text = if walked.unsaved.has(&path) { walked.unsaved.read(&path) } else { read(&path) };
        text.map_or_else(|_| Vec::new(), |text| defined(&Source::new(FileId::detail(0), &*found.name, text)))
    })
}

/// Details, assemblies and materials of the library around a folder, in the order of their letters.
pub fn item_names(working: &Path) -> Vec<String> {
    let mut walked = walk(&[top_of(working, working)], working);
    walked.files.truncate(MOST_FILES);
    let names: BTreeSet<String> = defined_in(&walked, working).map(|defined| defined.name).collect();
    names.into_iter().take(MOST_NAMES).collect()
}
