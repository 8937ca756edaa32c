//! How many findings there are of each rule, topic, folder and level.

use std::collections::BTreeMap;
use std::io::{self, Write};

use crate::output::wrap::wrap;
use crate::output::{Look, columns, visible, words};
use crate::report::Report;
use crate::rules::Pack;

/// Tables with the most first, or sentences for a screen reader. What is waived or known counts as such.
///
/// # Errors
/// Those of `out`.
pub fn statistics(report: &Report, pack: &Pack, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let mut counts: [BTreeMap<String, usize>; 4] = Default::default();
    for finding in &report.findings {
        let level = words::standing(finding);
        let file = report.place(finding.span).map_or("", |(file, _)| file);
        let folder = file.rfind('/').map_or(".", |slash| &file[..slash]);
        let keys = [&*finding.rule, &topic(pack, &finding.rule), folder, level].map(str::to_owned);
        keys.into_iter().zip(&mut counts).for_each(|(key, counts)| *counts.entry(key).or_default() += 1);
    }
    for (title, counts) in ["By rule", "By topic", "By folder", "By level"].iter().zip(counts) {
        if counts.is_empty() {
            continue;
        }
        let mut rows: Vec<(String, usize)> = counts.into_iter().collect();
        rows.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        if look.narrate {
            let said: Vec<String> = rows.iter().map(|(key, count)| format!("{}: {count}", visible(key))).collect();
            writeln!(out, "{}\n", wrap(&format!("{title}. {}.", said.join("; ")), "", look.width))?;
            continue;
        }
        writeln!(out, "{title}")?;
        let rows: Vec<Vec<String>> = rows.into_iter().map(|(key, count)| vec![format!("{count:>6}"), key]).collect();
        columns(&rows, "", look, out)?;
        writeln!(out)?;
    }
    writeln!(out, "{}", words::summary(report.summary(), report.files))
}

/// The folder that the rule's file stands in; errors of texts have none.
fn topic(pack: &Pack, rule: &str) -> String {
    let source = pack.rule(rule).and_then(|rule| pack.sources().get(&rule.span.file));
    let folder = source.and_then(|source| source.name.split('/').rev().nth(1).map(|name| name.replace('-', " ")));
    folder.unwrap_or_else(|| "text of the files".to_owned())
}
