//! Accepted deviations, in details and assemblies alike.

use crate::model::resolve::{ItemKind, Reporter, Scope};
use crate::model::{Message, Waiver};
use crate::syntax::{Clause, Statement};

/// `None` when it has no reason (which was said) or a clause that could not be read: a waiver that is half understood
/// must not hide anything.
pub(in crate::model) fn waiver(
    scope: &Scope<'_>,
    reporter: &mut Reporter<'_>,
    statement: &Statement,
) -> Option<Waiver> {
    let rule_span = statement.names.first?;
    let rule = scope.listed(reporter, ItemKind::Rule, rule_span);
    let (mut on, mut because, mut by, mut until) = (None, None, None, None);
    for part in &statement.clauses {
        match part.clause {
            Clause::On(name) => on = Some((reporter.name(name), name)),
            Clause::Because(text) => {
                let reason = reporter.unquoted(text);
                if !reason.contains(char::is_alphanumeric) {
                    reporter.report(text, Message::NoReason);
                    return None;
                }
                because = Some(reason);
            }
            Clause::By(text) => by = Some(reporter.unquoted(text)),
            Clause::Until(date) => until = Some(date),
            _ => {}
        }
    }
    if statement.doubtful {
        return None;
    }
    Some(Waiver { rule, rule_span, on, because: because?, by, until, span: statement.span })
}
