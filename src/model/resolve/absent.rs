//! Names that are undefined because an include is missing or fails. They are reported together: one slip does not set
//! off a row of findings.

use crate::finding::Edit;
use crate::model::Name;
use crate::model::builtin::giver;
use crate::model::resolve::ItemKind;
use crate::syntax::{Problem, Problems, several, short};
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

    /// Takes a name that is to be told with others. False for one that stands for itself: no built-in library gives it, and
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

    pub fn tell(self, problems: &mut Problems) {
        for Shipped { library, kind, span, item, names } in self.shipped {
            let (first, others) = names.split_first().expect("it was made for a name");
            let mut message = format!("there is no {} `{}`", kind.phrase(), short(first));
            if !others.is_empty() {
                message += &format!(", nor {}", several(others));
            }
            let them = if others.is_empty() { "it" } else { "them" };
            let fix = format!(
                "Write `include \"{library}\"` at the top: this library comes with headlap and defines {them}."
            );
            let mut finding = Problem::UnknownName.at(span, message).item(item).about(names).fix(fix);
            let top = Span::new(span.file, 0, 0);
            finding.edits.push(Edit { span: top, text: format!("include \"{library}\"\n") });
            problems.add(Problem::UnknownName, finding);
        }
        let at_include = problems.list.iter_mut().find(|finding| Some(finding.span) == self.lost);
        if let Some(finding) = at_include.filter(|_| !self.unfound.is_empty()) {
            finding.message += &format!("; it may define {}", several(&self.unfound));
            finding.subject = self.unfound;
        }
    }
}
