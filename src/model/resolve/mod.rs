//! Documents to a library: every name looked up, what is unknown said once.

mod absent;
mod assembly;
mod climate;
mod detail;
mod material;
mod piece;
mod scope;
mod set;
mod voice;
mod waiver;

pub(in crate::model) use absent::Absent;
pub use scope::ItemKind;
pub(in crate::model) use scope::Scope;
pub(in crate::model) use voice::Voice;

use std::sync::Arc;

use crate::model::{Library, Names, Words};
use crate::syntax::{Document, Item, Keyword};
use crate::text::Source;

/// A document with the voice that speaks of its text.
pub(in crate::model) struct Part<'a> {
    pub document: &'a Document,
    pub voice: Voice<'a>,
}

/// Resolves documents that share one namespace over the names of what they include.
/// Each kind of item may be named before it is written.
pub(in crate::model) fn resolve(parts: &mut [Part<'_>], base: Arc<Names>, words: &Words) -> Library {
    let mut scope = Scope::new(base, words);
    each(parts, Keyword::Material, |item, voice| material::material(&mut scope, voice, item));
    each(parts, Keyword::Climate, |item, voice| climate::climate(&mut scope, voice, item));
    each(parts, Keyword::Assembly, |item, voice| assembly::assembly(&mut scope, voice, item));
    each(parts, Keyword::Detail, |item, voice| detail::detail(&mut scope, voice, item));
    each(parts, Keyword::Set, |item, voice| set::set(&mut scope, voice, item));
    scope.library
}

fn each<'a>(parts: &mut [Part<'a>], keyword: Keyword, mut read: impl FnMut(&'a Item, &mut Voice<'a>)) {
    for part in parts {
        for item in part.document.items.iter().filter(|item| item.head.keyword == keyword) {
            read(item, &mut part.voice);
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
