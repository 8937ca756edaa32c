//! The face: a detail seen from outside, unfolded flat.

mod area;
mod around;
mod bead;
mod chain;
mod draft;
mod drops;
mod fixing;
mod place;
mod plane;
mod side_wall;
mod weep;
mod zero;

use crate::facts::bend::{self, Bend, Leg};
use crate::facts::face::Coordinate;
use crate::model::{Axis, Detail, Extent, Fold, FoldKind, MaterialKind, Piece};
use crate::output::drawing::free::Free;
use crate::output::drawing::mark;
use crate::output::drawing::note::{self, Note, Sign};
use crate::output::drawing::page::{self, View};
use crate::output::drawing::ruler;
use crate::output::drawing::scene::{Point, Scene, Shape};
use crate::output::drawing::section::{self, SectionLine};
use crate::output::drawing::subject::Subject;
use crate::quantity::Quantity;
use draft::CHAIN;
pub use draft::{Draft, Noted};
pub use plane::Plane;
use plane::edges;

/// Room for the face, mm of paper.
const HIGHEST: f64 = 185.0;
const WIDEST: f64 = 125.0;

/// The face of a detail with the marks of its findings.
pub fn elevation(subject: &Subject) -> Scene {
    let (view, title, description) = whole(subject);
    page::around(subject, view, title, description)
}

/// The face without a head and a list of findings.
pub fn bare_elevation(subject: &Subject) -> Scene {
    let (view, title, description) = whole(subject);
    page::bare(view, title, description)
}

/// The largest scale at which there is room.
pub fn scale(subject: &Subject) -> f64 {
    let (ups, alongs) = (edges(subject, Axis::Up), edges(subject, Axis::Along));
    let scale = |edges: &[Coordinate], most: f64| ruler::scale(edges, most, subject.scales());
    scale(&ups, HIGHEST).max(scale(&alongs, WIDEST))
}

/// The face at the largest scale for which there is room, with its name and what it shows.
fn whole(subject: &Subject) -> (View, String, String) {
    let view = view(&Draft::new(subject, scale(subject)), Noted::Words);
    let title = format!("{} of {}", view.name, page::name(subject.detail));
    let all: Vec<usize> = (0..subject.detail.pieces.len()).collect();
    (view, title, page::description(subject, &all))
}

/// How far down its cell a finding may point, until its leader runs over the end of no other.
const PARTS: [f64; 7] = [0.5, 0.35, 0.65, 0.25, 0.75, 0.15, 0.85];

/// The elevation alone.
pub fn view(draft: &Draft, noted: Noted) -> View {
    let Draft { subject, scale, up, along, heights, high, chains, zero_room, left, bottom, .. } = draft;
    let (left, bottom, scale) = (*left, *bottom, *scale);
    let plane = Plane { subject, cells: &subject.facts.face.cells, up, along, left, bottom, scale };
    let mut shapes = area::pieces(subject, &plane);
    shapes.extend(around::ground(subject, &plane));
    shapes.extend(around::folds(subject, &plane));
    shapes.extend(bead::beads(subject, &plane));
    shapes.extend(fixing::fastenings(subject, &plane));
    shapes.extend(weep::weeps(subject, &plane));
    shapes.extend(around::breaks(&plane));
    let (water, steps) = drops::draw(subject, &plane);
    shapes.extend(water);
    shapes.extend(around::flags(subject, &plane));
    shapes.push(chain::upright(heights, left - CHAIN, bottom));
    // The size of an opening stands on a chain of its own, farther out.
    shapes.extend((!high.is_empty()).then(|| chain::upright(high, zero_room + chain::room(high) + 2.0, bottom)));
    shapes.extend(chains.iter().enumerate().map(|(n, stops)| chain::level(stops, left, draft.row(n))));
    shapes.extend(zero::level(subject, &plane, [*zero_room, left - CHAIN]));
    let outermost = chains.last().map_or(&[][..], |stops| &stops[..]);
    shapes.extend(zero::place(subject, &plane, outermost, draft.row(chains.len() - 1)));
    let mut view = View {
        name: name(subject),
        shapes,
        width: draft.width(noted),
        height: draft.least_height(),
        scale,
        datum: Some(bottom - up.at_mm(0.0)),
        middle: Some(left + along.at_mm(0.0)),
        caption: format!("lengths in {}; dashed edges are covered", subject.unit()),
        explained: zero::words(subject, name(subject).ends_with("unfolded")),
        unplaced: Vec::new(),
    };
    let notes_at = draft.notes_at(noted);
    // What is covered here and drawn in the section has its name there.
    let cut = (noted == Noted::Numbers).then(|| SectionLine::principal(subject)).flatten();
    let named = |piece: usize| cut.as_ref().is_some_and(|line| line.has(piece));
    let mut best: Option<(usize, Vec<Shape>, f64, Vec<usize>)> = None;
    let mut named_pieces = names(subject, &plane);
    if noted == Noted::Numbers {
        named_pieces.retain(|(piece, _)| !named(*piece) || !area::areas(&plane, *piece).is_empty());
    }
    let named_pieces: Vec<Note> = named_pieces.into_iter().map(|(_, note)| note).collect();
    for part in PARTS {
        let (marked, unplaced) = marked(subject, &plane, part);
        let mut notes: Vec<Note> = named_pieces.iter().cloned().chain(marked).collect();
        if noted == Noted::Numbers {
            notes.iter_mut().for_each(|note| note.lines = note::lines("", noted.wide()));
        }
        let (column, end) = note::column(&notes, notes_at, draft::TOP - 4.0);
        let astray = section::astray(&column).len();
        if best.as_ref().is_none_or(|(least, ..)| astray < *least) {
            best = Some((astray, column, end, unplaced));
        }
        if astray == 0 {
            break;
        }
    }
    let (_, column, end, unplaced) = best.unwrap_or_default();
    view.shapes.extend(column);
    let mut free = Free::of(&view.shapes);
    view.shapes.extend(section::beside(steps, &mut free, &view.shapes, 1.0));
    view.height = view.height.max(end);
    view.unplaced = unplaced;
    view
}

/// What a view of the face is called in an office.
fn name(subject: &Subject) -> &'static str {
    let bend = Bend::new(subject.facts, Axis::Up);
    let lies = |leg: &Leg| leg.heading.to_radians().sin().abs() < 0.7072;
    let level = |leg: &Leg| leg.heading.to_radians().cos().abs() > 1.0 - 1e-3;
    let over = |axis: Axis| bend::openings(subject.detail, axis).any(|fold| lies_at(subject.detail, fold));
    let turns_along = Bend::new(subject.facts, Axis::Along).legs.len() > 1;
    match (bend.legs.len(), bend.legs.iter().filter(|leg| lies(leg)).count()) {
        // The pan of a sill lies in its opening, and so do the plate and the lining under it; what lines a reveal stands in it.
        (1, 0) if over(Axis::Up) => "Elevation, sill laid flat",
        (1, 0) if over(Axis::Along) => "Elevation, jamb laid flat",
        (1, 0) if turns_along => "Elevation, unfolded",
        (1, 0) => "Elevation",
        (1, _) if turns_along => "Plan, unfolded",
        (1, _) if !level(&bend.legs[0]) => "Plan, slope laid flat",
        (1, _) => "Plan",
        (_, 0) => "Elevation, unfolded",
        (legs, lying) if lying == legs => "Plan, unfolded",
        // A roof and a wall side by side are neither.
        _ => "Elevation, unfolded",
    }
}

/// Something goes over the edge of a sill or of a jamb, and ends in the opening: it lies there, however it is seen from outside.
fn lies_at(detail: &Detail, fold: &Fold) -> bool {
    let unit = |piece: &Piece| piece.material.kind == Some(MaterialKind::Unit);
    let extent = |piece: &Piece| if fold.axis == Axis::Up { piece.up } else { piece.along };
    let right = |piece: &Piece| extent(piece).low.is_some_and(|low| low.si >= fold.at.si);
    // Over a sill the opening begins; at a jamb it is where the window is.
    let opens_up = fold.kind == FoldKind::Sill || detail.pieces.iter().any(|piece| unit(piece) && right(piece));
    let lies = |piece: &Piece| {
        let Extent { low, high, .. } = extent(piece);
        let (before, end) = if opens_up { (low, high) } else { (high, low) };
        let beyond = |at: &Quantity| if opens_up { at.si - fold.at.si } else { fold.at.si - at.si };
        let from_before = before.as_ref().is_none_or(|before| beyond(before) <= 0.0);
        let stands_out = unit(piece) || piece.role.as_deref() == Some("end-dam");
        !stands_out
            && !piece.inside
            && from_before
            && end.as_ref().is_some_and(|end| (1e-6..DEEPEST).contains(&beyond(end)))
    };
    fold.kind != FoldKind::Head && detail.pieces.iter().any(lies)
}

/// What goes on farther beyond the edge stands beside the opening, m.
const DEEPEST: f64 = 0.35;

/// Each piece of the outer face with its note.
fn names<'a>(subject: &Subject, plane: &Plane) -> Vec<(usize, Note<'a>)> {
    let note = |(piece, at, seen): (usize, Point, bool)| {
        let covered = if seen { "" } else { ", covered" };
        let sign = Sign::Step { piece, step: subject.steps[piece] };
        let lines = note::lines(&format!("{}{covered}", page::label(subject, piece)), note::WIDTH);
        (piece, Note { sign, at, lines })
    };
    area::names(subject, plane).into_iter().map(note).collect()
}

/// A note for every finding that lies on the outer face; and the findings that lie nowhere.
fn marked<'a>(subject: &'a Subject, plane: &Plane, part: f64) -> (Vec<Note<'a>>, Vec<usize>) {
    let mut notes = Vec::new();
    let mut unplaced = Vec::new();
    for entry in subject.marks {
        match place::anchor(subject, plane, &mark::pieces(subject.detail, entry.finding), part) {
            Some(at) => {
                let lines = note::lines(&mark::short(entry.finding), note::WIDTH);
                notes.push(Note { sign: Sign::Mark(*entry), at, lines });
            }
            None => unplaced.push(entry.number),
        }
    }
    (notes, unplaced)
}
