//! Whether the drawn order can be built, and which order would cure a reverse lap.

use crate::facts::DetailFacts;
use crate::facts::face::{self, DropEvent, Event, Face, FaceFacts};
use crate::model::MaterialKind;
use crate::output::sequence::problem::{Problem, SequenceChange};
use crate::output::sequence::words::name;

/// What is wrong with the order, in sentences; empty when nothing is.
pub fn problems(facts: &DetailFacts) -> Vec<String> {
    let mut problems = Vec::new();
    for stack in &facts.face.impossible {
        let [piece, other] = &stack.pair.map(|piece| name(facts, piece));
        let unit = |piece: usize| facts.detail.pieces[piece].material.kind == Some(MaterialKind::Unit);
        let problem = match stack.pair.iter().any(|&piece| unit(piece)) {
            true => Problem::ImpossibleUnit { piece, other },
            false => Problem::Impossible { piece, other },
        };
        problems.push(problem.words());
    }
    for tuck in facts.face.tucks.iter().filter(|tuck| tuck.fixed) {
        let [piece, behind] = &[tuck.piece, tuck.behind].map(|piece| name(facts, piece));
        problems.push(Problem::BehindFixed { piece, behind }.words());
    }
    let drawn = facts.shape();
    for event in facts.face.drops.events.iter().filter(|e| e.event == Event::Reverse && harmful(&drawn, e)) {
        let [Some(outer), Some(inner)] = event.pieces else { continue };
        let [over, under] = &[outer, inner].map(|piece| name(facts, piece));
        let moved = cure(facts, &drawn, outer, inner);
        let pair = moved.as_ref().map(|moved| {
            let (Move::Before(one, other) | Move::Over(one, other)) = *moved;
            [one, other]
        });
        let names = pair.map(|pair| pair.map(|piece| name(facts, piece)));
        let cure = moved.zip(names.as_ref()).map(|(moved, [piece, other])| match moved {
            Move::Before(..) => SequenceChange::Install { piece, before: other },
            Move::Over(..) => SequenceChange::Lay { piece, over: other },
        });
        problems.push(Problem::ReverseLap { over, under, cure }.words());
    }
    problems
}

/// A change of the order.
enum Move {
    /// The first is installed just before the second.
    Before(usize, usize),
    /// The first is folded over the second.
    Over(usize, usize),
}

/// A change that does away with the reverse lap of the two and does no new harm.
fn cure(facts: &DetailFacts, drawn: &Face, outer: usize, inner: usize) -> Option<Move> {
    let harm = harms(drawn, &facts.face);
    let helps = |changed: &Face, renumber: &dyn Fn(usize) -> usize| {
        let Ok(found) = face::derive(changed) else { return false };
        let still = found
            .drops
            .events
            .iter()
            .any(|e| e.event == Event::Reverse && e.pieces == [Some(renumber(outer)), Some(renumber(inner))]);
        !still && harms(changed, &found) < harm && found.impossible.len() <= facts.face.impossible.len()
    };
    if outer > inner {
        let (moved, renumber) = move_before(drawn, outer, inner);
        if helps(&moved, &renumber) {
            return Some(Move::Before(outer, inner));
        }
        let (moved, renumber) = move_after(drawn, inner, outer);
        if helps(&moved, &renumber) {
            return Some(Move::Before(outer, inner));
        }
    }
    let mut folded = drawn.clone();
    folded.pieces[outer].over.retain(|other| *other != inner);
    folded.pieces[inner].behind.retain(|other| *other != outer);
    folded.pieces[inner].over.push(outer);
    helps(&folded, &|piece| piece).then_some(Move::Over(inner, outer))
}

fn harms(face: &Face, found: &FaceFacts) -> usize {
    found.drops.events.iter().filter(|event| event.event != Event::Relies && harmful(face, event)).count()
}

/// It ends in damage, or it defeats a flashing, which is there to bring water out.
fn harmful(face: &Face, event: &DropEvent) -> bool {
    let flashing = event.pieces[0].and_then(|piece| face.pieces.get(piece)).is_some_and(|p| p.serves_as_flashing());
    event.damages() || (event.event == Event::Reverse && flashing)
}

/// The face with piece `from` installed just before `to`, and the new number of each old one.
fn move_before(face: &Face, from: usize, to: usize) -> (Face, impl Fn(usize) -> usize) {
    let mut order: Vec<usize> = (0..face.pieces.len()).filter(|piece| *piece != from).collect();
    let at = order.iter().position(|piece| *piece == to).unwrap_or(0);
    order.insert(at, from);
    reorder(face, order)
}

/// The face with piece `from` installed just after `to`.
fn move_after(face: &Face, from: usize, to: usize) -> (Face, impl Fn(usize) -> usize) {
    let mut order: Vec<usize> = (0..face.pieces.len()).filter(|piece| *piece != from).collect();
    let at = order.iter().position(|piece| *piece == to).map_or(order.len(), |at| at + 1);
    order.insert(at, from);
    reorder(face, order)
}

fn reorder(face: &Face, order: Vec<usize>) -> (Face, impl Fn(usize) -> usize) {
    let mut new = vec![0; order.len()];
    for (position, old) in order.iter().enumerate() {
        new[*old] = position;
    }
    let mut moved = face.clone();
    moved.pieces = order.iter().map(|old| face.pieces[*old].clone()).collect();
    for piece in &mut moved.pieces {
        piece.renumber(|index| new[index]);
    }
    moved.cuts.iter_mut().for_each(|cut| cut.piece = new[cut.piece]);
    moved.fasten.iter_mut().for_each(|field| field.piece = new[field.piece]);
    for seal in &mut moved.seals {
        (seal.first, seal.second) = (new[seal.first], new[seal.second]);
    }
    (moved, move |piece| new[piece])
}
