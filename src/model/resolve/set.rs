//! What a drawing set has to contain.

use std::sync::Arc;

use crate::model::resolve::{ItemKind, Scope, Voice};
use crate::model::{Need, Set};
use crate::syntax::{Clause, Item, Problem};

pub(in crate::model) fn set(scope: &mut Scope<'_>, voice: &mut Voice<'_>, item: &Item) {
    let title = item.head.clauses.iter().find_map(|part| match part.clause {
        Clause::Title(title) => Some(voice.unquoted(title)),
        _ => None,
    });
    let mut needs = Vec::new();
    for statement in &item.body {
        let Some(kind) = statement.names.first else { continue };
        let kind = scope.listed(voice, ItemKind::DetailKind, kind);
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
            let message = match wanted.len() {
                0 => "this has neither `of` nor `between`; expected one of them",
                _ => "this has both `of` and `between`; expected one of them",
            };
            let finding = Problem::Syntax
                .at(statement.span, message)
                .fix("Write `needs KIND of A` or `needs KIND between A and B`.");
            voice.say(Problem::Syntax, finding);
        }
        let assemblies: Vec<_> = wanted.iter().filter_map(|span| scope.assembly(voice, *span)).collect();
        // No file could meet a need that has an undefined name in it.
        if known && matches!(wanted.len(), 1 | 2) && assemblies.len() == wanted.len() && !statement.doubtful {
            needs.push(Need { kind, assemblies, span: statement.span });
        }
    }
    scope.library.sets.push(Arc::new(Set { title, needs, span: item.head.span }));
}
