//! The step of a piece: how it lies, what holds it, and what to mind.

use crate::facts::DetailFacts;
use crate::facts::face::{Lap, Run};
use crate::model::{AssemblyKind, Hold, MaterialKind, Piece};
use crate::output::sequence::InstallationStep;
use crate::output::sequence::words::{list, name, place, thing};

pub(super) fn piece(facts: &DetailFacts, index: usize, number: &dyn Fn(usize) -> usize) -> InstallationStep {
    let piece = &facts.detail.pieces[index];
    let kind = piece.material.kind;
    let existing = is_there(facts, index);
    let role = piece.role.as_ref().filter(|role| **role != piece.name);
    let role = role.map_or(String::new(), |role| format!(" as {}", role.replace('-', " ")));
    let where_ = place(&piece.up, &piece.along);
    let verb = match kind {
        _ if existing => "Make ready",
        Some(MaterialKind::Tape) => "Apply",
        Some(MaterialKind::Coat) => "Apply",
        Some(MaterialKind::Fill) => "Fit",
        _ => "Install",
    };
    let side = if piece.inside { " on the inner side" } else { "" };
    let mut step = InstallationStep {
        act: format!("{verb} {}{role}{side}{}, {where_}.", thing(piece), behind(facts, index)),
        ..InstallationStep::default()
    };
    lay(facts, index, number, &mut step);
    stick(facts, index, &mut step);
    if let Some(slope) = piece.slope {
        step.how.push(format!("Slope it {} to the outside.", slope.value));
    }
    if piece.drip {
        step.how.push("Keep its drip clear of the surface below.".into());
    }
    hold(facts, index, number, &mut step);
    cautions(facts, piece, existing, &mut step);
    step
}

/// It stands before the work begins: it is of an existing building, and nothing new lies under it or holds it back.
fn is_there(facts: &DetailFacts, index: usize) -> bool {
    let piece = &facts.detail.pieces[index];
    let of = piece.layer.is_some_and(|at| facts.detail.joins[at.join].assembly.kind == AssemblyKind::Existing);
    let under = |lap: &Lap| lap.contact && lap.over == index && lap.under < index && !is_there(facts, lap.under);
    of && piece.behind.is_empty() && !facts.face.laps.iter().any(under)
}

/// What lies outboard of it though it was there before.
fn behind(facts: &DetailFacts, index: usize) -> String {
    let earlier = facts.detail.pieces[index].behind.iter().filter(|other| other.index < index);
    let names: Vec<String> = earlier.map(|other| name(facts, other.index)).collect();
    if names.is_empty() { String::new() } else { format!(" behind {}", list(&names)) }
}

/// Over what, behind what, and what has to stay loose for it.
fn lay(facts: &DetailFacts, index: usize, number: &dyn Fn(usize) -> usize, step: &mut InstallationStep) {
    // The later of two steps states their lap; where something lies between them there is nothing to lap.
    let mine = |lap: &&Lap| lap.contact && lap.over.max(lap.under) == index;
    let laps: Vec<&Lap> = facts.face.laps.iter().filter(mine).collect();
    let mut done: Vec<(usize, bool)> = Vec::new();
    for lap in &laps {
        let (other, over) = (lap.over.min(lap.under), lap.over == index);
        if done.contains(&(other, over)) {
            continue;
        }
        done.push((other, over));
        let same = laps.iter().filter(|l| (l.over.min(l.under), l.over == index) == (other, over));
        let lengths: Vec<String> = same
            .map(|lap| {
                let beside = if lap.run == Run::Side { " sideways" } else { "" };
                format!("{}{beside}", facts.length(Some(index), lap.length))
            })
            .collect();
        let mut lengths = lengths;
        lengths.dedup();
        let (verb, into) = if over { ("Lap it over", &mut step.laps) } else { ("Tuck it behind", &mut step.how) };
        into.push(format!("{verb} {} by {}.", name(facts, other), list(&lengths)));
    }
    for tuck in facts.face.tucks.iter().filter(|tuck| tuck.behind == index) {
        let (later, at) = (name(facts, tuck.piece), number(tuck.piece));
        let masonry = facts.detail.pieces[index].material.surface.as_deref() == Some("masonry");
        step.how.push(match (masonry, is_there(facts, index)) {
            (true, true) => format!("Saw or rake out the joint that {later} goes into at step {at}."),
            (true, false) => format!("Leave the joint open that {later} goes into at step {at}."),
            (false, _) => format!("Leave it loose until step {at}, where {later} goes behind it."),
        });
    }
}

fn stick(facts: &DetailFacts, index: usize, step: &mut InstallationStep) {
    let piece = &facts.detail.pieces[index];
    let prime = if piece.primed { "Prime first, then adhere" } else { "Adhere" };
    for (hold, how) in [(Hold::Adhesive, prime), (Hold::Weld, "Weld"), (Hold::Clamp, "Clamp")] {
        let held = piece.bonds.iter().filter(|bond| bond.hold == hold);
        let onto: Vec<String> = held.map(|bond| name(facts, bond.index)).collect();
        if !onto.is_empty() {
            let after = match hold {
                Hold::Adhesive => "on a clean, dry surface",
                Hold::Weld if is_bitumen(piece) => {
                    "with a torch or hot air, as its maker asks, until bitumen runs out along its edge"
                }
                Hold::Weld => "with hot air, and probe the seam when it is cold",
                Hold::Clamp => "along its whole edge",
            };
            step.how.push(format!("{how} it to {} {after}.", list(&onto)));
        }
    }
    if piece.rolled {
        step.how.push("Roll it firmly over its whole width.".into());
    }
    if let Some(least) = piece.material.applies_above.filter(|_| !piece.bonds.is_empty()) {
        step.air = Some(format!("Not below {least}."));
    }
}

/// A bond or a flashing that a later step covers is checked before that step.
pub(super) fn hold(facts: &DetailFacts, index: usize, number: &dyn Fn(usize) -> usize, step: &mut InstallationStep) {
    let piece = &facts.detail.pieces[index];
    let to_check = !piece.bonds.is_empty()
        || matches!(piece.material.kind, Some(MaterialKind::Flashing | MaterialKind::Tape | MaterialKind::Coat));
    let cover = facts.face.contacts.iter().filter_map(|(a, b)| match (*a == index, *b == index) {
        (true, _) => Some(*b),
        (_, true) => Some(*a),
        _ => None,
    });
    let first = cover.filter(|other| *other > index).min();
    if let (true, Some(later)) = (to_check, first) {
        let look = if piece.bonds.is_empty() {
            "lies flat and is undamaged"
        } else {
            "is adhered everywhere, without wrinkles"
        };
        step.hold.push(format!("Before step {} covers it, check that {} {look}.", number(later), name(facts, index)));
    }
}

fn is_bitumen(piece: &Piece) -> bool {
    piece.material.surface.as_deref() == Some("bitumen")
}

fn cautions(facts: &DetailFacts, piece: &Piece, existing: bool, step: &mut InstallationStep) {
    if is_bitumen(piece) && piece.bonds.iter().any(|bond| bond.hold == Hold::Weld) {
        step.cautions.push(
            "Hot work: keep flames off foam, wood and open cavities, have an extinguisher at hand, and watch for fire for an hour or more after."
                .into(),
        );
    }
    if piece.primed {
        step.cautions.push("Primers may contain solvents: ventilate, keep sparks and flames away, wear gloves.".into());
    }
    if existing {
        step.cautions.push(
            "Old paint may contain lead, and old boards asbestos: have them tested before cutting or scraping.".into(),
        );
    }
    let roof = facts.detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Roof);
    if roof && matches!(piece.material.kind, Some(MaterialKind::Flashing | MaterialKind::Sheet | MaterialKind::Tape)) {
        step.cautions.push("Work at height: guard the edge before the step begins.".into());
    }
}
