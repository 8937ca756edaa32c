//! What stands before the cursor: the item around it and the words of its statement.

use crate::syntax::{ITEMS, Keyword, Scanner, Token};

/// The statement that the cursor is in, up to the word that is being typed.
#[derive(Debug, PartialEq)]
pub struct Before {
    /// The item whose braces are open there.
    pub item: Option<Keyword>,
    /// Whole words, quoted texts as one word, commas at the end of the word before them.
    pub words: Vec<String>,
    pub in_quotes: bool,
}

/// `None` within a comment.
pub fn before(text: &str, offset: usize) -> Option<Before> {
    let text = &text[..offset];
    let mut open: Vec<(usize, usize)> = Vec::new();
    let mut head = (0, 0);
    let mut last = None;
    for token in Scanner::of(text) {
        match token {
            Token::Head { start, end } => head = (start, end),
            Token::Open(_) => open.push(std::mem::take(&mut head)),
            Token::Close(_) => drop(open.pop()),
            Token::Comment { .. } => {}
        }
        last = Some(token);
    }
    let typed = match last {
        Some(Token::Comment { end, .. }) if !text[end..].contains('\n') => return None,
        // Nothing but blanks may stand between the statement and the cursor.
        Some(Token::Head { start, end }) if text[end..].chars().all(|c| c != '\n' && c != ';') => &text[start..],
        _ => "",
    };
    let keyword = |(start, end): (usize, usize)| {
        let word = text[start..end].split_whitespace().next().unwrap_or("");
        ITEMS.iter().find(|form| form.word == word).map(|form| form.keyword)
    };
    let item = open.first().and_then(|head| keyword(*head));
    // A statement may hold its clauses in braces of its own.
    let outer = open.get(1).map_or("", |(start, end)| &text[*start..*end]);
    let (mut words, in_quotes) = split(&format!("{outer} {typed}"));
    if !typed.ends_with(|c: char| c.is_whitespace() || c == ',') && !typed.is_empty() && !in_quotes {
        words.pop();
    }
    Some(Before { item, words, in_quotes })
}

/// The words, and whether the last one is a text whose quote is open; that one is left out.
fn split(text: &str) -> (Vec<String>, bool) {
    let mut words: Vec<String> = Vec::new();
    let mut rest = text.trim_start();
    while !rest.is_empty() {
        if let Some(inner) = rest.strip_prefix('"') {
            let Some(end) = inner.find('"') else { return (words, true) };
            words.push(rest[..end + 2].to_owned());
            rest = rest[end + 2..].trim_start();
            continue;
        }
        if let Some(after) = rest.strip_prefix(',') {
            if let Some(last) = words.last_mut() {
                last.push(',');
            }
            rest = after.trim_start();
            continue;
        }
        let end = rest.find(|c: char| c.is_whitespace() || c == ',' || c == '"').unwrap_or(rest.len());
        words.push(rest[..end].to_owned());
        rest = rest[end..].trim_start();
    }
    (words, false)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_of_the_statement_are_found() {
        let at = |text: &str| before(text, text.len()).map(|b| (b.item, b.words.join("|"), b.in_quotes));
        let detail = Some(Keyword::Detail);
        assert_eq!(at("det"), Some((None, String::new(), false)));
        assert_eq!(at("detail A co"), Some((None, "detail|A".to_owned(), false)));
        assert_eq!(at("detail A course joins W {\n  "), Some((detail, String::new(), false)));
        assert_eq!(at("detail A course joins W {\n piece x y up 1 mm\n"), Some((detail, String::new(), false)));
        assert_eq!(
            at("detail A course joins W {\n piece x y bonds a, b"),
            Some((detail, "piece|x|y|bonds|a,".to_owned(), false))
        );
        assert_eq!(
            at("detail A course joins W {\n piece x y {\n up "),
            Some((detail, "piece|x|y|up".to_owned(), false))
        );
        assert_eq!(at("detail A course joins W { piece x y; piece "), Some((detail, "piece".to_owned(), false)));
        assert_eq!(at("include \"sto"), Some((None, "include".to_owned(), true)));
        assert_eq!(at("# a com"), None);
    }
}
