//! A waiver to be filled in: no cure, but a decision that is written down.

use crate::mend::text::last_line;
use crate::mend::{Case, Cure};
use crate::syntax::Keyword;

/// What its author has to replace.
const REASON: &str = "state the reason";

/// `None` for what no waiver accepts, and outside of details and assemblies.
pub fn waiver(case: &Case<'_>) -> Option<Cure> {
    let finding = case.finding;
    let item = case.item().filter(|item| matches!(item.head.keyword, Keyword::Detail | Keyword::Assembly))?;
    if finding.unread() || case.pack.rule(&finding.rule).is_none() {
        return None;
    }
    let named =
        |name: &str| item.body.iter().any(|statement| statement.names.first.is_some_and(|n| case.source.at(n) == name));
    let subject = finding.subject.first().filter(|name| named(name));
    let on = subject.map_or(String::new(), |name| format!(" on {name}"));
    let edit = last_line(case, &format!("waive {}{on} because \"{REASON}\"", finding.rule))?;
    Some(Cure::new("Waive it, and state the reason".to_owned(), vec![edit]))
}
