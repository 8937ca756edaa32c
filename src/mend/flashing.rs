//! A flashing that a detail lacks, drawn over an edge.

use crate::mend::extent::{Bound, edge_name, extent_clause, move_bounds, overlap};
use crate::mend::tables::{Flashing, flashings, size};
use crate::mend::text::{line_before, line_behind, piece};
use crate::mend::title::{InstallationOrder, Title};
use crate::mend::{Context, Cure};
use crate::model::{Extent, MaterialKind, Piece};
use crate::quantity::Quantity;

/// How many places in the installation sequence are tried.
const MOST_PLACES: usize = 5;

/// How many pieces one strip is bonded to.
const MOST_BONDS: usize = 3;

pub fn drawn(context: &Context<'_>) -> Vec<Cure> {
    let Some(detail) = context.facts.map(|facts| &*facts.detail.kind) else { return Vec::new() };
    let rows = flashings(context.pack, &context.finding.rule).filter(|row| row.detail == "any" || row.detail == detail);
    let subjects = context.subjects();
    let all = || (0..context.pieces().len()).filter(|index| !piece(context, *index).inside);
    let owners: Vec<usize> = if subjects.is_empty() { all().collect() } else { subjects };
    let mut drafts = Vec::new();
    for row in rows {
        for &own in owners.iter().filter(|own| is_of(&row, piece(context, **own))) {
            let Some(placement) = placement(context, &row, piece(context, own)) else { continue };
            match existing(context, &row, own, &placement) {
                Some(_) if row.stuck => continue,
                Some(there) => {
                    drafts.extend(extended(context, there, &placement));
                    continue;
                }
                None => {}
            }
            let places = places(context, all().collect(), own, &row, &placement);
            drafts.extend(places.into_iter().filter_map(|place| draft(context, &row, own, place, &placement)));
        }
    }
    drafts
}

fn is_of(row: &Flashing, own: &Piece) -> bool {
    own.role.as_deref() == Some(row.of) || own.material.kind.is_some_and(|kind| kind.word() == row.of)
}

/// The pieces that it may come after; `None` stands for the start of the sequence. A strip goes on before the piece whose edge it covers, the
/// nearest place first. Metal goes on after that piece; at the foot of cladding it goes on before it, once there is a wall to fix it to.
fn places(
    context: &Context<'_>,
    mut all: Vec<usize>,
    own: usize,
    row: &Flashing,
    placement: &Placement,
) -> Vec<Option<usize>> {
    if row.stuck {
        all.retain(|place| *place < own);
        all = all.split_off(all.len().saturating_sub(MOST_PLACES));
        return all.into_iter().map(Some).chain([None]).collect();
    }
    let behind = row.edge == "foot" && piece(context, own).material.kind == Some(MaterialKind::Cladding);
    let lies = |piece: &Piece| overlap(&piece.up, &placement.up) && overlap(&piece.along, &placement.along);
    let built = (0..own).rev().find(|index| lies(piece(context, *index)) && !context.movable(piece(context, *index)));
    all.retain(|place| match behind {
        true => *place < own && built.is_none_or(|built| *place >= built),
        false => *place >= own,
    });
    all.sort_by_key(|place| place.abs_diff(own));
    all.truncate(MOST_PLACES);
    all.into_iter().map(Some).collect()
}

/// Where a new flashing lies.
struct Placement {
    up: Extent,
    along: Extent,
}

fn placement(context: &Context<'_>, row: &Flashing, own: &Piece) -> Option<Placement> {
    let (upright, end) = match row.edge {
        // As large as the piece that it belongs to.
        "whole" => return Some(Placement { up: own.up, along: own.along }),
        "top" => (true, Bound::High),
        "foot" => (true, Bound::Low),
        "right" => (false, Bound::High),
        "left" => (false, Bound::Low),
        _ => return None,
    };
    let (across, other) = if upright { (own.up, own.along) } else { (own.along, own.up) };
    let edge = if end == Bound::High { across.high } else { across.low }?;
    let [beyond, within] = ["beyond", "within"].map(|part| size(context, &format!("{}-{part}", row.role)));
    let (above, below) = if end == Bound::High { (beyond?, within?) } else { (within?, beyond?) };
    let at = |by: f64| Some(Quantity::from_si(edge.si + by, edge.unit));
    if row.around {
        let all = |own: &Extent| {
            let (low, high) = (own.low?, own.high?);
            let [low, high] =
                [(low, -above.si), (high, above.si)].map(|(at, by)| Quantity::from_si(at.si + by, at.unit));
            Some(Extent { low: Some(low), high: Some(high), span: None })
        };
        return Some(Placement { up: all(&own.up)?, along: all(&own.along)? });
    }
    let over = match (row.through, end) {
        (false, _) => Extent { low: at(-below.si), high: at(above.si), span: None },
        (true, Bound::High) => Extent { low: at(-below.si), high: None, span: None },
        (true, Bound::Low) => Extent { low: None, high: at(above.si), span: None },
    };
    let past = if row.past { size(context, "overhang")?.si } else { 0.0 };
    let moved = |edge: Option<Quantity>, by: f64| edge.map(|edge| Quantity::from_si(edge.si + by, edge.unit));
    let whole = match (row.stuck, other.low.zip(other.high)) {
        // Veneer that is drawn cut back on one side has the sheet alone beside it, and the strip runs on over that.
        (true, None) => Extent { low: None, high: None, span: None },
        _ => Extent { low: moved(other.low, -past), high: moved(other.high, past), span: None },
    };
    Some(if upright { Placement { up: over, along: whole } } else { Placement { up: whole, along: over } })
}

/// A flashing that lies there already. Metal that ends too soon is extended rather than covered by a second one. Whether to replace a strip is
/// left to the author.
fn existing<'a>(context: &Context<'a>, row: &Flashing, own: usize, placement: &Placement) -> Option<&'a Piece> {
    let serves = |other: &&Piece| {
        let role = other.role.as_deref().is_none_or(|role| role == row.role);
        let kind = match other.material.kind {
            Some(MaterialKind::Flashing) => true,
            Some(MaterialKind::Tape) => row.stuck,
            _ => false,
        };
        let stuck = other.material.adhesive.is_some();
        kind && stuck == row.stuck
            && role
            && !other.inside
            && overlap(&other.up, &placement.up)
            && overlap(&other.along, &placement.along)
    };
    let (before, after) = context.pieces().split_at(own);
    if row.stuck { before.iter().find(serves) } else { after.iter().skip(1).find(serves) }
}

fn extended(context: &Context<'_>, there: &Piece, placement: &Placement) -> Vec<Cure> {
    let axes = [("up", &there.up, &placement.up), ("along", &there.along, &placement.along)];
    let drafts = axes.into_iter().flat_map(|(word, own, wanted)| {
        let low = own.low.zip(wanted.low).filter(|(own, wanted)| own.si > wanted.si).map(|(_, to)| (Bound::Low, to));
        let high =
            own.high.zip(wanted.high).filter(|(own, wanted)| own.si < wanted.si).map(|(_, to)| (Bound::High, to));
        low.into_iter().chain(high).filter_map(move |(end, at)| {
            let edit = move_bounds(context, there, word, &[(end, at)])?;
            Some(Cure::new(Title::Extend { edge: edge_name(word, end), piece: &there.name, to: at }, vec![edit]))
        })
    });
    drafts.collect()
}

fn draft(
    context: &Context<'_>,
    row: &Flashing,
    own: usize,
    place: Option<usize>,
    placement: &Placement,
) -> Option<Cure> {
    // `same` stands for the material of the piece that it belongs to.
    let wanted = if row.material == "same" { &piece(context, own).material.name } else { row.material };
    let material = context.material(wanted)?;
    let is_role = context.pack.words.roles.iter().any(|role| **role == *row.role);
    let mut words = vec![format!("piece {} {}", context.fresh(row.role), material.name)];
    words.extend(is_role.then(|| format!("as {}", row.role)));
    words.extend(
        [extent_clause("up", &placement.up, &[]), extent_clause("along", &placement.along, &[])].into_iter().flatten(),
    );
    if row.stuck {
        let behind = place
            .map_or(&[][..], |place| &context.pieces()[..=place])
            .iter()
            .filter(|other| lies_behind(other, placement));
        let names: Vec<&str> = behind.map(|other| &*other.name).collect();
        let last = &names[names.len().saturating_sub(MOST_BONDS)..];
        words.extend((!last.is_empty()).then(|| format!("bonds {}", last.join(", "))));
        words.push("rolled primed".to_owned());
    }
    words.extend(row.around.then(|| format!("bonds {} clamped", piece(context, own).name)));
    words.extend(row.drip.then(|| "with drip".to_owned()));
    let (own, line) = (piece(context, own), words.join(" "));
    let edit = match place {
        Some(place) => line_behind(context, piece(context, place).span, &line)?,
        None => line_before(context, context.pieces().first()?.span, &line)?,
    };
    let place = match place.map(|place| &piece(context, place).name) {
        Some(place) if *place == own.name => InstallationOrder::Next,
        Some(place) => InstallationOrder::After(place),
        None => InstallationOrder::Before(&context.pieces().first()?.name),
    };
    let edge = if ["top", "foot"].contains(&row.edge) { "up" } else { "along" };
    let edge = edge_name(edge, if ["top", "right"].contains(&row.edge) { Bound::High } else { Bound::Low });
    Some(Cure::new(Title::DrawFlashing { role: row.role, edge, piece: &own.name, place }, vec![edit]))
}

/// Can a strip at this place be bonded to that piece?
fn lies_behind(other: &Piece, placement: &Placement) -> bool {
    is_backing(other) && overlap(&other.up, &placement.up) && overlap(&other.along, &placement.along)
}

/// Can a strip be bonded to that piece?
pub fn is_backing(other: &Piece) -> bool {
    let backs = [MaterialKind::Mass, MaterialKind::Board, MaterialKind::Sheet, MaterialKind::Coat];
    !other.inside && other.material.kind.is_some_and(|kind| backs.contains(&kind))
}
