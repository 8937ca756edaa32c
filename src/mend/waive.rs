//! A waiver for its author to complete. It cures nothing: it records a decision.

use crate::mend::text::last_line;
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::syntax::Keyword;

/// The text that its author replaces.
const REASON: &str = "state the reason";

/// `None` for findings that no waiver can accept, and outside of details and assemblies.
pub fn waiver(context: &Context<'_>) -> Option<Cure> {
    let finding = context.finding;
    let item = context.item().filter(|item| matches!(item.head.keyword, Keyword::Detail | Keyword::Assembly))?;
    if finding.unread() || context.pack.rule(&finding.rule).is_none() {
        return None;
    }
    let named = |name: &str| {
        item.body.iter().any(|statement| statement.names.first.is_some_and(|n| context.source.at(n) == name))
    };
    let subject = finding.subject.first().filter(|name| named(name));
    let on = subject.map_or(String::new(), |name| format!(" on {name}"));
    let edit = last_line(context, &format!("waive {}{on} because \"{REASON}\"", finding.rule))?;
    Some(Cure::new(Title::Waive, vec![edit]))
}
