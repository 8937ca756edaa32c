//! The libraries that are built into the tool: materials and climates.

use std::sync::{Arc, LazyLock, OnceLock};

use foldhash::HashMap;
use include_dir::{Dir, File, include_dir};

use crate::model::resolve::{ItemKind, defines};
use crate::syntax;
use crate::text::{FileId, Source};

static RULES: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/rules");

/// Each text by its name.
static TEXTS: LazyLock<HashMap<&'static str, BuiltIn>> = LazyLock::new(|| {
    let text = |(number, (name, file))| (name, BuiltIn { number, file, source: OnceLock::new() });
    files().enumerate().map(text).collect()
});

/// A text that is made a source when it is asked for: most runs include one or two.
struct BuiltIn {
    /// The same in every thread, and that of no other text.
    number: usize,
    file: &'static File<'static>,
    source: OnceLock<Arc<Source>>,
}

/// The built-in text of an include, such as `stock.detail` or `climates/miami-1a.detail`. The folder `start` is not for
/// including: its files are there to be written out.
pub fn builtin(include: &str) -> Option<Arc<Source>> {
    let (name, BuiltIn { number, file, source }) = TEXTS.get_key_value(include)?;
    let text = || file.contents_utf8().expect("what is built in is text");
    Some(source.get_or_init(|| Arc::new(Source::new(FileId::built_in(*number), *name, text()))).clone())
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
            let Some(source) = builtin(library) else { continue };
            let (document, _) = syntax::read(&source);
            givers.extend(defines(&document, &source).map(|(kind, name)| ((kind, name.to_owned()), library)));
        }
        givers
    });
    GIVERS.get(&(kind, name.to_owned())).copied()
}

/// The names that an include may give for a built-in text.
pub fn names() -> impl Iterator<Item = &'static str> {
    files().map(|(name, _)| name)
}

fn files() -> impl Iterator<Item = (&'static str, &'static File<'static>)> {
    let climates = RULES.get_dir("climates").into_iter().flat_map(|dir| dir.files());
    let named = |file: &'static File<'static>| Some((file.path().to_str()?, file));
    RULES.files().chain(climates).filter_map(named).filter(|(name, _)| name.ends_with(".detail"))
}

#[cfg(test)]
mod tests {
    use super::{builtin, is_builtin, names};
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
}
