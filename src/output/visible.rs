//! Characters that would steer a terminal or reorder a line are shown, never sent.

use std::borrow::Cow;

/// The text with every control character, direction mark and invisible tag written as its number: `<U+001B>`.
pub fn visible(text: &str) -> Cow<'_, str> {
    if !text.chars().any(steers) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        if steers(c) {
            shown.push_str(&format!("<U+{:04X}>", c as u32));
        } else {
            shown.push(c);
        }
    }
    Cow::Owned(shown)
}

/// The same for a line of source, each such character replaced by one of equal length in bytes, so that places in
/// it stay true. Tabs stay.
pub fn same_length(text: &str) -> Cow<'_, str> {
    let steers = |c: char| steers(c) && c != '\t';
    if !text.chars().any(steers) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        match (steers(c), c.len_utf8()) {
            (false, _) => shown.push(c),
            (true, 1) => shown.push('?'),
            (true, 2) => shown.push('\u{BF}'),
            (true, 3) => shown.push(char::REPLACEMENT_CHARACTER),
            (true, _) => shown.push_str("????"),
        }
    }
    Cow::Owned(shown)
}

/// Controls (C0, DEL, C1), direction marks, line separators, joiners without a width, tags.
/// The joiners U+200C and U+200D belong to the spelling of several scripts and stay.
pub fn steers(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{61C}' | '\u{200B}' | '\u{200E}' | '\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}')
        || matches!(c, '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}' | '\u{FFFE}' | '\u{FFFF}' | '\u{E0000}'..='\u{E007F}')
}

#[cfg(test)]
mod tests {
    use super::{same_length, visible};

    #[test]
    fn what_steers_a_terminal_is_spelled_out() {
        assert_eq!(visible("a\u{1b}[31mb\u{202E}c\u{9B}"), "a<U+001B>[31mb<U+202E>c<U+009B>");
        assert_eq!(visible("mur \u{e9}t\u{e9}"), "mur \u{e9}t\u{e9}");
    }

    #[test]
    fn places_in_a_line_stay_true() {
        let line = "a\u{1b}b\u{9B}c\u{202E}d\u{E0041}e\tf";
        let shown = same_length(line);
        assert_eq!(shown.len(), line.len());
        for letter in "abcdef\t".chars() {
            assert_eq!(shown.find(letter), line.find(letter));
        }
        assert!(!shown.contains(['\u{1b}', '\u{9B}', '\u{202E}', '\u{E0041}']));
    }
}
