//! Statements with their blocks and their comments, as they stand in the text.

use std::ops::Range;

use crate::syntax::{Scanner, Token};

/// A statement, or a comment in a line of its own.
pub struct Node<'a> {
    /// A blank line stands before it.
    pub gap: bool,
    /// The bytes of the statement's words; a comment has none.
    pub head: Option<Range<usize>>,
    pub block: Option<Block<'a>>,
    /// The comment of a comment line, or the one at the end of the statement's last line.
    pub comment: Option<&'a str>,
}

pub struct Block<'a> {
    /// The comment after the opening brace.
    pub comment: Option<&'a str>,
    pub nodes: Vec<Node<'a>>,
    /// From brace to brace in one line.
    pub one_line: bool,
}

/// An open block, and the byte of its brace.
struct Open<'a> {
    at: usize,
    block: Block<'a>,
}

/// Reads a text whose braces match.
pub fn read(text: &str) -> Vec<Node<'_>> {
    let mut nodes: Vec<Node<'_>> = Vec::new();
    let mut open: Vec<Open<'_>> = Vec::new();
    let mut before = 0;
    let mut last = None;
    for token in Scanner::of(text) {
        let (start, end) = match token {
            Token::Head { start, end } | Token::Comment { start, end } => (start, end),
            Token::Open(at) | Token::Close(at) => (at, at + 1),
        };
        let between = &text[before..start];
        let here = open.last_mut().map_or(&mut nodes, |open| &mut open.block.nodes);
        match token {
            Token::Head { .. } => {
                here.push(Node { gap: blank_line(between), head: Some(start..end), block: None, comment: None })
            }
            Token::Open(at) => {
                // Comments between a statement and its brace go into the block, the one in its own line to the brace.
                let owner = here.iter().rposition(|node| node.head.is_some()).unwrap_or(0);
                let moved = if here.is_empty() { Vec::new() } else { here.split_off(owner + 1) };
                let comment = here.last_mut().and_then(|node| node.comment.take());
                open.push(Open { at, block: Block { comment, nodes: moved, one_line: false } });
            }
            Token::Close(at) => {
                if let Some(Open { at: start, mut block }) = open.pop() {
                    let comments = block.comment.is_some() || block.nodes.iter().any(|node| node.head.is_none());
                    block.one_line = !comments && (block.nodes.is_empty() || !text[start..at].contains('\n'));
                    let here = open.last_mut().map_or(&mut nodes, |open| &mut open.block.nodes);
                    if let Some(owner) = here.last_mut() {
                        owner.block = Some(block);
                    }
                }
            }
            Token::Comment { .. } => {
                let words = Some(&text[start..end]);
                let place = match (last, open.last_mut()) {
                    (None, _) => None,
                    _ if between.contains('\n') => None,
                    (Some(Token::Open(_)), Some(open)) => Some(&mut open.block.comment),
                    (_, Some(open)) => open.block.nodes.last_mut().map(|node| &mut node.comment),
                    (_, None) => nodes.last_mut().map(|node| &mut node.comment),
                };
                match place {
                    Some(place) if place.is_none() => *place = words,
                    _ => {
                        let here = open.last_mut().map_or(&mut nodes, |open| &mut open.block.nodes);
                        here.push(Node { gap: blank_line(between), head: None, block: None, comment: words });
                    }
                }
            }
        }
        before = end;
        last = Some(token);
    }
    nodes
}

/// Whether two line breaks follow each other with nothing but blanks between them.
fn blank_line(between: &str) -> bool {
    between.split(';').any(|part| part.matches('\n').count() > 1)
}
