//! Facts that rules of any kind are held against.

use std::sync::LazyLock;

use headlap::facts::vocabulary::Kind;
use headlap::finding::Finding;
use headlap::review::Run;
use headlap::rules::{Pack, judge};

use super::review::reviewed;
use super::spans::all_inside;

/// Something of every kind that rules can be about.
const TEXT: &str = include_str!("sample.detail");

/// Asks the rules about the sample twice: the same answers, at places of the sample.
pub fn judged(pack: &Pack) {
    static SAMPLE: LazyLock<Run> = LazyLock::new(|| reviewed(&[TEXT], true));
    let checked = &SAMPLE.checked[0];
    let ask = || -> Vec<Finding> {
        let inside = |kind| checked.facts.details.iter().flat_map(move |facts| facts.items(kind).iter());
        judge(pack, Kind::ALL.into_iter().flat_map(|kind| checked.facts.around(kind).chain(inside(kind))))
    };
    let told = ask();
    assert!(told == ask(), "other answers the second time");
    let sources = || std::iter::once(&checked.source).chain(&checked.included);
    // Places in built-in libraries are not among the included files; those of the sample are what is looked at.
    let of = |span: headlap::text::Span| sources().find(|source| source.id == span.file).map(|source| &**source);
    told.iter().filter(|finding| finding.related.iter().all(|r| of(r.span).is_some())).for_each(|f| {
        if of(f.span).is_some() {
            all_inside(f, &of);
        }
    });
}
