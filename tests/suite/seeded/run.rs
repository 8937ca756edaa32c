//! Every change of the tables is made, reviewed and judged.

use std::collections::{BTreeMap, HashSet};
use std::fmt::Write;

use headlap::syntax::{Item, Statement};
use headlap::text::{FileId, Source};
use headlap::tidy::tidy;
use rayon::prelude::*;

use super::corpus::{CLEAN, SET, pages, reviewed, reviewed_in_set};
use super::defects::{EACH, KINDS, Kind, Site};
use super::harmless::{self, Change};
use super::text::{Edit, Page};
use super::verdict::{Counts, added, counts, judge};

/// How the kinds of change fared.
#[derive(Default)]
pub struct Tally {
    rows: Vec<Row>,
    /// Each miss and false alarm, in words.
    pub complaints: Vec<String>,
}

#[derive(Default)]
struct Row {
    name: &'static str,
    /// Changes that must be found, that are, and that bring nothing and should not.
    due: usize,
    found: usize,
    quiet: usize,
    false_alarms: usize,
}

impl Tally {
    /// A line for each kind of change, and their sum.
    pub fn table(&self) -> String {
        let mut table =
            format!("{:<52}{:>6}{:>7}{:>8}{:>7}{:>14}\n", "change", "due", "found", "recall", "quiet", "false alarms");
        let sum = Row {
            name: "all",
            due: self.rows.iter().map(|row| row.due).sum(),
            found: self.rows.iter().map(|row| row.found).sum(),
            quiet: self.rows.iter().map(|row| row.quiet).sum(),
            false_alarms: self.rows.iter().map(|row| row.false_alarms).sum(),
        };
        for row in self.rows.iter().chain([&sum]) {
            let recall =
                if row.due == 0 { "-".to_owned() } else { format!("{:.2}", row.found as f64 / row.due as f64) };
            let Row { name, due, found, quiet, false_alarms } = row;
            let _ = writeln!(table, "{name:<52}{due:>6}{found:>7}{recall:>8}{quiet:>7}{false_alarms:>14}");
        }
        table
    }
}

/// One defect in one place.
struct Seed<'s> {
    kind: &'static Kind,
    site: &'static Site,
    page: &'s Page,
    item: &'s Item,
    statement: &'s Statement,
    text: String,
}

pub fn defects() -> Tally {
    let before = baselines();
    let mut tally = Tally::default();
    for kind in KINDS.iter().copied().flatten() {
        let seeds = seeds(kind);
        let mut row = Row { name: kind.name, ..Row::default() };
        let reported: Vec<(&Seed<'_>, Option<String>, usize, bool)> = seeds
            .par_iter()
            .map(|seed| {
                let (complaint, strange, missed) = tried(seed, &before);
                (seed, complaint, strange, missed)
            })
            .collect();
        for (seed, complaint, strange, missed) in reported {
            let brings = seed.site.brings.unwrap_or(kind.brings);
            match brings.is_empty() {
                true => row.quiet += 1,
                false => row.due += 1,
            }
            row.found += usize::from(!brings.is_empty() && !missed);
            row.false_alarms += strange;
            tally.complaints.extend(complaint);
        }
        tally.rows.push(row);
    }
    tally
}

/// The places of a kind. A site that names its item goes before one for all items.
fn seeds(kind: &'static Kind) -> Vec<Seed<'static>> {
    let mut taken = HashSet::new();
    let mut seeds = Vec::new();
    let (named, each): (Vec<&Site>, Vec<&Site>) = kind.sites.iter().partition(|site| site.item != EACH);
    for site in named.into_iter().chain(each) {
        let mut met = false;
        for (page, item) in pages().iter().flat_map(|page| page.document.items.iter().map(move |item| (page, item))) {
            let name = page.name(item);
            if !CLEAN.contains(&name) || (site.item != EACH && site.item != name) {
                continue;
            }
            for statement in page.statements(item, site.statement) {
                let Some(text) = page.edited(item, statement, site.edit) else { continue };
                met = true;
                let place = (name, statement.span.start, words(site.edit));
                if (site.item != EACH || !taken.contains(&place))
                    && !seeds.iter().any(|seed: &Seed<'_>| seed.text == text)
                {
                    seeds.push(Seed { kind, site, page, item, statement, text });
                }
                taken.insert(place);
                if site.edit == Edit::DropItem {
                    break;
                }
            }
        }
        assert!(met, "{}: nothing to change in {} at `{}`", kind.name, site.item, site.statement);
    }
    seeds
}

fn words(edit: Edit) -> String {
    match edit {
        Edit::Swap(from, to) => format!("{from} becomes {}", if to.is_empty() { "nothing" } else { to }),
        Edit::Drop => "left out".to_owned(),
        Edit::LeaveOut => "left out with all that mentions it".to_owned(),
        Edit::Before(place) => format!("moved before `{place}`"),
        Edit::After(place) => format!("moved after `{place}`"),
        Edit::Then(lines) => format!("followed by `{}`", lines.trim()),
        Edit::DropItem => "the whole item left out".to_owned(),
    }
}

/// The complaint about a seed, how many rules reported something that they should not have, and whether it was missed.
fn tried(seed: &Seed<'_>, before: &BTreeMap<&str, Counts>) -> (Option<String>, usize, bool) {
    let name = seed.page.source.name.as_str();
    let whole = name == SET || seed.site.edit == Edit::DropItem;
    let after = if whole { reviewed_in_set(name, &seed.text) } else { reviewed(name, &seed.text) };
    let came = added(&before[if whole { SET } else { name }], &counts(&after));
    let item = if whole { "set" } else { seed.page.name(seed.item) };
    let brings = seed.site.brings.unwrap_or(seed.kind.brings);
    let outcome = judge(item, &came, brings, seed.site.also);
    let line = seed.page.source.at(seed.statement.span);
    let mut complaint = String::new();
    let place = format!("{}: {} `{line}`, {}", seed.kind.name, seed.page.name(seed.item), words(seed.site.edit));
    if outcome.missed {
        let _ = writeln!(complaint, "missed: {place}\n  one of {brings:?} had to come; came {came:?}");
    }
    if !outcome.strange.is_empty() {
        let _ = writeln!(complaint, "false alarm: {place}\n  came {:?}", outcome.strange);
        if !seed.site.why.is_empty() {
            let _ = writeln!(complaint, "  nothing had to come: {}", seed.site.why);
        }
        for finding in &after {
            if outcome.strange.contains(&format!("{} ({})", finding.rule, finding.item.as_deref().unwrap_or_default()))
            {
                let _ = writeln!(complaint, "    {}: {}", finding.rule, finding.message);
            }
        }
    }
    ((!complaint.is_empty()).then_some(complaint), outcome.strange.len(), outcome.missed)
}

/// Defects whose findings are others once their text is formatted, and how many were compared. The set takes a review of every
/// file for each, and its texts are formatted as all others.
pub fn changed_by_layout() -> (usize, Vec<String>) {
    let all: Vec<Seed<'_>> = KINDS.iter().copied().flatten().flat_map(seeds).collect();
    let alone = |seed: &&Seed<'_>| seed.page.source.name != SET && seed.site.edit != Edit::DropItem;
    let compared: Vec<&Seed<'_>> = all.iter().filter(alone).collect();
    let changed = compared.par_iter().filter_map(|seed| {
        let name = seed.page.source.name.as_str();
        let text =
            tidy(&Source::new(FileId::detail(0), name, &*seed.text)).unwrap_or_else(|_| panic!("{name} can be read"));
        let (before, after) = (counts(&reviewed(name, &seed.text)), counts(&reviewed(name, &text)));
        let what = format!("{}: {}, {}", seed.kind.name, seed.page.name(seed.item), words(seed.site.edit));
        (before != after)
            .then(|| format!("{what}: came {:?}, went {:?}", added(&before, &after), added(&after, &before)))
    });
    let changed = changed.collect();
    (compared.len(), changed)
}

/// What became of defects whose cures were taken until none was left.
#[derive(Default)]
pub struct Mended {
    /// By kind: how many there are, and how many texts are as clean as the one that they came from.
    pub rows: Vec<(&'static str, usize, usize)>,
    /// A line for each: what was done, and what is left.
    pub reported: Vec<String>,
    /// Texts that a cure left with a finding that was not there.
    pub worse: Vec<String>,
}

/// Takes the cures of every `step`th defect.
pub fn mended(step: usize) -> Mended {
    let before = baselines();
    let all: Vec<Seed<'_>> = KINDS.iter().copied().flatten().flat_map(seeds).collect();
    let alone = |seed: &&Seed<'_>| {
        let brings = seed.site.brings.unwrap_or(seed.kind.brings);
        seed.page.source.name != SET && seed.site.edit != Edit::DropItem && !brings.is_empty()
    };
    let chosen: Vec<&Seed<'_>> = all.iter().filter(alone).step_by(step).collect();
    let tried: Vec<(&Seed<'_>, (String, Vec<String>))> =
        chosen.par_iter().map(|seed| (*seed, super::mended::mend(&seed.page.source.name, &seed.text))).collect();
    let mut mended = Mended::default();
    for (seed, (text, done)) in tried {
        let name = seed.page.source.name.as_str();
        let (broken, after) = (counts(&reviewed(name, &seed.text)), counts(&reviewed(name, &text)));
        let left = added(&before[name], &after);
        if mended.rows.last().is_none_or(|row| row.0 != seed.kind.name) {
            mended.rows.push((seed.kind.name, 0, 0));
        }
        let row = mended.rows.last_mut().expect("just put there");
        row.1 += 1;
        row.2 += usize::from(left.is_empty());
        let place = format!("{}: {}, {}", seed.kind.name, seed.page.name(seed.item), words(seed.site.edit));
        let line = seed.page.source.at(seed.statement.span).replace('\n', " ");
        mended.reported.push(format!("{place}: `{line}`: {done:?}, left {left:?}"));
        // What the file had before anything was changed in it is as clean as it was.
        let came: Vec<_> = added(&broken, &after).into_iter().filter(|finding| left.contains(finding)).collect();
        if !came.is_empty() {
            mended.worse.push(format!("{place}: a cure brought {came:?}"));
        }
    }
    mended
}

/// What is found before anything is changed, by file; for the set, over all of them.
fn baselines() -> BTreeMap<&'static str, Counts> {
    let counted = |page: &'static Page| {
        let (name, text) = (page.source.name.as_str(), page.source.text.as_str());
        (name, counts(&if name == SET { reviewed_in_set(name, text) } else { reviewed(name, text) }))
    };
    pages().iter().map(counted).collect()
}

pub fn harmless() -> Tally {
    let before = baselines();
    let mut tally = Tally::default();
    for (name, change) in harmless::CHANGES {
        let changes: Vec<(&Page, Change)> =
            pages().iter().flat_map(|page| change(page).into_iter().map(move |change| (page, change))).collect();
        assert!(!changes.is_empty(), "{name}: nothing to change");
        let complaints: Vec<String> =
            changes.par_iter().filter_map(|(page, change)| kept(name, page, change, &before)).collect();
        tally.rows.push(Row { name, quiet: changes.len(), false_alarms: complaints.len(), ..Row::default() });
        tally.complaints.extend(complaints);
    }
    tally
}

/// What a harmless change added or took, in words.
fn kept(name: &str, page: &Page, change: &Change, before: &BTreeMap<&str, Counts>) -> Option<String> {
    let file = page.source.name.as_str();
    let after = if file == SET { reviewed_in_set(file, &change.text) } else { reviewed(file, &change.text) };
    let (before, after) = (&before[file], counts(&after));
    (*before != after).then(|| {
        let (came, went) = (added(before, &after), added(&after, before));
        format!("{name}: {file}, {}: came {came:?}, went {went:?}\n", change.what)
    })
}
