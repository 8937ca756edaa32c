//! Cures taken one after the other, always the first that is offered.

use headlap::mend::{Context, ReviewedCopy, apply, cures};
use headlap::syntax;

use super::corpus::{checked, materials};
use crate::review::pack;

/// The text with the first cure of each error and warning made, until there is none, and what was done.
pub fn mend(name: &str, text: &str) -> (String, Vec<String>) {
    let (mut text, mut done) = (text.to_owned(), Vec::new());
    let mut tried = Vec::new();
    for _ in 0..20 {
        let file = checked(name, &text);
        let (document, _) = syntax::read(&file.source);
        let materials = materials(name, &text);
        let mut open: Vec<_> = file.findings.iter().filter(|finding| finding.open()).collect();
        open.sort_by_key(|finding| std::cmp::Reverse(finding.level));
        let next = open.into_iter().find_map(|finding| {
            let key = (finding.rule.clone(), finding.item.clone(), finding.message.clone());
            if tried.contains(&key) {
                return None;
            }
            tried.push(key);
            let facts = file.facts.details.iter().find(|facts| finding.item.as_ref() == Some(&facts.detail.name));
            let source = &file.source;
            let case = Context { source, document: &document, facts, materials: &materials, pack: pack(), finding };
            let trial = |new: &str| {
                let copy = checked(name, new);
                ReviewedCopy { findings: copy.findings, details: copy.facts.details }
            };
            let cure = cures(&case, &trial).into_iter().next()?;
            Some((format!("{}: {}", finding.rule, cure.title), apply(&text, &cure.edits)?))
        });
        let Some((title, new)) = next else { break };
        done.push(title);
        text = new;
    }
    (text, done)
}
