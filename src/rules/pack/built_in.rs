//! The stock rules that are built in: their files, and the form that the build script prepares.

use std::sync::Arc;

use include_dir::{Dir, include_dir};

use crate::rules::written::is_stock;
use crate::text::{FileId, Source};

static STOCK: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/rules");

/// All of them as the build script has prepared them.
pub static PREPARED: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/rules"));

/// The files of the built-in rules.
pub fn stock_sources() -> Vec<Arc<Source>> {
    fn gather(dir: &'static Dir<'static>, into: &mut Vec<(&'static str, &'static str)>) {
        for file in dir.files() {
            if let (Some(path), Some(text)) = (file.path().to_str(), file.contents_utf8())
                && is_stock(path)
            {
                into.push((path, text));
            }
        }
        dir.dirs().for_each(|dir| gather(dir, into));
    }
    let mut files = Vec::new();
    gather(&STOCK, &mut files);
    files.sort();
    let source = |(at, (path, text)): (usize, &(&str, &str))| {
        Arc::new(Source::new(FileId::stock_rules(at), format!("rules/{path}"), *text))
    };
    files.iter().enumerate().map(source).collect()
}
