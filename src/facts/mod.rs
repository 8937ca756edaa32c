//! Everything that can be worked out from the model, computed once. There are no thresholds here: the opinions that facts
//! depend on come in as `Assumed`.

mod assembly;
mod assumed;
pub mod bend;
mod cavity;
mod detail;
pub mod face;
mod file;
mod layer;
mod lean;
mod library;
pub mod section;
mod shown;
pub mod slope;
pub mod vapor;
pub mod vocabulary;

pub use assembly::AssemblyFacts;
pub use assumed::Assumed;
pub use detail::{DetailFacts, holds, is_old, nanometres};
pub use file::FileFacts;
pub use layer::{FrameFacts, Known, Lack, LayerFacts};
pub use library::{NeedFact, WaiverFact};
