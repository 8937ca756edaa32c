//! The verdict: how much is open, and in how many details and assemblies.

use std::collections::BTreeSet;

use crate::facts::AssemblyFacts;
use crate::finding::{Finding, Level};
use crate::output::html::Input;
use crate::output::html::drawings::Drawings;
use crate::output::words::{aside, counted, listed};

/// `5 errors in 4 of 24 details and 1 of 11 assemblies; 1 waived`
pub fn verdict(input: &Input, drawings: &Drawings) -> String {
    let open: Vec<&Finding> = input.report.findings.iter().filter(|finding| finding.open()).collect();
    let of = |level: Level| open.iter().filter(|finding| finding.level == level).count();
    let levels = [Level::Error, Level::Warning, Level::Note].map(|level| (of(level), level.word()));
    let counts: Vec<String> =
        levels.into_iter().filter(|(count, _)| *count > 0).map(|(count, word)| counted(count, word)).collect();
    let (found, place) = match counts.is_empty() {
        true => ("No open findings".to_owned(), all(input, drawings)),
        false => (counts.join(", "), touched(input, drawings, &open)),
    };
    format!("{found} in {}{}", listed(&place), aside(input.report.summary()))
}

/// `24 details`, `11 assemblies`
fn all(input: &Input, drawings: &Drawings) -> Vec<String> {
    let assemblies = assemblies(input).count();
    let counts = [(drawings.details.len(), "detail", "details"), (assemblies, "assembly", "assemblies")];
    let counts = counts.into_iter().filter(|(count, ..)| *count > 0);
    let words: Vec<String> =
        counts.map(|(count, one, many)| format!("{count} {}", if count == 1 { one } else { many })).collect();
    if words.is_empty() { vec![counted(input.report.files, "file")] } else { words }
}

/// `4 of 24 details`, `1 of 11 assemblies`, `the drawing set`
fn touched(input: &Input, drawings: &Drawings, open: &[&Finding]) -> Vec<String> {
    let details = drawings.details.iter();
    let details = details.filter(|drawn| drawn.numbers.iter().any(|n| input.report.findings[*n - 1].open())).count();
    let about = |facts: &&AssemblyFacts| {
        let named = |finding: &&&Finding| finding.item.as_deref() == Some(&*facts.assembly.name);
        open.iter().filter(named).any(|finding| finding.span.file == facts.assembly.span.file)
    };
    let own = assemblies(input).filter(about).count();
    let counts = [
        (details, drawings.details.len(), "detail", "details"),
        (own, assemblies(input).count(), "assembly", "assemblies"),
    ];
    let mut words: Vec<String> = counts
        .into_iter()
        .filter(|(count, ..)| *count > 0)
        .map(|(count, of, one, many)| format!("{count} of {of} {}", if of == 1 { one } else { many }))
        .collect();
    let details = drawings.details.iter().map(|drawn| &*drawn.facts.detail.name);
    let names: BTreeSet<&str> = details.chain(assemblies(input).map(|facts| &*facts.assembly.name)).collect();
    let known = |finding: &&&Finding| finding.item.as_deref().is_some_and(|item| names.contains(item));
    let sets: BTreeSet<&str> = input.needs.iter().filter_map(|need| need.set.as_deref()).collect();
    let (of_set, rest): (Vec<&&Finding>, Vec<&&Finding>) = open
        .iter()
        .filter(|finding| !known(finding))
        .partition(|finding| finding.item.as_deref().is_some_and(|item| sets.contains(item)));
    if !of_set.is_empty() {
        words.push("the drawing set".to_owned());
    }
    if !rest.is_empty() {
        let files: BTreeSet<_> = rest.iter().map(|finding| finding.span.file).collect();
        words.push(format!("the text of {}", counted(files.len(), "file")));
    }
    if words.is_empty() { all(input, drawings) } else { words }
}

fn assemblies<'a>(input: &Input<'a>) -> impl Iterator<Item = &'a AssemblyFacts> {
    input.checked.iter().flat_map(|checked| &checked.facts.assemblies).map(|facts| &**facts)
}
