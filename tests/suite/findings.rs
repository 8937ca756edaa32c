//! Every rule and every error of the text, on a file of its own: the expected findings stand under the words that they
//! concern (`# ^^^^ rule-id`), and are demanded in both directions.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::Path;

use crate::review::review_text;

/// A finding as an annotation states it: line, first column, rule.
pub type Reported = (usize, usize, String);

/// Annotations: carets under the words of the last line that is none, then the rule. Columns count from 1.
pub fn expected(text: &str) -> BTreeSet<Reported> {
    let mut reported = BTreeSet::new();
    let mut above = 0;
    for (number, line) in text.lines().enumerate() {
        match annotation(line) {
            Some((column, rule)) => {
                reported.insert((above, column, rule.to_owned()));
            }
            None => above = number + 1,
        }
    }
    reported
}

fn annotation(line: &str) -> Option<(usize, &str)> {
    let hash = line.find('#')?;
    if !line[..hash].trim().is_empty() {
        return None;
    }
    let start = hash + line[hash..].find('^')?;
    if !line[hash + 1..start].trim().is_empty() {
        return None;
    }
    let rest = line[start..].trim_start_matches('^');
    Some((line[..start].chars().count() + 1, rest.trim()))
}

#[test]
fn findings_stand_where_the_fixtures_say() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/findings");
    let mut wrong = String::new();
    let mut files: Vec<_> = fs::read_dir(&folder).expect("fixtures").map(|e| e.expect("an entry").path()).collect();
    files.retain(|path| path.extension().is_some_and(|e| e == "detail"));
    files.sort();
    assert!(files.len() > 60, "a fixture for each rule");
    for path in files {
        let text = fs::read_to_string(&path).expect("a text");
        let report = review_text(&text);
        let expected = expected(&text);
        let found: BTreeSet<Reported> = report
            .findings
            .iter()
            .filter(|finding| finding.waived.is_none())
            .filter_map(|finding| {
                let (file, at) = report.place(finding.span)?;
                (file == "a.detail").then(|| (at.line, at.column, finding.rule.to_string()))
            })
            .collect();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        for (line, column, rule) in expected.difference(&found) {
            let _ = writeln!(wrong, "{name}:{line}:{column}: expected {rule}, not found");
        }
        for (line, column, rule) in found.difference(&expected) {
            let message = report.findings.iter().find(|f| *f.rule == **rule).map_or("", |f| &f.message);
            let _ = writeln!(wrong, "{name}:{line}:{column}: found {rule}, not expected: {message}");
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

#[test]
fn every_stock_rule_has_a_fixture_that_it_fails() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/findings");
    let pack = headlap::rules::Pack::load(&[]).expect("the stock rules load");
    let ids = pack.rules.iter().map(|rule| rule.id.to_string());
    // No ordinary detail shows these: they are tested in `limits`, `filesystem` and `hostile`.
    let large = ["too-large", "unreadable", "errors-left-out", "internal-error"];
    let errors = headlap::finding::Id::ALL.iter().filter(|id| id.of_text()).map(|id| id.word().to_owned());
    let errors = errors.filter(|id| !large.contains(&&**id));
    let without: Vec<String> = ids
        .chain(errors)
        .filter(|id| {
            let text = fs::read_to_string(folder.join(format!("{id}.detail"))).unwrap_or_default();
            !expected(&text).iter().any(|(.., rule)| rule == id)
        })
        .collect();
    assert!(without.is_empty(), "no failing fixture for {without:?}");
}
