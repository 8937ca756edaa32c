//! Sentences that several forms share.

use std::collections::BTreeMap;

use crate::finding::{Basis, Finding, Known, Waived};
use crate::output::visible;
use crate::report::{Off, Summary};

/// `3 errors, 1 warning; 2 waived. 8 files checked.`
pub fn summary(summary: Summary, files: usize) -> String {
    let counts: Vec<String> = [(summary.error, "error"), (summary.warning, "warning"), (summary.note, "note")]
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| counted(count, word))
        .collect();
    let found = if counts.is_empty() { "No findings".to_owned() } else { counts.join(", ") };
    format!("{found}{}. {} checked.", aside(summary), counted(files, "file"))
}

/// `; 2 waived; 1 known`
pub fn aside(summary: Summary) -> String {
    let counts = [(summary.waived, "waived"), (summary.known, "known")].into_iter().filter(|(count, _)| *count > 0);
    counts.map(|(count, word)| format!("; {count} {word}")).collect()
}

/// The title of a finding, or its rule where that has none.
pub fn title(finding: &Finding) -> &str {
    if finding.title.is_empty() { &finding.rule } else { &finding.title }
}

/// The level of a finding, or why it is not open.
pub fn standing(finding: &Finding) -> &'static str {
    match (&finding.waived, finding.listed) {
        (Some(_), _) => "waived",
        (None, true) => "known",
        (None, false) => finding.level.word(),
    }
}

/// What stands in a list for findings in a row that are not open, so that no number is missing:
/// `waived in C2: Head lap shorter than good practice`, or `4 waived, 1 known`.
pub fn passed_over(findings: &[Finding]) -> String {
    match findings {
        [one] => {
            let item = one.item.as_ref().map_or(String::new(), |item| format!(" in {}", visible(item)));
            format!("{}{item}: {}", standing(one), visible(title(one)))
        }
        many => accepted(many),
    }
}

/// `4 waived, 1 known`
pub fn accepted<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> String {
    let standings: Vec<&str> = findings.into_iter().map(standing).collect();
    let of = |word: &str| standings.iter().filter(|standing| **standing == word).count();
    let counts = ["waived", "known"].map(|word| (of(word), word)).into_iter().filter(|(count, _)| *count > 0);
    counts.map(|(count, word)| format!("{count} {word}")).collect::<Vec<_>>().join(", ")
}

/// `5`, or `5 to 9` for several findings from number 5 on.
pub fn numbers(first: usize, findings: &[Finding]) -> String {
    match findings.len() {
        0 | 1 => first.to_string(),
        count => format!("{first} to {}", first + count - 1),
    }
}

/// The message of a finding as a sentence begins; a name at its front stays as its author writes it.
pub fn opened(finding: &Finding) -> String {
    let first = finding.message.split([' ', ',', ':']).next();
    match finding.subject.iter().any(|name| Some(&**name) == first) {
        true => finding.message.clone(),
        false => capital(&finding.message),
    }
}

pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// Why a known finding does not fail the run.
pub const KNOWN: &str = "on the list of known findings";

/// `1 file`, `2 files`.
pub fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}

/// How many details ignore files kept out of the run.
pub fn left_out(count: usize) -> String {
    format!(".gitignore left out {}", counted(count, "file"))
}

/// `A1, A2 and A3`
pub fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// With a full stop where it has no end of its own.
pub fn sentence(text: &str) -> String {
    if text.ends_with(['.', '!', '?']) { text.to_owned() } else { format!("{text}.") }
}

/// `length 120 mm, limit 150 mm`; `None` without a number that has a name.
pub fn values(finding: &Finding) -> Option<String> {
    let named = finding.values.iter().filter_map(|(name, value)| Some((plain(name)?, value)));
    let shown: Vec<String> = named.map(|(name, value)| format!("{} {}", visible(&name), visible(value))).collect();
    (!shown.is_empty()).then(|| shown.join(", "))
}

/// The expression that gave a number, as people would call it: `detail.installed-at` is `installed at`, and what a table
/// gives goes by the name of the table. A sum has no name, and the sentence says what it is.
fn plain(expression: &str) -> Option<String> {
    let of_table = expression.strip_prefix("lookup(").and_then(|keys| keys.split([',', ')']).next());
    let name = of_table.unwrap_or(expression);
    let path = name.chars().all(|c| c.is_alphanumeric() || matches!(c, '-' | '_' | '.'));
    path.then(|| name.rsplit('.').next().unwrap_or(name).replace('-', " "))
}

/// `IRC 2015 R703.2: upper over lower by 2 in (read in the source)`
pub fn basis(basis: &Basis) -> String {
    let mut text = match (&basis.clause, basis.source.trim()) {
        (Some(clause), "" | "-") => clause.clone(),
        (Some(clause), source) => format!("{source} {clause}"),
        (None, "" | "-") => String::new(),
        (None, source) => source.to_owned(),
    };
    if let Some(says) = &basis.says {
        if !text.is_empty() {
            text.push_str(": ");
        }
        text.push_str(says);
    }
    let known = known(basis.known);
    if text.is_empty() { known.to_owned() } else { visible(&format!("{text} ({known})")).into_owned() }
}

/// `Known findings, not shown: 12 short-head-lap, 3 uv-overrun.` Nothing when there are none.
pub fn known_before(findings: &[Finding]) -> Option<String> {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    findings.iter().filter(|f| f.listed && f.waived.is_none()).for_each(|f| *counts.entry(&f.rule).or_default() += 1);
    let counts: Vec<String> = counts.into_iter().map(|(rule, count)| format!("{count} {}", visible(rule))).collect();
    (!counts.is_empty()).then(|| format!("Known findings, not shown: {}.", counts.join(", ")))
}

/// `Off: thin-insulation in walls ("the owner insulates later").` Nothing when every rule is asked.
pub fn off(off: &[Off]) -> Option<String> {
    let one = |off: &Off| {
        let folder = off.folder.as_ref().map_or(String::new(), |folder| format!(" in {}", visible(folder)));
        format!("{}{folder}", visible(&off.rule))
    };
    // Rules in a row with one reason share it.
    let rows: Vec<String> = off
        .chunk_by(|a, b| a.because == b.because)
        .map(|row| {
            let rules: Vec<String> = row.iter().map(one).collect();
            format!("{} (\"{}\")", rules.join(", "), visible(&row[0].because))
        })
        .collect();
    (!rows.is_empty()).then(|| format!("Off: {}.", rows.join(", ")))
}

/// How well a source is known, in words that need no explanation.
pub fn known(known: Known) -> &'static str {
    match known {
        Known::Read => "read in the source",
        Known::Memory => "from memory, not checked against the source",
        Known::Practice => "practice of the trade, no published source",
    }
}

/// `"the string course fixes the height" (LM, until 2028-12-31)`
pub fn waived(waived: &Waived) -> String {
    let mut who = Vec::new();
    who.extend(waived.by.clone());
    who.extend(waived.until.map(|date| format!("until {date}")));
    let who = if who.is_empty() { String::new() } else { format!(" ({})", who.join(", ")) };
    visible(&format!("\"{}\"{who}", waived.because)).into_owned()
}
