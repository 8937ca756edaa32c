//! Any text is read: the same by the shortcut and by the grammar, the same twice; and laid out once for all.

use headlap::syntax::{Document, Statement, parse, read_by_grammar};
use headlap::text::{FileId, Source, Span};
use headlap::tidy::tidy;

use super::spans::{all_inside, inside};

/// Tries these bytes.
pub fn run(bytes: &[u8]) {
    let source = Source::new(FileId::detail(0), "a.detail", String::from_utf8_lossy(bytes));
    let (document, findings) = parse(&source);
    let (slow, problems) = read_by_grammar(&source);
    assert_eq!(document, slow, "the shortcut and the grammar differ");
    assert_eq!(findings, problems.finish(source.id), "the shortcut and the grammar differ");
    assert!((document.clone(), findings.clone()) == parse(&source), "another document the second time");
    findings.iter().for_each(|finding| all_inside(finding, &|_| Some(&source)));
    spans(&document).into_iter().for_each(|span| inside(span, &source, &"the document"));
    layout(&source, &document);
}

/// A layout keeps the statements and is its own layout.
fn layout(source: &Source, document: &Document) {
    let Ok(laid_out) = tidy(source) else { return };
    let after = Source::new(FileId::detail(0), "a.detail", laid_out);
    assert_eq!(tidy(&after).as_ref(), Ok(&after.text), "the layout of a layout is another");
    let (read, findings) = parse(&after);
    assert!(findings.is_empty(), "{findings:?}");
    let keywords = |document: &Document| -> Vec<_> {
        statements(document).map(|statement| (statement.keyword, statement.clauses.len())).collect()
    };
    assert_eq!(keywords(document), keywords(&read), "the layout lost a statement or a clause");
}

fn statements(document: &Document) -> impl Iterator<Item = &Statement> {
    document.items.iter().flat_map(|item| std::iter::once(&item.head).chain(&item.body))
}

fn spans(document: &Document) -> Vec<Span> {
    let mut spans: Vec<Span> = Vec::new();
    for item in &document.items {
        spans.push(item.span);
        spans.extend(item.lost.iter().map(|(_, span)| *span));
    }
    for statement in statements(document) {
        spans.push(statement.span);
        spans.extend([statement.names.first, statement.names.second].into_iter().flatten());
        spans.extend(statement.clauses.iter().map(|part| part.span));
    }
    spans
}
