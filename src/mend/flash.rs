//! A flashing that a detail lacks, drawn whole over an edge.

use crate::mend::data::{Flashing, flashings, size};
use crate::mend::past::{End, named, set, written};
use crate::mend::text::{line_before, line_behind, piece};
use crate::mend::{Case, Cure};
use crate::model::{Extent, MaterialKind, Piece};
use crate::quantity::Quantity;

/// So many pieces are tried as the one that it comes after.
const MOST_PLACES: usize = 5;

/// So many pieces does one strip stick to.
const MOST_BONDS: usize = 3;

pub fn drawn(case: &Case<'_>) -> Vec<Cure> {
    let Some(detail) = case.facts.map(|facts| &*facts.detail.kind) else { return Vec::new() };
    let rows = flashings(case.pack, &case.finding.rule).filter(|row| row.detail == "any" || row.detail == detail);
    let subjects = case.subjects();
    let all = || (0..case.pieces().len()).filter(|index| !piece(case, *index).inside);
    let owners: Vec<usize> = if subjects.is_empty() { all().collect() } else { subjects };
    let mut drafts = Vec::new();
    for row in rows {
        for &own in owners.iter().filter(|own| is_of(&row, piece(case, **own))) {
            let Some(reach) = reach(case, &row, piece(case, own)) else { continue };
            match there(case, &row, own, &reach) {
                Some(_) if row.stuck => continue,
                Some(there) => {
                    drafts.extend(carried(case, there, &reach));
                    continue;
                }
                None => {}
            }
            let places = places(case, all().collect(), own, &row, &reach);
            drafts.extend(places.into_iter().filter_map(|place| draft(case, &row, own, place, &reach)));
        }
    }
    drafts
}

fn is_of(row: &Flashing, own: &Piece) -> bool {
    own.role.as_deref() == Some(row.of) || own.material.kind.is_some_and(|kind| kind.word() == row.of)
}

/// The pieces that it may come after: the one whose edge it covers, then those around that one. A strip goes on behind what is laid over it,
/// as early as it has something to stick to, and its last try is to begin with it. Metal is fixed to what is built, and comes out
/// from behind cladding at its foot.
fn places(case: &Case<'_>, mut all: Vec<usize>, own: usize, row: &Flashing, reach: &Reach) -> Vec<Option<usize>> {
    if row.stuck {
        all.retain(|place| *place < own);
        all = all.split_off(all.len().saturating_sub(MOST_PLACES));
        return all.into_iter().map(Some).chain([None]).collect();
    }
    let behind = row.edge == "foot" && piece(case, own).material.kind == Some(MaterialKind::Cladding);
    let lies = |piece: &Piece| meet(&piece.up, &reach.up) && meet(&piece.along, &reach.along);
    let built = (0..own).rev().find(|index| lies(piece(case, *index)) && !case.movable(piece(case, *index)));
    all.retain(|place| match behind {
        true => *place < own && built.is_none_or(|built| *place >= built),
        false => *place >= own,
    });
    all.sort_by_key(|place| place.abs_diff(own));
    all.truncate(MOST_PLACES);
    all.into_iter().map(Some).collect()
}

/// Where it lies: beyond the edge and within it, and along the whole of the piece.
struct Reach {
    up: Extent,
    along: Extent,
}

fn reach(case: &Case<'_>, row: &Flashing, own: &Piece) -> Option<Reach> {
    let (upright, end) = match row.edge {
        // Where its ends are not drawn, it is as large as what it goes with.
        "whole" => return Some(Reach { up: own.up, along: own.along }),
        "top" => (true, End::High),
        "foot" => (true, End::Low),
        "right" => (false, End::High),
        "left" => (false, End::Low),
        _ => return None,
    };
    let (across, other) = if upright { (own.up, own.along) } else { (own.along, own.up) };
    let edge = if end == End::High { across.high } else { across.low }?;
    let [beyond, within] = ["beyond", "within"].map(|part| size(case, &format!("{}-{part}", row.role)));
    let (above, below) = if end == End::High { (beyond?, within?) } else { (within?, beyond?) };
    let at = |by: f64| Some(Quantity::from_si(edge.si + by, edge.unit));
    if row.around {
        let all = |own: &Extent| {
            let (low, high) = (own.low?, own.high?);
            let [low, high] =
                [(low, -above.si), (high, above.si)].map(|(at, by)| Quantity::from_si(at.si + by, at.unit));
            Some(Extent { low: Some(low), high: Some(high), span: None })
        };
        return Some(Reach { up: all(&own.up)?, along: all(&own.along)? });
    }
    let over = match (row.through, end) {
        (false, _) => Extent { low: at(-below.si), high: at(above.si), span: None },
        (true, End::High) => Extent { low: at(-below.si), high: None, span: None },
        (true, End::Low) => Extent { low: None, high: at(above.si), span: None },
    };
    let past = if row.past { size(case, "overhang")?.si } else { 0.0 };
    let moved = |edge: Option<Quantity>, by: f64| edge.map(|edge| Quantity::from_si(edge.si + by, edge.unit));
    let whole = match (row.stuck, other.low.zip(other.high)) {
        // A veneer that is drawn cut back on one side ends there on the sheet alone.
        (true, None) => Extent { low: None, high: None, span: None },
        _ => Extent { low: moved(other.low, -past), high: moved(other.high, past), span: None },
    };
    Some(if upright { Reach { up: over, along: whole } } else { Reach { up: whole, along: over } })
}

/// What lies there already: two of them would lie one over the other. Metal that ends too soon is carried on; another strip in place of one is
/// for its author to choose.
fn there<'a>(case: &Case<'a>, row: &Flashing, own: usize, reach: &Reach) -> Option<&'a Piece> {
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
            && meet(&other.up, &reach.up)
            && meet(&other.along, &reach.along)
    };
    let (before, after) = case.pieces().split_at(own);
    if row.stuck { before.iter().find(serves) } else { after.iter().skip(1).find(serves) }
}

fn carried(case: &Case<'_>, there: &Piece, reach: &Reach) -> Vec<Cure> {
    let axes = [("up", &there.up, &reach.up), ("along", &there.along, &reach.along)];
    let drafts = axes.into_iter().flat_map(|(word, own, wanted)| {
        let low = own.low.zip(wanted.low).filter(|(own, wanted)| own.si > wanted.si).map(|(_, to)| (End::Low, to));
        let high = own.high.zip(wanted.high).filter(|(own, wanted)| own.si < wanted.si).map(|(_, to)| (End::High, to));
        low.into_iter().chain(high).filter_map(move |(end, at)| {
            let edit = set(case, there, word, &[(end, at)])?;
            Some(Cure::new(format!("Carry the {} of {} to {at}", named(word, end), there.name), vec![edit]))
        })
    });
    drafts.collect()
}

fn draft(case: &Case<'_>, row: &Flashing, own: usize, place: Option<usize>, reach: &Reach) -> Option<Cure> {
    // Of the metal that it goes with.
    let wanted = if row.material == "same" { &piece(case, own).material.name } else { row.material };
    let material = case.materials.iter().find(|material| *material.name == *wanted)?;
    let is_role = case.pack.words.roles.iter().any(|role| **role == *row.role);
    let mut words = vec![format!("piece {} {}", case.fresh(row.role), material.name)];
    words.extend(is_role.then(|| format!("as {}", row.role)));
    words.extend([written("up", &reach.up, &[]), written("along", &reach.along, &[])].into_iter().flatten());
    if row.stuck {
        let behind =
            place.map_or(&[][..], |place| &case.pieces()[..=place]).iter().filter(|other| lies_behind(other, reach));
        let names: Vec<&str> = behind.map(|other| &*other.name).collect();
        let last = &names[names.len().saturating_sub(MOST_BONDS)..];
        words.extend((!last.is_empty()).then(|| format!("bonds {}", last.join(", "))));
        words.push("rolled primed".to_owned());
    }
    words.extend(row.around.then(|| format!("bonds {} clamped", piece(case, own).name)));
    words.extend(row.drip.then(|| "with drip".to_owned()));
    let (own, line) = (piece(case, own), words.join(" "));
    let edit = match place {
        Some(place) => line_behind(case, piece(case, place).span, &line)?,
        None => line_before(case, case.pieces().first()?.span, &line)?,
    };
    let after = match place.map(|place| &piece(case, place).name) {
        Some(place) if *place == own.name => String::new(),
        Some(place) => format!(", after {place}"),
        None => format!(", before {}", case.pieces().first()?.name),
    };
    let edge = if ["top", "foot"].contains(&row.edge) { "up" } else { "along" };
    let edge = named(edge, if ["top", "right"].contains(&row.edge) { End::High } else { End::Low });
    let called = row.role.rsplit_once('-').map_or(row.role.to_owned(), |(kind, what)| format!("{kind} {what}"));
    let article = if called.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    let title = format!("Draw {article} {called} at the {edge} of {}{after}", own.name);
    Some(Cure::new(title, vec![edit]))
}

/// What a strip sticks to where it lies.
fn lies_behind(other: &Piece, reach: &Reach) -> bool {
    is_backing(other) && meet(&other.up, &reach.up) && meet(&other.along, &reach.along)
}

/// What a strip can stick to.
pub fn is_backing(other: &Piece) -> bool {
    let backs = [MaterialKind::Mass, MaterialKind::Board, MaterialKind::Sheet, MaterialKind::Coat];
    !other.inside && other.material.kind.is_some_and(|kind| backs.contains(&kind))
}

pub fn meet(one: &Extent, two: &Extent) -> bool {
    let below =
        |low: Option<Quantity>, high: Option<Quantity>| low.zip(high).is_none_or(|(low, high)| low.si < high.si);
    below(one.low, two.high) && below(two.low, one.high)
}
