//! The libraries that are built into the tool: materials and climates.

use std::sync::{Arc, LazyLock, OnceLock};

use foldhash::HashMap;

use crate::model::resolve::{ItemKind, defines};
use crate::syntax::{Document, PreparedText, read_prepared};
use crate::text::{FileId, Source};

/// As the build script has prepared them, in the order of their numbers.
static PREPARED: LazyLock<Vec<PreparedText<'static>>> =
    LazyLock::new(|| read_prepared(include_bytes!(concat!(env!("OUT_DIR"), "/texts"))));

/// Each text by its name.
static TEXTS: LazyLock<HashMap<&'static str, BuiltIn>> = LazyLock::new(|| {
    let text = |(number, text): (usize, &'static PreparedText<'static>)| {
        (text.name, BuiltIn { number, text, source: OnceLock::new() })
    };
    PREPARED.iter().enumerate().map(text).collect()
});

/// A text that is made a source when it is asked for: most runs include one or two.
struct BuiltIn {
    /// The same in every thread, and that of no other text.
    number: usize,
    text: &'static PreparedText<'static>,
    source: OnceLock<Arc<Source>>,
}

/// The built-in text of an include, such as `stock.detail` or `climates/miami-1a.detail`. The folder `start` is not for
/// including: its files are there to be written out.
pub fn builtin(include: &str) -> Option<Arc<Source>> {
    let BuiltIn { number, text, source } = TEXTS.get(include)?;
    let made = || Arc::new(Source::new(FileId::built_in(*number), text.name, text.text));
    Some(source.get_or_init(made).clone())
}

/// What a built-in text reads as. None of them has a mistake.
pub(in crate::model) fn builtin_document(include: &str) -> Option<Document> {
    TEXTS.get(include).map(|built_in| built_in.text.document())
}

/// Whether an include means a built-in text.
pub fn is_builtin(include: &str) -> bool {
    TEXTS.contains_key(include)
}

/// The built-in library that gives a name, and so what to include for it.
pub(in crate::model) fn giver(kind: ItemKind, name: &str) -> Option<&'static str> {
    static GIVERS: LazyLock<HashMap<(ItemKind, String), &'static str>> = LazyLock::new(|| {
        let mut givers = HashMap::default();
        for library in names() {
            let (Some(source), Some(document)) = (builtin(library), builtin_document(library)) else { continue };
            givers.extend(defines(&document, &source).map(|(kind, name)| ((kind, name.to_owned()), library)));
        }
        givers
    });
    GIVERS.get(&(kind, name.to_owned())).copied()
}

/// The names that an include may give for a built-in text.
pub fn names() -> impl Iterator<Item = &'static str> {
    PREPARED.iter().map(|text| text.name)
}

#[cfg(test)]
mod tests {
    use super::{builtin, builtin_document, is_builtin, names};
    use crate::model::include::includes;
    use crate::syntax;

    /// Shelves share what they have read of it.
    #[test]
    fn what_is_built_in_leans_on_nothing_else() {
        for source in names().filter_map(builtin) {
            let included = includes(&syntax::read(&source).0, &source);
            assert!(included.iter().all(|include| include.path.as_deref().is_ok_and(is_builtin)), "{}", source.name);
        }
    }

    /// The same places in the same files, too.
    #[test]
    fn what_is_prepared_is_what_the_files_say() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("rules");
        for source in names().filter_map(builtin) {
            let text = std::fs::read_to_string(folder.join(&source.name)).expect("it was prepared from there");
            assert_eq!(source.text, text);
            let (document, findings) = syntax::parse(&source);
            assert_eq!((builtin_document(&source.name), findings), (Some(document), Vec::new()), "{}", source.name);
        }
        assert_eq!(names().count(), 1 + std::fs::read_dir(folder.join("climates")).expect("they are there").count());
    }
}
