//! A detail in a few lines: what it is, how far it goes, what was found, and the water path.

use crate::about::numbers;
use crate::facts::DetailFacts;
use crate::facts::vocabulary::{Fact, Kind};
use crate::finding::{Finding, Level};
use crate::model::{Detail, Extent};
use crate::output::visible;
use crate::output::words::counted;
use crate::quantity::Quantity;
use crate::report::Checked;

/// The most findings and steps of a drop that are shown.
const FINDINGS: usize = 3;
const STEPS: usize = 5;

pub fn overview(checked: &Checked, facts: &DetailFacts) -> String {
    let detail = &facts.detail;
    let mut lines = vec![format!("**detail** `{}`: {}", detail.name, detail.kind)];
    lines.extend(detail.title.as_ref().map(|title| visible(title).into_owned()));
    let joins: Vec<String> = detail.joins.iter().map(|join| format!("`{}`", join.assembly.name)).collect();
    if !joins.is_empty() {
        lines.push(format!("Joins: {}", joins.join(", ")));
    }
    lines.extend(pieces(detail));
    lines.push(format!("Height: {}", numbers::extent(&whole(detail, |piece| piece.up))));
    lines.push(format!("Along: {}", numbers::extent(&whole(detail, |piece| piece.along))));
    lines.extend(found(checked, detail));
    lines.extend(water(facts));
    lines.join("  \n")
}

/// `Pieces: 5, from deck to boards`
fn pieces(detail: &Detail) -> Option<String> {
    let (first, last) = (detail.pieces.first()?, detail.pieces.last()?);
    let order = match detail.pieces.len() {
        1 => format!("`{}`", first.name),
        count => format!("{count}, installed from `{}` to `{}`", first.name, last.name),
    };
    Some(format!("Pieces: {order}"))
}

/// From the lowest edge that is stated to the highest.
fn whole(detail: &Detail, side: impl Fn(&crate::model::Piece) -> Extent) -> Extent {
    let edges = || detail.pieces.iter().map(&side).flat_map(|extent| [extent.low, extent.high]).flatten();
    let by_length = |a: &Quantity, b: &Quantity| a.si.total_cmp(&b.si);
    Extent { low: edges().min_by(by_length), high: edges().max_by(by_length), ..Extent::default() }
}

/// How much was found, and the gravest of it.
fn found(checked: &Checked, detail: &Detail) -> Vec<String> {
    let ours = |finding: &&Finding| finding.item.as_ref() == Some(&detail.name) && finding.open();
    let mut found: Vec<&Finding> = checked.findings.iter().filter(ours).collect();
    found.sort_by_key(|finding| (std::cmp::Reverse(finding.level), finding.span));
    let count = |level: Level| match found.iter().filter(|finding| finding.level == level).count() {
        0 => None,
        count => Some(counted(count, level.word())),
    };
    let counts: Vec<String> = Level::ALL.into_iter().rev().filter_map(count).collect();
    let mut lines = match counts.is_empty() {
        true => vec!["Found: nothing".to_owned()],
        false => vec![format!("Found: {}", counts.join(", "))],
    };
    lines.extend(found.iter().take(FINDINGS).map(|finding| {
        let line = checked.source.position(finding.span.start as usize).line;
        let place = if finding.span.file == checked.source.id { format!(", line {line}") } else { String::new() };
        format!("- `{}`{place}: {}", finding.rule, visible(&finding.message))
    }));
    if found.len() > FINDINGS {
        lines.push(format!("- and {} more", found.len() - FINDINGS));
    }
    lines
}

/// The path of the first drop that does harm.
fn water(facts: &DetailFacts) -> Vec<String> {
    if !facts.weather || facts.too_large.is_some() || facts.detail.pieces.is_empty() {
        return Vec::new();
    }
    let harms = |item: &Fact<'_>| match item {
        Fact::Drop(facts, event) => facts.face.drops.events[*event].worst().is_some_and(|end| end.end.is_damage()),
        _ => false,
    };
    let Some(drop) = facts.items(Kind::Drop).iter().find(harms) else {
        return vec!["Water: every drop that was followed comes out again".to_owned()];
    };
    let steps = drop.trail();
    let mut lines = vec!["Water:".to_owned()];
    lines.extend(steps.iter().take(STEPS).map(|step| format!("- {}", visible(&step.message))));
    if steps.len() > STEPS {
        lines.push(format!("- and {} on the way", counted(steps.len() - STEPS, "more step")));
    }
    lines
}
