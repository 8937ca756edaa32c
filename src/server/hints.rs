//! What was worked out, shown at the end of the line: how far each piece laps what it lies over.

use lsp_types::{InlayHint, InlayHintKind, InlayHintLabel, InlayHintParams, InlayHintTooltip};

use crate::about::{counts, whole};
use crate::facts::DetailFacts;
use crate::facts::face::Lap;
use crate::server::State;

pub fn hints(state: &State, asked: &InlayHintParams) -> Option<Vec<InlayHint>> {
    let path = state.path(&asked.text_document.uri)?;
    let (checked, source) = (state.checked(&path)?, state.source(&path)?);
    if !state.hints {
        return Some(Vec::new());
    }
    let wanted = state.encoding.bytes(&source, asked.range);
    let mut hints = Vec::new();
    for facts in &checked.facts.details {
        for (index, piece) in facts.detail.pieces.iter().enumerate() {
            let end = piece.span.range().end;
            let again = piece.row.is_some_and(|row| row.next);
            if again || end < wanted.start || end > wanted.end {
                continue;
            }
            let laps: Vec<&Lap> = facts.face.laps.iter().filter(|lap| lap.over == index && counts(lap)).collect();
            if laps.is_empty() {
                continue;
            }
            let words: Vec<String> = laps.iter().map(|lap| short(facts, lap)).collect();
            hints.push(InlayHint {
                position: state.encoding.position(&source, end),
                label: InlayHintLabel::String(words.join(", ")),
                kind: None::<InlayHintKind>,
                text_edits: None,
                tooltip: Some(InlayHintTooltip::String(
                    laps.iter().map(|lap| whole(facts, lap)).collect::<Vec<_>>().join("\n"),
                )),
                padding_left: Some(true),
                padding_right: None,
                data: None,
            });
        }
    }
    Some(hints)
}

/// `laps base 100 mm`
fn short(facts: &DetailFacts, lap: &Lap) -> String {
    let way = if lap.run.word() == "side" { " sideways" } else { "" };
    format!("laps {} {}{way}", facts.detail.pieces[lap.under].name, facts.length(Some(lap.over), lap.length))
}
