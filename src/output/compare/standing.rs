//! What a submittal leaves as it was issued: findings that stay open although they are not held against it.

use crate::compare::FindingChanges;
use crate::finding::{Finding, Level};
use crate::output::visible;
use crate::output::words::{counted, listed};

/// `5 errors and 1 warning stand unchanged, in O2-W1 and W3`; nothing where no error and no warning does.
pub fn words(findings: &FindingChanges) -> Option<String> {
    let open: Vec<&Finding> = findings.unchanged.iter().map(|(_, finding)| *finding).collect();
    let open: Vec<&Finding> = open.into_iter().filter(|f| !f.unread() && f.level > Level::Note).collect();
    let of = |level: Level| open.iter().filter(|finding| finding.level == level).count();
    let counts = [(of(Level::Error), "error"), (of(Level::Warning), "warning")];
    let counts: Vec<String> = counts.into_iter().filter(|(n, _)| *n > 0).map(|(n, word)| counted(n, word)).collect();
    if counts.is_empty() {
        return None;
    }
    let mut homes: Vec<String> = Vec::new();
    for home in open.iter().filter_map(|finding| finding.item.as_deref()) {
        let home = visible(home).into_owned();
        if !homes.contains(&home) {
            homes.push(home);
        }
    }
    let stand = if open.len() == 1 { "stands" } else { "stand" };
    let place = if homes.is_empty() { String::new() } else { format!(", in {}", listed(&homes)) };
    Some(format!("{} {stand} unchanged{place}", listed(&counts)))
}
