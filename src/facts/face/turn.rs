//! How far sheets are carried past a fold of the face.

use std::ops::Range;

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Coordinate, Extent, Face, Fold, Joints, OPEN_HIGH, OPEN_LOW, Piece, Rect};
use crate::model::{Axis, Control, FoldKind, MaterialKind};

/// A corner or a base, and the sheet that decides how well it is covered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Turn {
    /// Index into `Face::folds`.
    pub fold: usize,
    /// At a corner the sheet of the water control layer that runs farthest past. At the base, of the sheets that run farthest up in
    /// their column, the one that does least. `None` when no sheet reaches the corner, and when somewhere none reaches the base.
    pub piece: Option<usize>,
    /// How far it runs past, on the side where it ends first; `None` without a sheet, and where it ends on neither side.
    pub past: Option<Coordinate>,
    /// A third piece spans the fold and is sealed to pieces on both sides of it.
    pub spanned: bool,
}

/// One for each corner fold and base fold.
pub fn turns(face: &Face, cells: &Cells, joints: &Joints, budget: &mut Budget) -> Result<Vec<Turn>, TooLarge> {
    let mut found = Vec::new();
    for (index, fold) in face.folds.iter().enumerate() {
        let corner = matches!(fold.kind, FoldKind::OutsideCorner | FoldKind::InsideCorner);
        if !corner && fold.kind != FoldKind::Base {
            continue;
        }
        // An upright base does not say on which side of it the roof or grade is.
        let most = match fold.axis {
            Axis::Up if !corner => turned_up(face, cells, *fold, budget)?,
            _ => around(face, cells, *fold, |said| !corner || said.controls.has(Control::Water), budget)?,
        };
        let mut spanned = false;
        for piece in 0..face.pieces.len() {
            spanned = spanned || spans(face, joints, piece, fold.axis, fold.at, budget)?;
        }
        found.push(Turn {
            fold: index,
            piece: most.map(|f| f.1),
            past: most.map(|f| f.0).filter(|&past| past != OPEN_HIGH),
            spanned,
        });
    }
    Ok(found)
}

/// The sheet that runs farthest past a corner; one is enough, since the others lap it.
fn around(
    face: &Face,
    cells: &Cells,
    fold: Fold,
    asked: impl Fn(&Piece) -> bool,
    budget: &mut Budget,
) -> Result<Option<(Coordinate, usize)>, TooLarge> {
    let mut farthest: Option<(Coordinate, usize)> = None;
    for (piece, said) in face.pieces.iter().enumerate() {
        if said.is(MaterialKind::Sheet)
            && asked(said)
            && let Some(past) = past(cells, piece, fold, lines(cells, piece, fold.axis), budget)?
            && farthest.is_none_or(|(most, _)| past > most)
        {
            farthest = Some((past, piece));
        }
    }
    Ok(farthest)
}

/// The least that the sheets run up past a level base, column by column. Every sheet that comes up to the base has to be
/// carried up it, by itself or by another that laps it.
fn turned_up(
    face: &Face,
    cells: &Cells,
    fold: Fold,
    budget: &mut Budget,
) -> Result<Option<(Coordinate, usize)>, TooLarge> {
    let mut least: Option<(Coordinate, usize)> = None;
    for column in cells.alike_columns().into_iter().map(|alike| alike.start) {
        let mut farthest: Option<(Coordinate, usize)> = None;
        let mut before = false;
        for (piece, _) in face.pieces.iter().enumerate().filter(|(_, said)| said.is(MaterialKind::Sheet)) {
            let block = cells.block(piece);
            budget.spend(1)?;
            if !block.columns.contains(&column) {
                continue;
            }
            before |= block.rows.clone().any(|row| cells.row(row).low < fold.at && cells.has(column, row, piece));
            if let Some(past) = past(cells, piece, fold, column..column + 1, budget)?
                && farthest.is_none_or(|(most, _)| past > most)
            {
                farthest = Some((past, piece));
            }
        }
        match farthest {
            _ if !before => {}
            None => return Ok(None),
            Some(found) => least = Some(least.map_or(found, |least| least.min(found))),
        }
    }
    Ok(least)
}

fn on(axis: Axis, rect: Rect) -> Extent {
    match axis {
        Axis::Up => rect.up,
        Axis::Along => rect.along,
    }
}

/// The lines across a fold in which a piece lies.
fn lines(cells: &Cells, piece: usize, axis: Axis) -> Range<usize> {
    match axis {
        Axis::Up => cells.block(piece).columns.clone(),
        Axis::Along => cells.block(piece).rows.clone(),
    }
}

/// How far a piece runs past the fold in the line where it runs farthest; 0 when it only reaches it.
fn past(
    cells: &Cells,
    piece: usize,
    fold: Fold,
    lines: Range<usize>,
    budget: &mut Budget,
) -> Result<Option<Coordinate>, TooLarge> {
    let Fold { axis, at: fold, .. } = fold;
    let places = if axis == Axis::Up { &cells.block(piece).rows } else { &cells.block(piece).columns };
    let mut farthest = None;
    for line in lines {
        let place = |at| if axis == Axis::Up { (line, at) } else { (at, line) };
        let extent = |at| on(axis, cells.rect(place(at).0, place(at).1));
        let mut run: Option<Extent> = None;
        for at in places.clone() {
            budget.spend(1 + cells.whole(place(at).0, place(at).1).len())?;
            if cells.has(place(at).0, place(at).1, piece) {
                run = Some(Extent { low: run.map_or(extent(at).low, |r| r.low), high: extent(at).high });
            } else {
                farthest = farthest.max(run.take().and_then(|r| beyond(r, fold)));
            }
        }
        farthest = farthest.max(run.and_then(|r| beyond(r, fold)));
    }
    Ok(farthest)
}

/// A sheet belongs to the side on which it goes on longer, so what it has beyond the fold is its shorter side.
fn beyond(run: Extent, fold: Coordinate) -> Option<Coordinate> {
    let low = if run.low == OPEN_LOW { OPEN_HIGH } else { fold.saturating_sub(run.low) };
    let high = if run.high == OPEN_HIGH { OPEN_HIGH } else { run.high.saturating_sub(fold) };
    run.reaches(fold).then(|| low.min(high))
}

fn spans(
    face: &Face,
    joints: &Joints,
    piece: usize,
    axis: Axis,
    fold: Coordinate,
    budget: &mut Budget,
) -> Result<bool, TooLarge> {
    let rect = face.pieces[piece].rect;
    let extent = on(axis, rect);
    if extent.low >= fold || extent.high <= fold {
        return Ok(false);
    }
    let side = |low: bool, other: usize| {
        let half = if low { Extent { high: fold, ..extent } } else { Extent { low: fold, ..extent } };
        let theirs = face.pieces[other].rect;
        on(axis, theirs).overlaps(half) && rect.overlaps(theirs)
    };
    let (mut low, mut high, mut both) = (0, 0, 0);
    for other in joints.sealed.of(piece) {
        budget.spend(1)?;
        match (side(true, other), side(false, other)) {
            (true, true) => both += 1,
            (true, false) => low += 1,
            (false, true) => high += 1,
            (false, false) => {}
        }
    }
    // Two different pieces, one to each side; a sheet that itself runs past can stand for either.
    Ok(low > 0 && high > 0 || both > 0 && low + high > 0 || both > 1)
}
