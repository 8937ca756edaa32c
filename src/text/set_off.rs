//! Names in sentences.

/// The name as it stands in a sentence. Pieces are called `right`, `back`, `low` or `head`, and without backticks a sentence
/// about them has to be read twice.
pub fn set_off(name: &str) -> String {
    format!("`{name}`")
}
