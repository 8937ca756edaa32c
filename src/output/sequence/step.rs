//! The steps themselves.

use crate::facts::DetailFacts;
use crate::facts::face::{Lap, Run};
use crate::model::{AssemblyKind, Axis, Cut, Fastening, Hold, MaterialKind, Piece, Seal, Weeps};
use crate::output::sequence::Step;
use crate::output::sequence::words::{list, name, place, thing, within};

/// A line of the detail that is a step of the work.
#[derive(Clone, Copy)]
enum StepLine<'a> {
    Piece(usize),
    Cut(&'a Cut),
    Seal(&'a Seal),
    Fasten(&'a Fastening),
    Weeps(&'a Weeps),
}

/// A step for each line that is work, in the order of the lines.
pub fn steps(facts: &DetailFacts) -> Vec<Step> {
    let (lines, numbers) = (lines(facts), numbers(facts));
    let number = |piece: usize| numbers[piece];
    lines
        .iter()
        .map(|line| match *line {
            StepLine::Piece(index) => piece(facts, index, &number),
            StepLine::Cut(cut) => cut_step(facts, cut),
            StepLine::Seal(seal) => seal_step(facts, seal, &number),
            StepLine::Fasten(fastening) => fasten_step(facts, fastening, &number),
            StepLine::Weeps(weeps) => Step {
                act: match weeps.up {
                    Some(up) => format!("Leave weeps open every {} at {up}.", weeps.every),
                    None => format!("Leave weeps open every {}.", weeps.every),
                },
                hold: vec!["Check that no mortar or sealant closes them.".into()],
                ..Step::default()
            },
        })
        .collect()
}

/// The number of the step in which each piece is installed.
pub fn numbers(facts: &DetailFacts) -> Vec<usize> {
    let mut numbers = vec![0; facts.detail.pieces.len()];
    for (n, line) in lines(facts).into_iter().enumerate() {
        if let StepLine::Piece(piece) = line {
            numbers[piece] = n + 1;
        }
    }
    numbers
}

/// What holds for the whole work.
pub fn limits(facts: &DetailFacts) -> Vec<String> {
    let detail = &facts.detail;
    let mut limits = Vec::new();
    if let Some(at) = detail.installed_at {
        limits.push(format!("Planned for an air temperature of {}.", at.value));
    }
    if let Some(days) = detail.exposed {
        limits.push(format!("Cover everything within {}.", days.value));
    }
    let shortest = |piece: &&Piece| piece.material.uv_limit.is_some();
    let limited = detail.pieces.iter().filter(shortest).min_by(|a, b| uv(a).total_cmp(&uv(b)));
    if let Some(piece) = limited
        && let Some(limit) = piece.material.uv_limit
    {
        limits.push(format!("Sunlight: {} can stay exposed for {limit}, the shortest limit of all.", piece.name));
    }
    limits
}

fn uv(piece: &Piece) -> f64 {
    piece.material.uv_limit.map_or(f64::INFINITY, |limit| limit.si)
}

fn lines(facts: &DetailFacts) -> Vec<StepLine<'_>> {
    let detail = &facts.detail;
    let mut lines: Vec<(u32, StepLine)> = Vec::new();
    lines.extend(detail.pieces.iter().enumerate().map(|(index, p)| (p.span.start, StepLine::Piece(index))));
    lines.extend(detail.cuts.iter().map(|c| (c.span.start, StepLine::Cut(c))));
    lines.extend(detail.seals.iter().map(|s| (s.span.start, StepLine::Seal(s))));
    lines.extend(detail.fastenings.iter().map(|f| (f.span.start, StepLine::Fasten(f))));
    lines.extend(detail.weeps.iter().map(|w| (w.span.start, StepLine::Weeps(w))));
    lines.sort_by_key(|(start, _)| *start);
    lines.into_iter().map(|(_, line)| line).collect()
}

fn piece(facts: &DetailFacts, index: usize, number: &dyn Fn(usize) -> usize) -> Step {
    let piece = &facts.detail.pieces[index];
    let kind = piece.material.kind;
    let existing = piece.layer.is_some_and(|at| facts.detail.joins[at.join].assembly.kind == AssemblyKind::Existing);
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
    let mut step = Step { act: format!("{verb} {}{role}{side}, {where_}.", thing(piece)), ..Step::default() };
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

/// Over what, behind what, and what has to stay loose for it.
fn lay(facts: &DetailFacts, index: usize, number: &dyn Fn(usize) -> usize, step: &mut Step) {
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
        let verb = if over { "Lap it over" } else { "Tuck it behind" };
        step.how.push(format!("{verb} {} by {}.", name(facts, other), list(&lengths)));
    }
    for tuck in facts.face.tucks.iter().filter(|tuck| tuck.behind == index) {
        let later = name(facts, tuck.piece);
        step.how.push(format!("Leave it loose until step {}, where {later} goes behind it.", number(tuck.piece)));
    }
}

fn stick(facts: &DetailFacts, index: usize, step: &mut Step) {
    let piece = &facts.detail.pieces[index];
    let prime = if piece.primed { "Prime first, then adhere" } else { "Adhere" };
    for (hold, how) in [(Hold::Adhesive, prime), (Hold::Weld, "Weld"), (Hold::Clamp, "Clamp")] {
        let held = piece.bonds.iter().filter(|bond| bond.hold == hold);
        let onto: Vec<String> = held.map(|bond| name(facts, bond.index)).collect();
        if !onto.is_empty() {
            let after = match hold {
                Hold::Adhesive => "on a clean, dry surface",
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
        step.how.push(format!("Not below {least}."));
    }
}

/// A bond or a flashing that a later step covers is checked before that step.
fn hold(facts: &DetailFacts, index: usize, number: &dyn Fn(usize) -> usize, step: &mut Step) {
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
        step.hold.push(format!("Before step {} covers it, check that {} {look}.", number(later), piece.name));
    }
}

fn cautions(facts: &DetailFacts, piece: &Piece, existing: bool, step: &mut Step) {
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

fn cut_step(facts: &DetailFacts, cut: &Cut) -> Step {
    let piece = &facts.detail.pieces[cut.piece.index];
    let mut step = Step { act: format!("Cut {} {}.", piece.name, place(&cut.up, &cut.along)), ..Step::default() };
    if matches!(piece.material.kind, Some(MaterialKind::Mass | MaterialKind::Cladding)) {
        step.cautions.push(
            "Cutting masonry or cement board releases silica dust: cut wet or with dust extraction, wear a respirator."
                .into(),
        );
    }
    step
}

fn seal_step(facts: &DetailFacts, seal: &Seal, number: &dyn Fn(usize) -> usize) -> Step {
    let (first, second) = (name(facts, seal.first.index), name(facts, seal.second.index));
    let bead = within(&seal.sealant);
    let at = match seal.at {
        Some((Axis::Up, at)) => format!(" at {at}"),
        Some((Axis::Along, at)) => format!(" along at {at}"),
        None => " along their whole contact".into(),
    };
    let mut step = Step { act: format!("Seal {first} to {second} with {bead}{at}."), ..Step::default() };
    let later = seal.first.index.max(seal.second.index);
    let drawn = facts.detail.pieces[later].span.start;
    if seal.span.start < drawn {
        step.how.push(format!("Lay the bead before step {} presses {} into it.", number(later), name(facts, later)));
    }
    if let Some(least) = seal.sealant.applies_above {
        step.how.push(format!("Not below {least}."));
    }
    step.hold.push("Check that the bead is unbroken and wets both sides.".into());
    step
}

fn fasten_step(facts: &DetailFacts, fastening: &Fastening, number: &dyn Fn(usize) -> usize) -> Step {
    let piece = fastening.piece.index;
    let fastener = within(&fastening.fastener);
    let mut step = Step {
        act: format!(
            "Fasten {} with one {fastener} every {}, {}.",
            name(facts, piece),
            fastening.every,
            place(&fastening.up, &fastening.along)
        ),
        ..Step::default()
    };
    let touches = |other: usize| facts.face.contacts.iter().any(|c| *c == (piece.min(other), piece.max(other)));
    let clear: Vec<String> = facts
        .detail
        .pieces
        .iter()
        .enumerate()
        .filter(|(_, said)| matches!(said.material.kind, Some(MaterialKind::Tape | MaterialKind::Flashing)))
        .filter(|(other, _)| touches(*other))
        .map(|(other, said)| match said.span.start > fastening.span.start {
            true => format!("{} (step {})", said.name, number(other)),
            false => said.name.to_string(),
        })
        .collect();
    if !clear.is_empty() {
        step.how.push(format!("Keep clear of {}.", list(&clear)));
    }
    step
}
