//! Names that are undefined because an include is missing or fails. They are reported together: one slip does not set
//! off a row of findings.

use crate::model::Name;
use crate::model::builtin::giver;
use crate::model::message::{Message, may_define};
use crate::model::resolve::ItemKind;
use crate::syntax::Diagnostics;
use crate::text::Span;

#[derive(Default)]
pub(in crate::model) struct Absent {
    /// An include of this text that failed.
    lost: Option<Span>,
    /// What may have come from there.
    unfound: Vec<Name>,
    shipped: Vec<Shipped>,
}

/// Names of a built-in library that is not included.
struct Shipped {
    library: &'static str,
    kind: ItemKind,
    /// Where the first of them is, and in which item.
    span: Span,
    item: Option<Name>,
    names: Vec<Name>,
}

impl Absent {
    pub fn new(lost: Option<Span>) -> Absent {
        Absent { lost, ..Absent::default() }
    }

    /// Takes a name that is reported together with others. False for one that is reported by itself: no built-in library gives it, and
    /// it is near a known name, so that it was misspelt, or every include was found.
    pub fn take(&mut self, kind: ItemKind, name: &Name, span: Span, item: Option<&Name>, near: bool) -> bool {
        if let Some(library) = giver(kind, name) {
            match self.shipped.iter_mut().find(|shipped| shipped.library == library) {
                Some(shipped) => shipped.names.push(name.clone()),
                None => {
                    let names = vec![name.clone()];
                    self.shipped.push(Shipped { library, kind, span, item: item.cloned(), names });
                }
            }
            return true;
        }
        let lost = self.lost.is_some() && kind.shared() && !near;
        if lost {
            self.unfound.push(name.clone());
        }
        lost
    }

    pub fn report(self, problems: &mut Diagnostics) {
        for Shipped { library, kind, span, item, names } in self.shipped {
            let message = Message::LibraryNotIncluded { library, kind, names: &names };
            problems.add(message.at(span).item(item));
        }
        let at_include = problems.list.iter_mut().find(|finding| Some(finding.span) == self.lost);
        if let Some(finding) = at_include.filter(|_| !self.unfound.is_empty()) {
            may_define(finding, self.unfound);
        }
    }
}
