//! Colors by meaning: what each word of a text is.

use lsp_types::{SemanticToken, SemanticTokenModifier, SemanticTokenType, SemanticTokens, Uri};

use crate::about::{Mention, NameKind};
use crate::quantity::unit_named;
use crate::server::State;
use crate::syntax::{Scanner, Token};
use crate::text::Source;

/// In the order of the numbers that tokens carry.
pub fn types() -> Vec<SemanticTokenType> {
    vec![
        SemanticTokenType::KEYWORD,
        SemanticTokenType::TYPE,
        SemanticTokenType::CLASS,
        SemanticTokenType::FUNCTION,
        SemanticTokenType::VARIABLE,
        SemanticTokenType::ENUM_MEMBER,
        SemanticTokenType::NUMBER,
        SemanticTokenType::STRING,
        SemanticTokenType::COMMENT,
        SemanticTokenType::OPERATOR,
    ]
}

pub fn modifiers() -> Vec<SemanticTokenModifier> {
    vec![SemanticTokenModifier::DECLARATION]
}

#[derive(Clone, Copy)]
enum Color {
    Keyword,
    Material,
    Assembly,
    Detail,
    Piece,
    Word,
    Number,
    NamedText,
    Comment,
    Clause,
}

pub fn tokens(state: &State, uri: &Uri) -> Option<SemanticTokens> {
    let text = state.text(&state.path(uri)?)?;
    let source = &text.source;
    let mut colored: Vec<(usize, usize, Color, bool)> = Vec::new();
    for token in Scanner::of(&source.text) {
        match token {
            Token::Comment { start, end } => colored.push((start, end, Color::Comment, false)),
            Token::Head { start, end } => words(source, start, end, &text.mentions, &mut colored),
            Token::Open(_) | Token::Close(_) => {}
        }
    }
    let mut data = Vec::with_capacity(colored.len());
    let mut last = (0, 0);
    for (start, end, color, defines) in colored {
        let place = state.encoding.position(source, start);
        let delta_line = place.line - last.0;
        data.push(SemanticToken {
            delta_line,
            delta_start: if delta_line == 0 { place.character - last.1 } else { place.character },
            length: state.encoding.length(&source.text[start..end]),
            token_type: color as u32,
            token_modifiers_bitset: u32::from(defines),
        });
        last = (place.line, place.character);
    }
    Some(SemanticTokens { result_id: None, data })
}

/// The words of one statement. Names are colored by what they name, all else by its form.
fn words(source: &Source, start: usize, end: usize, mentions: &[Mention], into: &mut Vec<(usize, usize, Color, bool)>) {
    let mut after_number = false;
    for (at, word) in split(&source.text[start..end]) {
        let (from, to) = (start + at, start + at + word.len());
        let first = mentions.partition_point(|mention| mention.span.range().start < from);
        let named = mentions.get(first).filter(|mention| mention.span.range() == (from..to));
        let is_number = word.trim_start_matches('-').starts_with(|letter: char| letter.is_ascii_digit());
        let color = match named {
            Some(mention) => color(mention.kind),
            None if word.starts_with('"') => Color::NamedText,
            None if is_number => Color::Number,
            None if at == 0 => Color::Keyword,
            None if after_number && unit_named(word).is_some() => Color::Number,
            None => Color::Clause,
        };
        after_number = is_number;
        into.push((from, to, color, named.is_some_and(|mention| mention.defines)));
    }
}

fn color(kind: NameKind) -> Color {
    match kind {
        NameKind::Material => Color::Material,
        NameKind::Assembly | NameKind::Climate | NameKind::Layer => Color::Assembly,
        NameKind::Detail => Color::Detail,
        NameKind::Piece | NameKind::Subject => Color::Piece,
        NameKind::Role | NameKind::Rule | NameKind::DetailKind | NameKind::Word => Color::Word,
        NameKind::Include => Color::NamedText,
    }
}

/// Words and quoted texts, apart by blanks and commas.
fn split(head: &str) -> Vec<(usize, &str)> {
    let mut words = Vec::new();
    let mut at = 0;
    while let Some(letter) = head[at..].chars().next() {
        if letter.is_whitespace() || letter == ',' {
            at += letter.len_utf8();
            continue;
        }
        let rest = &head[at..];
        let length = match letter {
            '"' => quoted(rest),
            _ => rest.find(|c: char| c.is_whitespace() || c == ',' || c == '"').unwrap_or(rest.len()),
        };
        words.push((at, &rest[..length]));
        at += length;
    }
    words
}

fn quoted(text: &str) -> usize {
    let mut escaped = false;
    for (at, letter) in text.char_indices().skip(1) {
        match letter {
            '"' if !escaped => return at + 1,
            letter => escaped = letter == '\\' && !escaped,
        }
    }
    text.len()
}
