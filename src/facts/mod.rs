//! Everything that can be worked out from the model: computed once, with no thresholds and no opinions.

mod assembly;
pub mod bend;
mod cavity;
mod detail;
pub mod face;
mod file;
mod layer;
mod library;
pub mod section;
pub mod slope;
pub mod vapor;
pub mod vocabulary;

pub use assembly::AssemblyFacts;
pub use detail::{DetailFacts, face_of};
pub use file::FileFacts;
pub use layer::{FrameFacts, Known, Lack, LayerFacts};
pub use library::{NeedFact, WaiverFact};
