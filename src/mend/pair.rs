//! Pairs of edits, for findings that no single edit cures.

use crate::finding::{Edit, Finding};
use crate::mend::title::Title;
use crate::mend::{Context, Cure, drafts};
use crate::text::Span;

/// How many of the findings that a first edit brings are looked at, and how many edits for each of them.
const MOST_BROUGHT: usize = 2;
const MOST_SECOND: usize = 8;

/// An edit that clears the finding and brings another one, paired with a cure of that one; then any two of the edits.
pub fn pairs<'c>(
    context: &'c Context<'_>,
    drafts: &'c [Cure],
    partial: &'c [(usize, Vec<Finding>)],
) -> impl Iterator<Item = Cure> + 'c {
    let seconds = partial.iter().flat_map(move |(n, brought)| {
        let first = &drafts[*n];
        seconds(context, first, brought).into_iter().map(move |second| both(first, &second))
    });
    let is_partial = |n: &usize| partial.iter().any(|(is_partial, _)| is_partial == n);
    let mut any: Vec<(usize, usize)> =
        (0..drafts.len()).flat_map(|n| (n + 1..drafts.len()).map(move |m| (n, m))).collect();
    any.sort_by_key(|(n, m)| !is_partial(n) && !is_partial(m));
    seconds.chain(any.into_iter().map(move |(n, m)| both(&drafts[n], &drafts[m])))
}

fn seconds(context: &Context<'_>, first: &Cure, brought: &[Finding]) -> Vec<Cure> {
    let own = brought.iter().filter(|finding| finding.item == context.finding.item && !finding.unread());
    let seconds = own.take(MOST_BROUGHT).flat_map(|finding| {
        let range = finding.span.range();
        let [start, end] = [range.start, range.end].map(|at| before(&first.edits, at));
        let mut finding = finding.clone();
        finding.span = Span::new(context.source.id, start, end.max(start));
        finding.edits.clear();
        let next = Context { finding: &finding, ..*context };
        drafts(&next).into_iter().take(MOST_SECOND).collect::<Vec<_>>()
    });
    seconds.collect()
}

/// The place in the text before the edits that corresponds to a place after them.
fn before(edits: &[Edit], at: usize) -> usize {
    let mut sorted: Vec<&Edit> = edits.iter().collect();
    sorted.sort_by_key(|edit| edit.span.start);
    let (mut old, mut new) = (0, 0);
    for edit in sorted {
        let range = edit.span.range();
        let start = new + (range.start - old);
        if at < start {
            break;
        }
        if at < start + edit.text.len() {
            return range.start;
        }
        (old, new) = (range.end, start + edit.text.len());
    }
    old + (at - new)
}

fn both(first: &Cure, second: &Cure) -> Cure {
    let title = Title::Both { first: &first.title, second: &second.title };
    Cure::new(title, [&first.edits[..], &second.edits[..]].concat())
}
