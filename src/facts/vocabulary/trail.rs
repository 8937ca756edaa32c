//! The water path of a drop in plain words.

use crate::facts::DetailFacts;
use crate::facts::face::{DropEvent, DropStep, OPEN_HIGH, OPEN_LOW, StepKind};
use crate::text::{Span, set_off};

/// One step of a water path: where the piece is in the text, and what happens, with the height in the author's unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TrailStep {
    pub span: Span,
    pub message: String,
}

/// The path that is shown for an event: that of its worst end.
pub fn trail(facts: &DetailFacts, event: &DropEvent) -> Vec<TrailStep> {
    let Some(end) = event.worst() else { return Vec::new() };
    let steps = facts.face.drops.trail(end);
    // If a seal fails, the drop passes behind the first piece of the event and runs down the second.
    let starts = |step: &DropStep| if step.kind == StepKind::SealLost { event.pieces[1] } else { Some(step.piece) };
    let mut on = steps.first().and_then(starts).unwrap_or(0);
    steps
        .iter()
        .map(|step| {
            let message = words(facts, step, on);
            if matches!(step.kind, StepKind::MovesOnto | StepKind::LandsOn) {
                on = step.piece;
            }
            TrailStep { span: facts.detail.pieces[step.piece].name_span, message }
        })
        .collect()
}

fn words(facts: &DetailFacts, step: &DropStep, on: usize) -> String {
    let name = |piece: usize| set_off(&facts.detail.pieces[piece].name);
    let (piece, on) = (name(step.piece), name(on));
    let height = match step.up {
        OPEN_HIGH => "the top".to_string(),
        OPEN_LOW => "the bottom".to_string(),
        up => facts.length(Some(step.piece), up).to_string(),
    };
    match step.kind {
        StepKind::StartsOn if step.up == OPEN_HIGH => format!("rain runs down {piece} from above"),
        StepKind::StartsOn if step.up == OPEN_LOW => format!("rain runs on {piece} toward the valley"),
        StepKind::StartsOn => format!("rain meets {piece} at {height}"),
        StepKind::StartsBehind if step.up == OPEN_HIGH => {
            format!("rain gets behind the outer layers and runs down {piece} from above")
        }
        StepKind::StartsBehind => format!("rain gets behind the outer layers and meets {piece} at {height}"),
        StepKind::StartsIn => format!("water gets behind the piece that sits on {piece} and meets {piece} at {height}"),
        StepKind::PassesBehind => format!("runs down {on} to {height} and gets behind {piece}"),
        StepKind::SealLost => format!("gets behind {piece} at {height} once its seal fails"),
        StepKind::MovesOnto => format!("follows the seal from {on} onto {piece} at {height}"),
        StepKind::LandsOn => format!("drops from {on} onto {piece} at {height}"),
        StepKind::BacksUp => format!("backs up behind {piece}, which is joined to {on} at {height}"),
        StepKind::RunsOut => format!("fills the space behind {piece} and spills over its top edge at {height}"),
        StepKind::Overtops => format!("rises to {height} and gets behind {piece}"),
        StepKind::Wets => format!("wets {piece} at {height}"),
        StepKind::Enters => format!("leaves {piece} at {height} with nothing behind it, and gets into the wall"),
        StepKind::FallsOff => format!("falls off {piece} at {height} with nothing below to catch it"),
        StepKind::ReachesValley => format!("runs on {piece} to the valley at {height} and off along the valley"),
        StepKind::Drains if step.up == OPEN_LOW => format!("runs off down {piece}"),
        StepKind::Drains => format!("drips off {piece} at {height}"),
        StepKind::LedOff => format!("runs off {piece} at {height}, outboard of the water control layer below"),
        StepKind::Behind if step.up == OPEN_LOW => format!("runs down {piece} behind the water control layer"),
        StepKind::Behind => format!("is on {piece} at {height}, behind the water control layer"),
    }
}
