//! What has to hold for any bytes, whoever wrote them. The fuzzer runs these with bytes of its own; `tests/suite/fuzz.rs`
//! runs them over the committed corpus, where every crash that was found has its file.

pub mod expression;
pub mod face;
pub mod language;
pub mod review;
pub mod rule_file;
mod sample;
pub mod settings;
mod spans;

/// A target: it panics when something does not hold.
pub type Target = fn(&[u8]);

/// Every target by its name, which is that of its folder of the corpus.
pub const TARGETS: [(&str, Target); 6] = [
    ("language", language::run),
    ("review", review::run),
    ("face", face::run),
    ("expression", expression::run),
    ("rule_file", rule_file::run),
    ("settings", settings::run),
];
