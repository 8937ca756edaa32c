//! Blocks and runs of comments that an editor may fold.

use lsp_types::{FoldingRange, FoldingRangeKind, Uri};

use crate::server::State;
use crate::syntax::{Scanner, Token};

pub fn folding(state: &State, uri: &Uri) -> Option<Vec<FoldingRange>> {
    let source = state.source(&state.path(uri)?)?;
    let line = |offset: usize| source.lines().line_at(offset) as u32;
    let mut folds = Vec::new();
    let mut open: Vec<u32> = Vec::new();
    let mut comments: Option<(u32, u32)> = None;
    let mut fold = |first: u32, last: u32, kind: Option<FoldingRangeKind>| {
        if last > first {
            folds.push(FoldingRange { start_line: first, end_line: last, kind, ..FoldingRange::default() });
        }
    };
    for token in Scanner::of(&source.text) {
        match token {
            Token::Open(at) => open.push(line(at)),
            // The closing brace stays in sight.
            Token::Close(at) => {
                if let Some(first) = open.pop() {
                    fold(first, line(at).saturating_sub(1), None);
                }
            }
            Token::Comment { start, .. } => {
                let here = line(start);
                comments = match comments {
                    Some((first, last)) if last + 1 == here => Some((first, here)),
                    before => {
                        if let Some((first, last)) = before {
                            fold(first, last, Some(FoldingRangeKind::Comment));
                        }
                        Some((here, here))
                    }
                };
            }
            Token::Head { .. } => {}
        }
    }
    if let Some((first, last)) = comments {
        fold(first, last, Some(FoldingRangeKind::Comment));
    }
    folds.sort_by_key(|fold| (fold.start_line, fold.end_line));
    Some(folds)
}
