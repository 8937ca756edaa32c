//! The libraries that are built into the tool: materials and climates.

use std::sync::Arc;

use include_dir::{Dir, include_dir};

use crate::text::{FileId, Source};

static RULES: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/rules");

/// Numbers of built-in texts lie out of the way of a run's own files.
const FIRST: u32 = 3 << 30;

/// The built-in text of an include, such as `stock.detail` or `climates/miami-1a.detail`. The folder `start` is not for
/// including: its files are there to be written out.
pub fn builtin(include: &str) -> Option<Arc<Source>> {
    if !include.ends_with(".detail") || include.starts_with("start/") {
        return None;
    }
    let file = RULES.get_file(include)?;
    // A file's number has to be the same in every thread, and no two texts may share one.
    let at = names().position(|name| name == include)?;
    Some(Arc::new(Source::new(FileId(FIRST + at as u32), include, file.contents_utf8()?)))
}

/// The names that an include may give for a built-in text.
pub fn names() -> impl Iterator<Item = &'static str> {
    let top = RULES.files();
    let climates = RULES.get_dir("climates").into_iter().flat_map(|dir| dir.files());
    top.chain(climates).filter_map(|file| file.path().to_str()).filter(|name| name.ends_with(".detail"))
}
