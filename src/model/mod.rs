//! What the files say, with every name resolved: materials, assemblies, details, sets.

mod assembly;
mod builtin;
mod climate;
mod detail;
mod include;
mod kind;
mod library;
mod material;
mod message;
mod reach;
mod resolve;
mod source_map;
mod waiver;
mod words;

pub use crate::syntax::Hold;
pub use assembly::{Assembly, AssemblyKind, Frame, Layer};
pub use builtin::{builtin, is_builtin, names as builtin_names};
pub use climate::{Climate, DesignCondition, DryingPeriod, Indoor, MONTHS, Outdoor};
pub use detail::{
    Axis, Band, Bond, Cut, Detail, Extent, Fastening, Fold, FoldKind, Join, LayerRef, Piece, PieceRef, PieceRow, Seal,
    Stated, Valley, Weeps,
};
pub use kind::{Control, Controls, MaterialKind};
pub use library::{Library, Namespace, Need, Set};
pub use material::{Material, VaporUnit, VaporValue};
pub use message::{Message, Use, no_text};
pub use resolve::ItemKind;
pub use source_map::{BuiltIns, Fetch, Fragment, Reading, SourceMap};
pub use waiver::Waiver;
pub use words::{DetailKind, Words};

/// A name as written; shared, since one name occurs in many places.
pub type Name = std::sync::Arc<str>;
