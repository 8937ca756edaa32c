//! All that the include tree of one file names.

use std::collections::HashMap;
use std::sync::Arc;

use crate::model::{Assembly, Climate, Detail, Material, Name};
use crate::text::Span;

/// The items of one file and of all that it includes, by name. Items are shared, not copied, between the files that include them.
#[derive(Clone, Debug, Default)]
pub struct Library {
    pub materials: HashMap<Name, Arc<Material>>,
    pub climates: HashMap<Name, Arc<Climate>>,
    pub assemblies: HashMap<Name, Arc<Assembly>>,
    /// In the order of the text.
    pub details: Vec<Arc<Detail>>,
    pub sets: Vec<Arc<Set>>,
}

/// What a drawing set has to contain.
#[derive(Clone, Debug)]
pub struct Set {
    pub title: Option<String>,
    pub needs: Vec<Need>,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub struct Need {
    pub kind: Name,
    /// One or two assemblies, in either order.
    pub assemblies: Vec<Arc<Assembly>>,
    pub span: Span,
}
