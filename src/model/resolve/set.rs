//! What a drawing set has to contain.

use std::sync::Arc;

use crate::model::resolve::{ItemKind, Reporter, Scope};
use crate::model::{Message, Need, Set};
use crate::syntax::{Clause, Item};

pub(in crate::model) fn set(scope: &mut Scope<'_>, reporter: &mut Reporter<'_>, item: &Item) {
    let title = item.head.clauses.iter().find_map(|part| match part.clause {
        Clause::Title(title) => Some(reporter.unquoted(title)),
        _ => None,
    });
    let mut needs = Vec::new();
    for statement in &item.body {
        let Some(kind) = statement.names.first else { continue };
        let kind = scope.listed(reporter, ItemKind::DetailKind, kind);
        let known = scope.words.kinds.is_empty() || scope.words.kinds.contains_key(&kind);
        let mut wanted = Vec::new();
        for part in &statement.clauses {
            match part.clause {
                Clause::Of(one) => wanted.push(one),
                Clause::Meets(one, other) => wanted.extend([one, other]),
                _ => {}
            }
        }
        if matches!(wanted.len(), 0 | 3) && !statement.doubtful {
            reporter.report(statement.span, Message::NeedsWhere { both: wanted.len() == 3 });
        }
        let assemblies: Vec<_> = wanted.iter().filter_map(|span| scope.assembly(reporter, *span)).collect();
        // No file could meet a need that has an undefined name in it.
        if known && matches!(wanted.len(), 1 | 2) && assemblies.len() == wanted.len() && !statement.doubtful {
            needs.push(Need { kind, assemblies, span: statement.span });
        }
    }
    scope.library.sets.push(Arc::new(Set { title, needs, span: item.head.span }));
}
