//! The page on the language: what it shows can be read, and no word of the grammar is missing from it.

use crate::language::{read, told};

const PAGE: &str = include_str!("../../../docs/language.md");

/// The blocks of a kind: whole files, statements of a detail, properties of a material.
fn blocks(kind: &str) -> Vec<&'static str> {
    let fences = PAGE.split("```").skip(1).step_by(2);
    fences.filter_map(|block| block.strip_prefix(kind)?.strip_prefix('\n')).collect()
}

#[test]
fn its_examples_are_read_without_an_error() {
    let body = |lines: &str| {
        format!(
            "include \"stock.detail\"\nassembly W wall {{ outside; layer wrap-open controls water; layer plywood; inside }}\n\
             detail D course joins W {{\n{lines}}}\n"
        )
    };
    let material = |lines: &str| format!("material m board {{\n{lines}}}\n");
    let whole = blocks("detail").into_iter().map(str::to_owned);
    let texts = whole.chain(blocks("body").into_iter().map(body)).chain(blocks("material").into_iter().map(material));
    let mut count = 0;
    for text in texts {
        let reading = read(&text);
        assert_eq!(told(&reading.source, &reading.findings), [""; 0], "{text}");
        count += 1;
    }
    assert_eq!(count, PAGE.matches("```").count() / 2, "each block says what it is");
}

/// Every word that the grammar spells out stands on the page.
#[test]
fn it_has_every_word_of_the_grammar() {
    let grammar = include_str!("../../../grammar/detail.pest");
    let code = grammar.lines().filter(|line| !line.trim_start().starts_with("//"));
    let mut missing = Vec::new();
    for line in code {
        for word in line.split('"').skip(1).step_by(2) {
            let plain = word.len() > 1 && word.bytes().all(|b| b.is_ascii_lowercase() || b == b'-');
            let known = || PAGE.split(|c: char| !(c.is_ascii_alphanumeric() || c == '-')).any(|other| other == word);
            if plain && !known() {
                missing.push(word);
            }
        }
    }
    assert!(missing.is_empty(), "{missing:?}");
}
