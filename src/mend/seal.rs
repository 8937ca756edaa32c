//! Beads and tapes that close a break between two pieces.

use crate::mend::tables::size;
use crate::mend::text::{last_line, line_behind, piece, remove_clause, replace};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{Control, Extent, MaterialKind, Piece};
use crate::quantity::Quantity;

/// How many materials are tried for a bead or a tape.
const MOST_MATERIALS: usize = 3;

/// A bead along the whole contact of two subjects, or of a subject and a piece that it touches.
pub fn beads(context: &Context<'_>) -> Vec<Cure> {
    let sealants = context.sealants();
    let named = !context.of_rule(MaterialKind::Sealant).is_empty();
    let mut pairs: Vec<(usize, usize)> = context.pairs().into_iter().step_by(2).collect();
    let subjects = context.subjects();
    pairs.extend(subjects.iter().flat_map(|&own| context.touching(own).into_iter().map(move |other| (own, other))));
    // A strip that is bonded to one of the two continues the seal to the other.
    let held = |one: usize, other: usize| piece(context, one).bonds.iter().any(|bond| bond.index == other);
    let carries = |own: usize, strip: usize| {
        let on = |subject: &usize| *subject != own && (held(strip, *subject) || held(*subject, strip));
        subjects.contains(&own) && !subjects.contains(&strip) && subjects.iter().any(on)
    };
    let all = 0..context.pieces().len();
    pairs.extend(
        subjects
            .iter()
            .flat_map(|&own| all.clone().map(move |strip| (own, strip)))
            .filter(|&(own, strip)| carries(own, strip)),
    );
    let mut seen = std::collections::BTreeSet::new();
    pairs.retain(|&(one, other)| seen.insert((one.min(other), one.max(other))));
    pairs.sort_by_key(|&(one, other)| !carries(one, other));
    let drafts = sealants.iter().take(MOST_MATERIALS).flat_map(|sealant| {
        pairs.iter().filter_map(|&(one, other)| {
            // Sealant does not bond to loose fill.
            let soft = |index: usize| piece(context, index).material.kind == Some(MaterialKind::Fill);
            let dry = !named && context.outside(one, other) && !sealant.holds.has(Control::Water);
            if soft(one) || soft(other) || dry {
                return None;
            }
            let (one, other) = (&piece(context, one).name, &piece(context, other).name);
            let line = format!("seal {one} to {other} with {}", sealant.name);
            Some(Cure::new(Title::Seal { one, other, sealant: &sealant.name }, vec![last_line(context, &line)?]))
        })
    });
    drafts.collect()
}

/// How far below the top of the pan the bead lies.
const BELOW: &str = "bead-below";

/// A bead along the back of a pan: the one that is drawn, moved there, or a new one.
pub fn back_beads(context: &Context<'_>) -> Vec<Cure> {
    let (Some(below), Some(facts)) = (size(context, BELOW), context.facts) else { return Vec::new() };
    let role = |index: usize| piece(context, index).role.as_deref();
    let pairs: Vec<(usize, usize)> = context
        .pairs()
        .into_iter()
        .filter(|&(unit, pan)| {
            piece(context, unit).material.kind == Some(MaterialKind::Unit) && role(pan) == Some("pan")
        })
        .collect();
    let mut drafts = Vec::new();
    for (unit, pan) in pairs {
        let Some(top) = piece(context, pan).up.high else { continue };
        let up = Quantity::from_si(top.si - below.si, top.unit);
        let (unit_name, pan_name) = (&piece(context, unit).name, &piece(context, pan).name);
        let title = |sealant| Title::SealAtBack { unit: unit_name, pan: pan_name, sealant };
        let joins = |first: usize, second: usize| (first, second) == (unit, pan) || (first, second) == (pan, unit);
        if let Some(bead) = facts.detail.seals.iter().find(|bead| joins(bead.first.index, bead.second.index)) {
            let words = format!("seal {unit_name} to {pan_name} with {} up {up}", bead.sealant.name);
            drafts.push(Cure::new(title(None), vec![replace(context, bead.span.range(), words)]));
            continue;
        }
        for sealant in context.sealants().into_iter().take(MOST_MATERIALS) {
            let words = format!("seal {unit_name} to {pan_name} with {} up {up}", sealant.name);
            let title = title(Some(&sealant.name));
            drafts.extend(last_line(context, &words).map(|edit| Cure::new(title, vec![edit])));
        }
    }
    drafts
}

/// A strip without ends in place of one that stops short.
pub fn run_through(context: &Context<'_>) -> Vec<Cure> {
    let mut near = context.subjects();
    near.extend(near.clone().into_iter().flat_map(|own| context.touching(own)));
    near.sort_unstable();
    near.dedup();
    let strip = [MaterialKind::Tape, MaterialKind::Flashing, MaterialKind::Coat];
    let strips = near.into_iter().map(|own| piece(context, own));
    let strips = strips.filter(|own| own.material.kind.is_some_and(|kind| strip.contains(&kind)));
    let drafts = strips.flat_map(|own| {
        let spans = [own.along.span, own.up.span].into_iter().flatten();
        spans.map(move |span| Cure::new(Title::RunThrough { piece: &own.name }, vec![remove_clause(context, span)]))
    });
    drafts.collect()
}

/// A strip that is bonded to both sides of the break, centered on an edge of one of them.
pub fn tapes(context: &Context<'_>) -> Vec<Cure> {
    let Some(width) = size(context, "tape") else { return Vec::new() };
    let pairs: Vec<(usize, usize)> = context.pairs().into_iter().step_by(2).collect();
    let mut drafts = Vec::new();
    for (one, other) in pairs {
        let (one, other) = (piece(context, one), piece(context, other));
        let sheets = [one, other].iter().all(|own| own.material.kind == Some(MaterialKind::Sheet));
        let tapes = context.stocked(if sheets { "seam-tape" } else { "tape" }, MaterialKind::Tape);
        for tape in tapes.into_iter().take(MOST_MATERIALS) {
            let last = later(one, other);
            for (place, head) in places(one, other, width) {
                // Over a head it laps the strips at the jambs, so it is installed after them.
                let after = if head { strips(context, one, other).fold(last, later) } else { last };
                let name = context.fresh("tape");
                let line = format!("piece {name} {} {place} bonds {}, {} rolled", tape.name, one.name, other.name);
                let title = |primed| Title::Tape { one: &one.name, other: &other.name, tape: &tape.name, primed };
                let primed = (title(true), format!("{line} primed"));
                drafts.extend([(title(false), line), primed].into_iter().filter_map(|(title, line)| {
                    Some(Cure::new(title, vec![line_behind(context, after.span, &line)?]))
                }));
            }
        }
    }
    drafts
}

fn later<'a>(one: &'a Piece, other: &'a Piece) -> &'a Piece {
    if one.span.start > other.span.start { one } else { other }
}

/// The strips that are bonded to both.
fn strips<'a>(context: &Context<'a>, one: &'a Piece, other: &'a Piece) -> impl Iterator<Item = &'a Piece> {
    let pieces = context.pieces();
    let holds = move |own: &Piece, piece: &Piece| own.bonds.iter().any(|bond| pieces[bond.index].name == piece.name);
    pieces.iter().filter(move |own| holds(own, one) && holds(own, other))
}

/// The extents of a strip across each edge that is drawn, and whether that edge is the head of a unit.
fn places(one: &Piece, other: &Piece, width: Quantity) -> Vec<(String, bool)> {
    let half = width.si / 2.0;
    let across = |word: &str, extent: &Extent, unit: bool| {
        let edges =
            [(extent.low, false), (extent.high, unit)].into_iter().filter_map(|(edge, head)| Some((edge?, head)));
        let place = |(edge, head): (Quantity, bool)| {
            let [low, high] = [-half, half].map(|by| Quantity::from_si(edge.si + by, edge.unit));
            (format!("{word} {low} to {high}"), head)
        };
        edges.map(place).collect::<Vec<_>>()
    };
    // It runs past both ends of the shorter piece and no farther.
    let ends = |word: &str, extents: [&Extent; 2]| {
        let drawn = extents.into_iter().filter_map(|extent| Some((extent.low?, extent.high?)));
        let least = drawn.min_by(|a, b| (a.1.si - a.0.si).total_cmp(&(b.1.si - b.0.si)));
        least.map_or(String::new(), |(low, high)| {
            let [low, high] = [(low, -half), (high, half)].map(|(edge, by)| Quantity::from_si(edge.si + by, edge.unit));
            format!(" {word} {low} to {high}")
        })
    };
    let (along, up) = (ends("along", [&one.along, &other.along]), ends("up", [&one.up, &other.up]));
    let unit = |piece: &Piece| piece.material.kind == Some(MaterialKind::Unit);
    let level = [one, other].into_iter().flat_map(|piece| across("up", &piece.up, unit(piece)));
    let upright = [one, other].into_iter().flat_map(|piece| across("along", &piece.along, false));
    let ended = |end: &str, (place, head): (String, bool)| (place + end, head);
    let level = level.map(|place| ended(&along, place));
    let mut places: Vec<(String, bool)> = level.chain(upright.map(|place| ended(&up, place))).collect();
    places.dedup();
    places
}
