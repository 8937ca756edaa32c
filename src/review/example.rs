//! One text alone, for the examples that rules carry.

use std::sync::Arc;

use jiff::civil::Date;

use crate::finding::Finding;
use crate::model::Shelf;
use crate::review::{Files, Given, Reviewer, run};
use crate::rules::Pack;
use crate::text::{FileId, Source};

const NAME: &str = "example.detail";

/// All findings of a text that includes nothing but built-in libraries.
pub fn review_text(pack: &Pack, text: &str, today: Date) -> Vec<Finding> {
    let fetch = |path: &str| Err(format!("an example stands alone, there is no {path}"));
    let shelf = Shelf::new(&fetch, &pack.words);
    let reviewer = Reviewer::new(&shelf, pack, today);
    let read = |_| Given::Text(Arc::new(Source::new(FileId(0), NAME, text)));
    run(&reviewer, &Files { count: 1, read: &read, has: &|name| name == NAME }, false).report.findings
}
