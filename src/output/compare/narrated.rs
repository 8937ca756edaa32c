//! A comparison in whole sentences without columns, for a screen reader. The verdict comes first.

use std::io::{self, Write};

use crate::compare::{Change, ItemChange, Substitution};
use crate::finding::Finding;
use crate::output::compare::text::line;
use crate::output::compare::{BROUGHT, Input, UNREAD, about, from_to, waives};
use crate::output::words::capital;
use crate::output::words::sentence;
use crate::output::wrap::wrap;
use crate::output::{CAUTION, Look, visible};
use crate::text::set_off;

pub fn narrated(input: &Input<'_>, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let (comparison, findings) = (input.comparison, &input.comparison.findings);
    let mut said = vec![input.heading()];
    if input.same() {
        said.push("The submittal changes nothing".to_owned());
    } else {
        let (action, reason) = input.verdict();
        said.push(format!("Proposed: {}, because: {reason}", action.words()));
        said.push("The reviewer decides, not this program".to_owned());
    }
    let brought: Vec<String> = comparison.waivers.iter().map(waives).chain(input.settings.iter().cloned()).collect();
    said.extend(brought.iter().map(|what| format!("Not applied: {what}")));
    said.extend((!brought.is_empty()).then(|| BROUGHT.to_owned()));
    let issued = |finding: &&Finding, kind: &str| format!("{kind}: {}", line(finding, input.issued));
    let submitted = |finding: &&Finding, kind: &str| format!("{kind}: {}", line(finding, input.submitted));
    said.extend(findings.unread_issued.iter().map(|f| issued(f, "Not read in the issued details")));
    said.extend(findings.unread.iter().map(|f| submitted(f, "Not read in the submittal")));
    if !findings.unread.is_empty() || !findings.unread_issued.is_empty() {
        said.push(UNREAD.to_owned());
    }
    for new in findings.new.iter().filter(|finding| !finding.unread()) {
        said.push(submitted(new, "New finding"));
        said.extend(new.fix.iter().map(|fix| format!("What to do: {fix}")));
    }
    for (old, new) in &findings.worse {
        said.push(submitted(new, "Worse finding"));
        said.push(capital(&from_to(old, new)));
        said.extend(new.fix.iter().map(|fix| format!("What to do: {fix}")));
    }
    let kinds = [("Detail", &comparison.details), ("Assembly", &comparison.assemblies), ("Item", &comparison.others)];
    for (kind, items) in kinds {
        items.iter().for_each(|item| said.extend(changed(kind, item)));
    }
    comparison.substitutions.iter().for_each(|pair| said.extend(material(pair)));
    said.extend(findings.gone.iter().map(|f| issued(f, "Gone finding")));
    said.extend(findings.unchanged.iter().map(|(_, f)| submitted(f, "Unchanged finding")));
    for line in said.iter().filter(|line| !line.is_empty()) {
        writeln!(out, "{}", wrap(&sentence(&visible(line)), "", look.width))?;
    }
    writeln!(out, "\n{}", wrap(CAUTION, "", look.width))
}

fn changed(kind: &str, item: &ItemChange) -> Vec<String> {
    let state = match (item.added, item.removed, &item.was) {
        (true, ..) => "is only in the submittal".to_owned(),
        (_, true, _) => "is missing from the submittal".to_owned(),
        (.., Some(was)) => format!("was issued as {was}, and changed"),
        _ => "changed".to_owned(),
    };
    let about = about(item);
    let about = if about.is_empty() { String::new() } else { format!(", {about},") };
    let mut said = vec![format!("{kind} {}{about} {state}", item.name)];
    said.extend(item.changes.iter().map(|change| format!("{}: {}", item.name, words(change))));
    said
}

fn words(change: &Change) -> String {
    let what = change.what.as_str();
    let with = change.follows.as_ref().map_or(String::new(), |head| format!(", with {head}"));
    match (&change.issued, &change.submitted) {
        (Some(issued), Some(submitted)) => format!("{what} was {issued}, is {submitted}{with}"),
        (Some(issued), None) => format!("{what} is gone; it was {issued}{with}"),
        (None, Some(submitted)) => format!("{what} is new: {submitted}{with}"),
        (None, None) => format!("{what}{with}"),
    }
}

fn material(pair: &Substitution) -> Vec<String> {
    let [issued, submitted] = [&pair.issued.name, &pair.submitted.name].map(|name| set_off(name));
    let mut said = vec![match issued == submitted {
        true => format!("Material {issued} has other values"),
        false => format!("Material {submitted} stands in place of {issued}"),
    }];
    said.extend(pair.rows.iter().map(|row| {
        let control = row.control.map_or(String::new(), |control| format!(", for {} control", control.word()));
        let verdict = row.verdict.word();
        format!("{}: issued {}, submitted {}: {verdict}{control}", capital(row.property), row.issued, row.submitted)
    }));
    said
}
