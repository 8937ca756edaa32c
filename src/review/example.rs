//! One text alone, for the examples that rules carry.

use std::sync::Arc;

use jiff::civil::Date;

use crate::finding::Finding;
use crate::model::Shelf;
use crate::review::{Given, Reviewer, run};
use crate::rules::Pack;
use crate::text::{FileId, Source};

/// All findings of a text that includes nothing but built-in libraries.
pub fn review_text(pack: &Pack, text: &str, today: Date) -> Vec<Finding> {
    let fetch = |path: &str| Err(format!("an example stands alone, there is no {path}"));
    let shelf = Shelf::new(&fetch, &pack.words);
    let reviewer = Reviewer::new(&shelf, pack, today);
    let given = |_| Given::Text(Arc::new(Source::new(FileId(0), "example.detail", text)));
    run(&reviewer, 1, &given, false).report.findings
}
