//! Facts of the run as a whole: what a set needs, and what became of the waivers.

use std::sync::Arc;

use crate::facts::AssemblyFacts;
use crate::model::{Name, Waiver};
use crate::text::Span;

/// One line of a set, and whether some file of the run has what it asks for.
pub struct NeedFact {
    /// Title of the set.
    pub set: Option<Name>,
    pub kind: Name,
    pub assemblies: Vec<Arc<AssemblyFacts>>,
    pub found: bool,
    pub span: Span,
}

/// A waiver after the findings are known.
pub struct WaiverFact {
    pub waiver: Waiver,
    /// The detail or assembly that it is written in.
    pub home: Name,
    pub expired: bool,
    pub matched: bool,
    /// The last day as text, for sentences.
    pub until: Option<String>,
}
