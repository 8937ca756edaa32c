//! The word lists that rule files give: kinds of detail, surfaces, substances, adhesives and roles.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::model::{Climate, Name};

/// Words that a file may use beyond the closed lists of the language. They are data of the rules.
#[derive(Clone, Debug, Default)]
pub struct Words {
    pub kinds: BTreeMap<Name, DetailKind>,
    pub surfaces: Vec<Name>,
    pub substances: Vec<Name>,
    pub adhesives: Vec<Name>,
    /// Roles of pieces that some rule asks about, in the order of their letters.
    pub roles: Vec<Name>,
    /// Ids of all loaded rules, for `waive`.
    pub rules: Vec<Name>,
    /// The climate of assemblies that name none, when a project sets one.
    pub climate: Option<Arc<Climate>>,
}

/// A kind of detail.
#[derive(Clone, Debug)]
pub struct DetailKind {
    pub title: String,
    /// Rain reaches it; a ground cover under a floor is out of the weather and has no drops.
    pub weather: bool,
}
