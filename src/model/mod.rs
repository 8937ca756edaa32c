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
mod shelf;
mod waiver;
mod words;

pub use crate::syntax::Hold;
pub use assembly::{Assembly, AssemblyKind, Frame, Layer};
pub use builtin::{builtin, is_builtin, names as builtin_names};
pub use climate::{Climate, DesignCondition, DryingPeriod, Indoor, MONTHS, Outdoor};
pub use detail::{
    Axis, Band, Bond, Cut, Detail, Extent, Fastening, Fold, FoldKind, Join, LayerRef, Piece, PieceRef, Row, Seal,
    Stated, Valley, Weeps,
};
pub use kind::{Control, Controls, MaterialKind};
pub use library::{Library, Names, Need, Set};
pub use material::{Material, VaporUnit, VaporValue};
pub use message::{Message, Use};
pub use resolve::ItemKind;
pub use shelf::{BuiltIns, Fetch, Fragment, Reading, Shelf};
pub use waiver::Waiver;
pub use words::{DetailKind, Words};

/// A name as written; shared, since one name is told in many places.
pub type Name = std::sync::Arc<str>;
