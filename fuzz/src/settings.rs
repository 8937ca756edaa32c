//! Any text as a project's settings: refused at places inside, or held against rules.

use std::path::PathBuf;
use std::sync::Arc;

use headlap::project::settings;
use headlap::rules::Pack;
use headlap::text::{FileId, Source};

use super::expression::BASE;
use super::sample::judged;
use super::spans::all_inside;

/// Tries these bytes.
pub fn run(bytes: &[u8]) {
    let source = Arc::new(Source::new(FileId::detail(0), "headlap.toml", String::from_utf8_lossy(bytes)));
    let base = Arc::new(Source::new(FileId::detail(1), "rules/base.toml", BASE));
    let of = |span: headlap::text::Span| [&source, &base].into_iter().find(|s| s.id == span.file).map(|s| &**s);
    let read = || settings(source.clone(), PathBuf::from("/library"));
    let config = match (read(), read()) {
        (Ok(config), Ok(_)) => config,
        (Err(problems), Err(again)) => {
            assert!(!problems.is_empty() && problems == again, "other problems the second time");
            problems.iter().for_each(|problem| all_inside(problem, &of));
            return;
        }
        _ => panic!("read once and refused once"),
    };
    let all = std::iter::once(&config.adjustments).chain(config.folders.iter().map(|folder| &folder.adjustments));
    for adjustments in all {
        let mut pack = Pack::of(std::slice::from_ref(&base), &[]).unwrap_or_else(|problems| panic!("{problems:?}"));
        pack.units = config.units;
        match pack.adjust(adjustments) {
            Ok(()) => judged(&pack),
            Err(problems) => problems.iter().for_each(|problem| all_inside(problem, &of)),
        }
    }
}
