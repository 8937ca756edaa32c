//! Lines of the formatted text: made from the tree, aligned, printed.

use std::collections::HashMap;

use crate::syntax::{Keyword, Statement};
use crate::tidy::clause::{Cells, apart, cells, line, rank_of, right};
use crate::tidy::tree::{Block, Node};
use crate::tidy::words::{squeezed, width};

/// One line. A comment line has neither cells nor a kind.
pub struct Row<'a> {
    /// A blank line stands before it.
    gap: bool,
    depth: usize,
    cells: Cells,
    /// The kind of a line that stands in columns.
    kind: Option<Keyword>,
    comment: Option<&'a str>,
}

type Statements<'s> = HashMap<usize, &'s Statement>;

/// The lines of a text, not yet aligned.
pub fn rows<'a>(text: &str, statements: &Statements<'_>, nodes: Vec<Node<'a>>) -> Vec<Row<'a>> {
    let mut rows = Vec::new();
    lay(text, statements, None, nodes, 0, &mut rows);
    rows
}

/// Lays out the nodes of one block; `owner` is the statement whose clauses stand in it. Blocks nest twice at most.
fn lay<'a>(
    text: &str,
    statements: &Statements<'_>,
    owner: Option<&Statement>,
    mut nodes: Vec<Node<'a>>,
    depth: usize,
    rows: &mut Vec<Row<'a>>,
) {
    if let Some(owner) = owner {
        order(owner, &mut nodes);
    }
    for (number, node) in nodes.into_iter().enumerate() {
        let gap = node.gap && number > 0;
        let plain = |words: String, comment| Row { gap, depth, cells: vec![words], kind: None, comment };
        let Some(head) = node.head else {
            rows.push(Row { cells: Vec::new(), ..plain(String::new(), node.comment) });
            continue;
        };
        let statement = statements.get(&head.start).copied();
        match (statement, node.block) {
            (Some(statement), None) if owner.is_none() => {
                let cells = cells(text, statement, &head);
                rows.push(Row { kind: Some(statement.keyword), cells, ..plain(String::new(), node.comment) });
            }
            (_, Some(block)) if !block.one_line => {
                let words = words(text, statements, owner, &head);
                rows.push(plain(format!("{words} {{"), block.comment));
                let inner = statement.filter(|_| depth > 0);
                lay(text, statements, inner, block.nodes, depth + 1, rows);
                rows.push(Row { gap: false, depth, cells: vec!["}".to_owned()], kind: None, comment: node.comment });
            }
            (_, block) => {
                let mut words = words(text, statements, owner, &head);
                if let Some(block) = block {
                    words.push(' ');
                    words.push_str(&joined(text, statements, statement.filter(|_| depth > 0), block));
                }
                rows.push(plain(words, node.comment));
            }
        }
    }
}

fn words(text: &str, statements: &Statements<'_>, owner: Option<&Statement>, head: &std::ops::Range<usize>) -> String {
    match owner.or(statements.get(&head.start).copied()) {
        Some(statement) => line(text, statement, head),
        None => squeezed(&text[head.clone()]),
    }
}

/// A block in one line.
fn joined(text: &str, statements: &Statements<'_>, owner: Option<&Statement>, mut block: Block<'_>) -> String {
    if let Some(owner) = owner {
        order(owner, &mut block.nodes);
    }
    let mut lines = Vec::new();
    for node in block.nodes {
        let Some(head) = node.head else { continue };
        let mut words = words(text, statements, owner, &head);
        if let Some(inner) = node.block {
            words.push(' ');
            words.push_str(&joined(text, statements, statements.get(&head.start).copied(), inner));
        }
        lines.push(words);
    }
    if lines.is_empty() { "{ }".to_owned() } else { format!("{{ {} }}", lines.join("; ")) }
}

/// Puts the lines of a statement's own block in the order of their clauses, within groups between comments and blank lines.
fn order(owner: &Statement, nodes: &mut [Node<'_>]) {
    let first_of_group = |node: &Node<'_>| node.gap || node.head.is_none();
    let mut start = 0;
    while start < nodes.len() {
        let more = nodes[start + 1..].iter().position(first_of_group);
        let end = more.map_or(nodes.len(), |more| start + 1 + more);
        let group = &mut nodes[start..end];
        let gap = std::mem::take(&mut group[0].gap);
        // A comment stays at the head of its group.
        group.sort_by_key(|node| node.head.as_ref().map_or(0, |head| 1 + rank_of(owner, head)));
        group[0].gap = gap;
        start = end;
    }
}

/// Gives the lines of a kind common columns, in each group between blank lines, comments and blocks: pieces and layers
/// across what stands between them, which is what a drawing shows; others only as neighbors.
pub fn align(rows: &mut [Row<'_>]) {
    let mut start = 0;
    while start < rows.len() {
        let depth = rows[start].depth;
        let same = |row: &Row<'_>| !row.gap && row.kind.is_some() && row.depth == depth;
        let end = start + 1 + rows[start + 1..].iter().take_while(|row| same(row)).count();
        let group = &mut rows[start..end];
        for kind in [Keyword::Piece, Keyword::Layer] {
            columns(kind, group.iter_mut().filter(|row| row.kind == Some(kind)).collect());
        }
        for run in group.chunk_by_mut(|one, next| one.kind == next.kind) {
            if let Some(kind) = run[0].kind.filter(|kind| !matches!(kind, Keyword::Piece | Keyword::Layer)) {
                columns(kind, run.iter_mut().collect());
            }
        }
        start = end;
    }
}

/// Makes one cell of the cells of each row.
fn columns(kind: Keyword, rows: Vec<&mut Row<'_>>) {
    let count = rows.iter().map(|row| row.cells.len()).max().unwrap_or(0);
    let cell = |row: &Row<'_>, column: usize| row.cells.get(column).map_or(0, |cell| width(cell));
    let widths: Vec<usize> =
        (0..count).map(|column| rows.iter().map(|row| cell(row, column)).max().unwrap_or(0)).collect();
    let between = if rows.len() > 1 { apart(kind) } else { 1 };
    for row in rows {
        let mut line = String::new();
        for (column, words) in row.cells.iter().enumerate().filter(|(column, _)| widths[*column] > 0) {
            if column > 0 {
                line.extend(std::iter::repeat_n(' ', between));
            }
            let room = widths[column] - width(words);
            let (before, after) = if right(kind, column) { (room, 0) } else { (0, room) };
            line.extend(std::iter::repeat_n(' ', before));
            line.push_str(words);
            line.extend(std::iter::repeat_n(' ', after));
        }
        line.truncate(line.trim_end().len());
        row.cells = vec![line];
    }
}

/// The text. Comments at the ends of neighboring lines stand in one column, two blanks after the longest of these lines.
pub fn print(rows: &[Row<'_>]) -> String {
    let length = |row: &Row<'_>| row.cells.first().map_or(0, |line| width(line));
    let mut text = String::new();
    let mut column = 0;
    for (number, row) in rows.iter().enumerate() {
        if row.gap {
            text.push('\n');
        }
        text.extend(std::iter::repeat_n("  ", row.depth));
        match (row.cells.first(), row.comment) {
            (Some(line), Some(comment)) => {
                let neighbor =
                    |other: &Row<'_>| !other.cells.is_empty() && other.comment.is_some() && other.depth == row.depth;
                let first = number == 0 || row.gap || !neighbor(&rows[number - 1]);
                if first {
                    let run = rows[number + 1..].iter().take_while(|other| !other.gap && neighbor(other));
                    column = run.map(length).max().unwrap_or(0).max(length(row));
                }
                text.push_str(line);
                text.extend(std::iter::repeat_n(' ', column - width(line) + 2));
                text.push_str(comment);
            }
            (line, comment) => text.push_str(line.map_or(comment.unwrap_or(""), |line| line)),
        }
        text.push('\n');
    }
    text
}
