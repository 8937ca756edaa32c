//! Documents to a library: every name looked up, what is unknown said once.

mod absent;
mod assembly;
mod climate;
mod detail;
mod material;
mod piece;
mod reporter;
mod scope;
mod set;
mod waiver;

pub(in crate::model) use absent::Absent;
pub(in crate::model) use reporter::Reporter;
pub use scope::ItemKind;
pub(in crate::model) use scope::Scope;

use std::sync::Arc;

use crate::model::{Library, Namespace, Words};
use crate::syntax::{Document, Item, Keyword};
use crate::text::Source;

/// A document with the voice that speaks of its text.
pub(in crate::model) struct PendingDocument<'a> {
    pub document: &'a Document,
    pub reporter: Reporter<'a>,
}

/// Resolves documents that share one namespace over the names of what they include.
/// Each kind of item may be named before it is written.
pub(in crate::model) fn resolve(parts: &mut [PendingDocument<'_>], base: Arc<Namespace>, words: &Words) -> Library {
    let mut scope = Scope::new(base, words);
    each(parts, Keyword::Material, |item, reporter| material::material(&mut scope, reporter, item));
    each(parts, Keyword::Climate, |item, reporter| climate::climate(&mut scope, reporter, item));
    each(parts, Keyword::Assembly, |item, reporter| assembly::assembly(&mut scope, reporter, item));
    each(parts, Keyword::Detail, |item, reporter| detail::detail(&mut scope, reporter, item));
    each(parts, Keyword::Set, |item, reporter| set::set(&mut scope, reporter, item));
    scope.library
}

fn each<'a>(parts: &mut [PendingDocument<'a>], keyword: Keyword, mut read: impl FnMut(&'a Item, &mut Reporter<'a>)) {
    for part in parts {
        for item in part.document.items.iter().filter(|item| item.head.keyword == keyword) {
            read(item, &mut part.reporter);
        }
    }
}

/// The names that a document gives to what other files may mention.
pub(in crate::model) fn defines<'a>(
    document: &'a Document,
    source: &'a Source,
) -> impl Iterator<Item = (ItemKind, &'a str)> {
    document.items.iter().filter_map(|item| {
        let kind = match item.head.keyword {
            Keyword::Material => ItemKind::Material,
            Keyword::Climate => ItemKind::Climate,
            Keyword::Assembly => ItemKind::Assembly,
            _ => return None,
        };
        Some((kind, source.at(item.head.names.first?)))
    })
}
