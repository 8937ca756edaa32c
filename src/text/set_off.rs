//! Names in sentences.

use std::borrow::Cow;

/// English words that join a verb and change what it says. A piece called `back` in "seal back to pan" is read as one.
const PARTICLES: &[&str] = &[
    "about", "above", "across", "after", "against", "along", "around", "at", "away", "back", "before", "behind",
    "below", "between", "by", "down", "for", "from", "in", "inside", "into", "off", "on", "onto", "out", "outside",
    "over", "past", "through", "to", "under", "up", "with",
];

/// The name as it stands in a sentence: in backticks where it would be read as a word of the sentence.
pub fn set_off(name: &str) -> Cow<'_, str> {
    match PARTICLES.contains(&name) {
        true => Cow::Owned(format!("`{name}`")),
        false => Cow::Borrowed(name),
    }
}
