//! Whole reviews: the demo library, runs of many files, and what must not change a finding.

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

use headlap::facts::Assumed;
use headlap::model::SourceMap;
use headlap::report::Report;
use headlap::review::{Files, Given, Reviewer, run};
use headlap::rules::{Pack, Rule, test_rule};
use headlap::text::{FileId, Source};
use jiff::civil::{Date, date};

/// Waivers of the fixtures are written for this day.
pub const TODAY: Date = date(2026, 11, 25);

pub fn pack() -> &'static Pack {
    static PACK: LazyLock<Pack> = LazyLock::new(|| Pack::load(&[]).unwrap_or_else(|_| panic!("the stock rules load")));
    &PACK
}

/// Reviews texts under the names of their files.
pub fn review_texts(files: &[(&str, &str)]) -> Report {
    review_with(pack(), files)
}

/// The same with other rules than the built-in ones.
pub fn review_with(pack: &Pack, files: &[(&str, &str)]) -> Report {
    let texts: BTreeMap<&str, &str> = files.iter().copied().collect();
    let fetch = |path: &str| match texts.get(path) {
        Some(text) => {
            let number = texts.keys().position(|name| *name == path).expect("it is one of them");
            Ok(Arc::new(Source::new(FileId::detail(1_000_000 + number), path, *text)))
        }
        None => Err("there is no such file".to_owned()),
    };
    let source_map = SourceMap::new(&fetch, &pack.words);
    let reviewer = Reviewer::new(&source_map, pack, TODAY);
    let read = |number: usize| {
        let (name, text) = files[number];
        Given::Text(Arc::new(Source::new(FileId::detail(number), name, text)))
    };
    let files = Files { count: files.len(), read: &read, has: &|name| texts.contains_key(name) };
    run(&reviewer, &files, false).report
}

pub fn review_text(text: &str) -> Report {
    review_texts(&[("a.detail", text)])
}

/// What facts take for granted by the stock rules.
pub fn assumed() -> Arc<Assumed> {
    pack().assumed.clone()
}

#[test]
fn findings_of_several_files_keep_the_words_that_they_share_once() {
    let text = "include \"stock.detail\"\nassembly W wall { outside; layer wrap-open controls water, air; inside }\n\
        detail D course joins W { piece upper wrap-open of W up from 0 mm; piece lower wrap-open of W up to 20 mm }\n";
    let found = review_texts(&[("a.detail", text), ("b.detail", text)]).findings;
    let of = |number: usize| found.iter().filter(|f| &*f.rule == "reverse-lap").nth(number).expect("one in each file");
    let (a, b) = (of(0), of(1));
    let same = |one: &Arc<str>, other: &Arc<str>| Arc::ptr_eq(one, other);
    assert!(a.fix.as_ref().zip(b.fix.as_ref()).is_some_and(|(a, b)| same(a, b)));
    assert!(same(&a.subject[0], &b.subject[0]) && same(&a.values[0].1, &b.values[0].1));
    assert!(same(&a.related[0].message, &b.related[0].message) && same(&a.trail[0].message, &b.trail[0].message));
}

#[test]
fn every_stock_rule_passes_its_own_examples() {
    let problems_of = |rule: &Rule| {
        let tested = test_rule(pack(), rule, &|text| review_text(text).findings);
        tested.problems.into_iter().map(|problem| format!("{}: {}", rule.id, problem.message)).collect::<Vec<_>>()
    };
    let problems: Vec<String> = pack().rules.iter().flat_map(problems_of).collect();
    assert!(problems.is_empty(), "\n{}", problems.join("\n"));
}

#[test]
fn a_property_that_a_material_of_the_tool_lacks_asks_for_a_material_of_ones_own() {
    let text = "include \"stock.detail\"\n\
                assembly W wall {\n  layer plywood 12 mm\n}\n\
                detail D penetration joins W {\n  piece wrap wrap-open\n  \
                piece boot pipe-boot up 100 mm to 300 mm bonds wrap\n}\n";
    let report = review_text(text);
    let missing = report.findings.iter().find(|f| &*f.rule == "missing-property").expect("a boot states no adhesive");
    assert_eq!(&text[missing.span.start as usize..missing.span.end as usize], "pipe-boot");
    assert_eq!(
        missing.fix.as_deref(),
        Some("pipe-boot is built into headlap. Define a material of your own that states it.")
    );
}
