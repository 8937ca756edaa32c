//! Two edits where one does not do.

use crate::finding::{Edit, Finding};
use crate::mend::{Case, Cure, drafts};
use crate::text::Span;

/// So many findings that a first edit brings are looked at, and so many edits for each of them.
const MOST_BROUGHT: usize = 2;
const MOST_SECOND: usize = 8;

/// What clears the finding and brings another one, with a cure of that one; then any two of the edits.
pub fn pairs<'c>(
    case: &'c Case<'_>,
    drafts: &'c [Cure],
    halves: &'c [(usize, Vec<Finding>)],
) -> impl Iterator<Item = Cure> + 'c {
    let seconds = halves.iter().flat_map(move |(n, brought)| {
        let first = &drafts[*n];
        seconds(case, first, brought).into_iter().map(move |second| both(first, &second))
    });
    let half = |n: &usize| halves.iter().any(|(half, _)| half == n);
    let mut any: Vec<(usize, usize)> =
        (0..drafts.len()).flat_map(|n| (n + 1..drafts.len()).map(move |m| (n, m))).collect();
    any.sort_by_key(|(n, m)| !half(n) && !half(m));
    seconds.chain(any.into_iter().map(move |(n, m)| both(&drafts[n], &drafts[m])))
}

fn seconds(case: &Case<'_>, first: &Cure, brought: &[Finding]) -> Vec<Cure> {
    let own = brought.iter().filter(|finding| finding.item == case.finding.item && !finding.unread());
    let seconds = own.take(MOST_BROUGHT).flat_map(|finding| {
        let range = finding.span.range();
        let [start, end] = [range.start, range.end].map(|at| before(&first.edits, at));
        let mut finding = finding.clone();
        finding.span = Span::new(case.source.id, start, end.max(start));
        finding.edits.clear();
        let next = Case { finding: &finding, ..*case };
        drafts(&next).into_iter().take(MOST_SECOND).collect::<Vec<_>>()
    });
    seconds.collect()
}

/// Where a place of the edited text was before.
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
    Cure {
        title: format!("{}, and {}", first.title, lower(&second.title)),
        edits: [&first.edits[..], &second.edits[..]].concat(),
    }
}

fn lower(title: &str) -> String {
    let mut letters = title.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}
