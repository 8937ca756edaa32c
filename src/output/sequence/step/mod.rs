//! The steps themselves.

mod piece;

use crate::facts::DetailFacts;
use crate::model::{Axis, Cut, Fastening, MaterialKind, Piece, Seal, Weeps};
use crate::output::sequence::InstallationStep;
use crate::output::sequence::words::{bead, list, name, place, within};
use crate::text::set_off;
use piece::piece;

/// A line of the detail that is a step of the work.
#[derive(Clone, Copy)]
enum StepLine<'a> {
    Piece(usize),
    Cut(&'a Cut),
    Seal(usize),
    Fasten(&'a Fastening),
    Weeps(&'a Weeps),
}

/// A step for each line that is work, in the order of the lines.
pub fn steps(facts: &DetailFacts) -> Vec<InstallationStep> {
    let (lines, numbers) = (lines(facts), numbers(facts));
    let number = |piece: usize| numbers[piece];
    lines
        .iter()
        .map(|line| match *line {
            StepLine::Piece(index) => piece(facts, index, &number),
            StepLine::Cut(cut) => cut_step(facts, cut),
            StepLine::Seal(index) => seal_step(facts, &facts.detail.seals[index], &number),
            StepLine::Fasten(fastening) => fasten_step(facts, fastening, &number),
            StepLine::Weeps(weeps) => InstallationStep {
                act: match weeps.up {
                    Some(up) => format!("Leave weeps open every {} at {up}.", weeps.every),
                    None => format!("Leave weeps open every {}.", weeps.every),
                },
                hold: vec!["Check that no mortar or sealant closes them.".into()],
                ..InstallationStep::default()
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

/// The number of the step in which a joint is sealed.
pub fn seal_number(facts: &DetailFacts, seal: usize) -> usize {
    let is_it = |line: &StepLine| matches!(line, StepLine::Seal(index) if *index == seal);
    lines(facts).iter().position(is_it).map_or(0, |n| n + 1)
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
        limits.push(format!(
            "Sunlight: {} can stay exposed for {limit}, the shortest limit of all.",
            set_off(&piece.name)
        ));
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
    lines.extend(detail.seals.iter().enumerate().map(|(index, s)| (s.span.start, StepLine::Seal(index))));
    lines.extend(detail.fastenings.iter().map(|f| (f.span.start, StepLine::Fasten(f))));
    lines.extend(detail.weeps.iter().map(|w| (w.span.start, StepLine::Weeps(w))));
    lines.sort_by_key(|(start, _)| *start);
    lines.into_iter().map(|(_, line)| line).collect()
}

fn cut_step(facts: &DetailFacts, cut: &Cut) -> InstallationStep {
    let piece = &facts.detail.pieces[cut.piece.index];
    let mut step = InstallationStep {
        act: format!("Cut {} {}.", set_off(&piece.name), place(&cut.up, &cut.along)),
        ..InstallationStep::default()
    };
    if matches!(piece.material.kind, Some(MaterialKind::Mass | MaterialKind::Cladding)) {
        step.cautions.push(
            "Cutting masonry or cement board releases silica dust: cut wet or with dust extraction, wear a respirator."
                .into(),
        );
    }
    step
}

fn seal_step(facts: &DetailFacts, seal: &Seal, number: &dyn Fn(usize) -> usize) -> InstallationStep {
    let (first, second) = (name(facts, seal.first.index), name(facts, seal.second.index));
    let at = match seal.at {
        Some((Axis::Up, at)) => format!("at {at} up"),
        Some((Axis::Along, at)) => format!("at {at} along the wall"),
        None => "along their whole contact".into(),
    };
    let mut step = InstallationStep {
        act: format!("Seal between {first} and {second} {at}, with {}.", bead(seal)),
        ..InstallationStep::default()
    };
    let later = seal.first.index.max(seal.second.index);
    let drawn = facts.detail.pieces[later].span.start;
    if seal.span.start < drawn {
        step.how.push(format!("Lay the bead before step {} presses {} into it.", number(later), name(facts, later)));
    }
    if let Some(least) = seal.sealant.applies_above {
        step.air = Some(format!("Not below {least}."));
    }
    step.hold.push("Check that the bead is unbroken and wets both sides.".into());
    step
}

fn fasten_step(facts: &DetailFacts, fastening: &Fastening, number: &dyn Fn(usize) -> usize) -> InstallationStep {
    let piece = fastening.piece.index;
    let fastener = within(&fastening.fastener);
    let mut step = InstallationStep {
        act: format!(
            "Fasten {} with one {fastener} every {}, {}.",
            name(facts, piece),
            fastening.every,
            place(&fastening.up, &fastening.along)
        ),
        ..InstallationStep::default()
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
            true => format!("{} (step {})", set_off(&said.name), number(other)),
            false => set_off(&said.name),
        })
        .collect();
    if !clear.is_empty() {
        step.how.push(format!("Keep clear of {}.", list(&clear)));
    }
    step
}
