//! One text alone, for the examples that rules carry.

use std::sync::Arc;

use jiff::civil::Date;

use crate::finding::Finding;
use crate::model::{SourceMap, no_text};
use crate::review::{Files, Given, Reviewer, Run, run};
use crate::rules::Pack;
use crate::text::{FileId, Source};

const NAME: &str = "example.detail";

/// All findings of a text that includes nothing but built-in libraries.
pub fn review_text(pack: &Pack, text: &str, today: Date) -> Vec<Finding> {
    review_alone(pack, text, today, false).report.findings
}

/// A run over such a text, with its facts if asked for.
pub fn review_alone(pack: &Pack, text: &str, today: Date, keep: bool) -> Run {
    let fetch = |path: &str| Err(no_text::in_example(path));
    let source_map = SourceMap::new(&fetch, &pack.words);
    let reviewer = Reviewer::new(&source_map, pack, today);
    let read = |_| Given::Text(Arc::new(Source::new(FileId::detail(0), NAME, text)));
    run(&reviewer, &Files { count: 1, read: &read, has: &|name| name == NAME }, keep)
}
