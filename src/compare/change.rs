//! A difference in words.

use crate::model::Name;

/// What became of one detail or assembly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ItemChange {
    /// The submitted name, or the issued one of what is gone.
    pub name: Name,
    /// The issued name, when another was submitted.
    pub was: Option<Name>,
    /// Only in the submittal.
    pub added: bool,
    /// Only in the issued details.
    pub removed: bool,
    pub title: Option<String>,
    /// The sheet of the drawings that shows it.
    pub sheet: Option<String>,
    /// Specification sections of its materials, each once.
    pub sections: Vec<String>,
    pub changes: Vec<Change>,
}

/// One difference: a value before and after; one of them is missing for what is new or gone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// `piece wrap, up` or `lap high over low`.
    pub what: String,
    pub issued: Option<String>,
    pub submitted: Option<String>,
    /// The `what` of the change that brings this one about: a lost piece loses its laps.
    pub follows: Option<String>,
}

impl Change {
    pub fn new(what: impl Into<String>, issued: impl Into<String>, submitted: impl Into<String>) -> Change {
        Change { what: what.into(), issued: Some(issued.into()), submitted: Some(submitted.into()), follows: None }
    }

    pub fn gone(what: impl Into<String>, issued: impl Into<String>) -> Change {
        Change { what: what.into(), issued: Some(issued.into()), submitted: None, follows: None }
    }

    pub fn added(what: impl Into<String>, submitted: impl Into<String>) -> Change {
        Change { what: what.into(), issued: None, submitted: Some(submitted.into()), follows: None }
    }
}

impl ItemChange {
    pub fn added(name: &Name) -> ItemChange {
        ItemChange { added: true, ..ItemChange::of(name) }
    }

    pub fn removed(name: &Name) -> ItemChange {
        ItemChange { removed: true, ..ItemChange::of(name) }
    }

    /// `None` when nothing differs but perhaps the place in the text.
    pub fn changed(issued: &Name, submitted: &Name, changes: Vec<Change>) -> Option<ItemChange> {
        let was = (issued != submitted).then(|| issued.clone());
        (was.is_some() || !changes.is_empty()).then(|| ItemChange { was, changes, ..ItemChange::of(submitted) })
    }

    fn of(name: &Name) -> ItemChange {
        ItemChange {
            name: name.clone(),
            was: None,
            added: false,
            removed: false,
            title: None,
            sheet: None,
            sections: Vec::new(),
            changes: Vec::new(),
        }
    }
}
