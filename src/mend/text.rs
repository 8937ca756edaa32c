//! Edits of a text, line by line and clause by clause.

use std::ops::Range;

use crate::finding::Edit;
use crate::mend::Context;
use crate::model::Piece;
use crate::syntax::{Scanner, Token};
use crate::text::{Source, Span};

/// The text with all edits made; `None` where two of them touch the same words.
pub fn apply(text: &str, edits: &[Edit]) -> Option<String> {
    let mut sorted: Vec<&Edit> = edits.iter().collect();
    sorted.sort_by_key(|edit| edit.span.start);
    let (mut new, mut at) = (String::with_capacity(text.len() + 100), 0);
    for edit in sorted {
        let range = edit.span.range();
        new.push_str(text.get(at..range.start)?);
        new.push_str(&edit.text);
        at = range.end;
    }
    new.push_str(text.get(at..)?);
    Some(new)
}

/// The whole lines of a statement, with their line break; `None` where it shares a line with something else.
pub fn lines_of(source: &Source, span: Span) -> Option<Range<usize>> {
    let text = &source.text;
    let start = text[..span.range().start].rfind('\n').map_or(0, |at| at + 1);
    let end = text[span.range().end..].find('\n').map(|at| span.range().end + at + 1)?;
    let after = text[span.range().end..end].trim();
    let alone = text[start..span.range().start].trim().is_empty() && (after.is_empty() || after.starts_with('#'));
    alone.then_some(start..end)
}

/// A clause added to a statement, at the end of its line or inside of its block.
pub fn clause(context: &Context<'_>, statement: Span, words: &str) -> Edit {
    let end = statement.range().end;
    match block(&context.source.text[end..]) {
        Some(last) => insert(context, end + last, format!("; {words}")),
        None => insert(context, end, format!(" {words}")),
    }
}

/// A clause removed from its statement, with the blanks before it.
pub fn remove_clause(context: &Context<'_>, span: Span) -> Edit {
    let clause = span.range();
    let start = context.source.text[..clause.start].trim_end().len();
    replace(context, start..clause.end, String::new())
}

/// Where the last clause of a block ends. The block begins here.
fn block(text: &str) -> Option<usize> {
    let mut last = None;
    for token in Scanner::of(text) {
        match (token, last) {
            (Token::Open(at), None) if text[..at].trim().is_empty() => last = Some(at),
            (Token::Head { end, .. }, Some(_)) => last = Some(end),
            (Token::Close(_), Some(end)) => return (!text[end..].starts_with('{')).then_some(end),
            (Token::Comment { .. }, Some(_)) => {}
            _ => return None,
        }
    }
    None
}

/// A statement on a line of its own, after another one.
pub fn line_behind(context: &Context<'_>, statement: Span, words: &str) -> Option<Edit> {
    let lines = lines_of(context.source, statement)?;
    Some(insert(context, lines.end, line_like(context, lines, words)))
}

/// A statement on a line of its own, before another one.
pub fn line_before(context: &Context<'_>, statement: Span, words: &str) -> Option<Edit> {
    let lines = lines_of(context.source, statement)?;
    Some(insert(context, lines.start, line_like(context, lines, words)))
}

/// With the indentation and the line break of these lines.
fn line_like(context: &Context<'_>, lines: Range<usize>, words: &str) -> String {
    let first = &context.source.text[lines];
    let indent = &first[..first.len() - first.trim_start().len()];
    let end = if first.ends_with("\r\n") { "\r\n" } else { "\n" };
    format!("{indent}{words}{end}")
}

/// A statement on a line of its own, at the end of the item that the finding is about.
pub fn last_line(context: &Context<'_>, words: &str) -> Option<Edit> {
    let item = context.item()?;
    if let Some(last) = item.body.last()
        && let Some(edit) = line_behind(context, last.span, words)
    {
        return Some(edit);
    }
    let brace = item.span.range().end.checked_sub(1).filter(|at| context.source.text[*at..].starts_with('}'))?;
    let inner = context.source.text[..brace].trim_end();
    let between = if inner.ends_with(['{', ';']) { " " } else { "; " };
    Some(replace(context, inner.len()..brace, format!("{between}{words} ")))
}

/// The words at a place, however they are broken into lines.
pub fn on_one_line(context: &Context<'_>, span: Span) -> String {
    context.source.at(span).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The statement of a piece.
pub fn piece<'a>(context: &Context<'a>, index: usize) -> &'a Piece {
    &context.pieces()[index]
}

pub fn insert(context: &Context<'_>, at: usize, text: String) -> Edit {
    replace(context, at..at, text)
}

pub fn replace(context: &Context<'_>, range: Range<usize>, text: String) -> Edit {
    Edit { span: Span::new(context.source.id, range.start, range.end), text }
}
