//! The pages on the language: no word of the grammar is missing from them. `book` checks what they show.

use crate::book::pages;

/// Every word that the grammar spells out stands on some page of the language.
#[test]
fn the_pages_have_every_word_of_the_grammar() {
    let pages: String =
        pages().into_iter().filter(|page| page.name.starts_with("language/")).map(|page| page.text).collect();
    let grammar = include_str!("../../../grammar/detail.pest");
    let code = grammar.lines().filter(|line| !line.trim_start().starts_with("//"));
    let mut missing = Vec::new();
    for line in code {
        for word in line.split('"').skip(1).step_by(2) {
            let plain = word.len() > 1 && word.bytes().all(|b| b.is_ascii_lowercase() || b == b'-');
            let known = || pages.split(|c: char| !(c.is_ascii_alphanumeric() || c == '-')).any(|other| other == word);
            if plain && !known() {
                missing.push(word);
            }
        }
    }
    assert!(missing.is_empty(), "{missing:?}");
}
