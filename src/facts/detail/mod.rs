//! What can be worked out for one detail: its face, and which words of the text each part of the face comes from.

mod shape;

use std::sync::Arc;

use crate::facts::bend::{self, Bend};
use crate::facts::face::{self, Coordinate, Face, FaceFacts, Lap, Rect, TooLarge};
use crate::facts::slope::Slopes;
use crate::facts::{AssemblyFacts, Assumed};
use crate::model::{Detail, Piece, Weeps};
use crate::quantity::{Dimension, Quantity, Unit, base_unit};
use crate::text::Span;
use shape::face_of;
pub use shape::{holds, is_old, level_corners, nanometres, rect};

/// The facts of one detail. Indices in `face` are indices into the detail's own lists.
pub struct DetailFacts {
    pub detail: Arc<Detail>,
    /// The joined assemblies, in the order of the text.
    pub assemblies: Vec<Arc<AssemblyFacts>>,
    pub face: Arc<FaceFacts>,
    /// Set where the face is too large to be worked out in bounded time; `face` is then empty.
    pub too_large: Option<TooLarge>,
    /// True if rain reaches this kind of detail.
    pub weather: bool,
    pub slopes: Slopes,
    /// The unit in which most of its lengths are written.
    pub length_unit: &'static Unit,
    /// True if some of it could not be read, a material is unknown, or an assembly that it joins is unknown.
    pub doubtful: bool,
    pub assumed: Arc<Assumed>,
}

impl DetailFacts {
    pub fn derive(
        detail: Arc<Detail>,
        assemblies: Vec<Arc<AssemblyFacts>>,
        weather: bool,
        assumed: &Arc<Assumed>,
    ) -> DetailFacts {
        let slopes = Slopes::of(&detail);
        let derived = face::derive(&face_of(&detail, &slopes, weather, assumed));
        let too_large = derived.as_ref().err().copied();
        let face = derived.or_else(|_| face::derive(&Face::default())).expect("an empty face is within every bound");
        DetailFacts::of(detail, assemblies, weather, assumed, slopes, (Arc::new(face), too_large))
    }

    /// The same, with a face that was worked out earlier from the same text.
    pub fn with_face(
        detail: Arc<Detail>,
        assemblies: Vec<Arc<AssemblyFacts>>,
        weather: bool,
        assumed: &Arc<Assumed>,
        face: (Arc<FaceFacts>, Option<TooLarge>),
    ) -> DetailFacts {
        let slopes = Slopes::of(&detail);
        DetailFacts::of(detail, assemblies, weather, assumed, slopes, face)
    }

    fn of(
        detail: Arc<Detail>,
        assemblies: Vec<Arc<AssemblyFacts>>,
        weather: bool,
        assumed: &Arc<Assumed>,
        slopes: Slopes,
        (face, too_large): (Arc<FaceFacts>, Option<TooLarge>),
    ) -> DetailFacts {
        let length_unit = usual_unit(&detail);
        let doubtful = detail.doubtful || detail.pieces.iter().any(doubtful);
        let assumed = Arc::clone(assumed);
        DetailFacts { slopes, detail, assemblies, face, too_large, weather, length_unit, doubtful, assumed }
    }

    /// A coordinate that is not open, in meters.
    pub fn metres(coordinate: Coordinate) -> f64 {
        coordinate as f64 * 1e-9
    }

    /// A finite coordinate or distance as a length in the unit that the author of a piece uses.
    pub fn length(&self, piece: Option<usize>, coordinate: Coordinate) -> Quantity {
        let unit = piece.map_or(self.length_unit, |piece| self.length_unit_of(piece));
        Quantity::from_si(DetailFacts::metres(coordinate), unit)
    }

    /// The unit of the piece's own extents, or the detail's usual one.
    pub fn length_unit_of(&self, piece: usize) -> &'static Unit {
        let piece = &self.detail.pieces[piece];
        let written = [piece.up.low, piece.up.high, piece.along.low, piece.along.high];
        written.into_iter().flatten().find(|q| q.si != 0.0).map_or(self.length_unit, |q| q.unit)
    }

    /// The pure geometry of the detail, which `face` was worked out from.
    pub fn shape(&self) -> Face {
        face_of(&self.detail, &self.slopes, self.weather, &self.assumed)
    }

    /// Where a piece lies, before its cuts.
    pub fn rect(&self, piece: usize) -> Rect {
        let piece = &self.detail.pieces[piece];
        rect(&piece.up, &piece.along)
    }

    /// The lowest weeps that drain what the lower piece of a head lap catches, with their height above the foot of the upper
    /// piece, where that water collects. Weeps without a stated height are at the foot.
    pub fn weeps_above(&self, lap: &Lap) -> Option<(&Weeps, Coordinate)> {
        let foot = lap.foot?;
        let caught = self.rect(lap.under).up.low;
        let placed = self.detail.weeps.iter().map(|weeps| (weeps, weeps.up.map_or(foot, nanometres)));
        let lowest = placed.filter(|(_, up)| *up >= caught).min_by_key(|(_, up)| *up);
        lowest.map(|(weeps, up)| (weeps, up - foot))
    }

    /// Where two pieces lap.
    pub fn overlap(&self, lap: &Lap) -> Rect {
        let (over, under) = (self.rect(lap.over), self.rect(lap.under));
        let both = |a: face::Extent, b: face::Extent| face::Extent { low: a.low.max(b.low), high: a.high.min(b.high) };
        let up = match lap.foot {
            // Below a valley and beyond a ridge, water runs up the face as drawn, so that the foot is the upper end.
            Some(foot) if foot == over.up.high || foot == under.up.high => {
                face::Extent { low: foot.saturating_sub(lap.length), high: foot }
            }
            Some(foot) => face::Extent { low: foot, high: foot.saturating_add(lap.length) },
            None => both(over.up, under.up),
        };
        Rect { up, along: both(over.along, under.along) }
    }

    /// How far the face turns at a fold, in radians: negative toward the building.
    pub fn fold_angle(&self, fold: usize) -> Option<f64> {
        let fold = self.detail.folds[fold];
        if bend::openings(&self.detail, fold.axis).any(|edge| edge.at == fold.at) {
            return Some(bend::into_opening(&self.detail, &fold));
        }
        Bend::new(self, fold.axis).turn(nanometres(fold.at))
    }

    pub fn piece_doubtful(&self, piece: usize) -> bool {
        doubtful(&self.detail.pieces[piece])
    }

    /// The words after `joins`.
    pub fn joins_span(&self) -> Span {
        self.detail.joins.iter().map(|j| j.span).reduce(Span::to).unwrap_or(self.detail.name_span)
    }

    /// The name in the `bonds` clause; a coat bonds to whatever it touches and has no clause.
    pub fn bond_span(&self, bond: usize) -> Span {
        let bond = &self.face.bonds[bond];
        let piece = &self.detail.pieces[bond.piece];
        piece.bonds.iter().find(|b| b.index == bond.onto).map_or(piece.name_span, |b| b.span)
    }

    /// The name in the `behind` clause that tucks the piece in, or the piece.
    pub fn tuck_span(&self, tuck: usize) -> Span {
        let tuck = &self.face.tucks[tuck];
        let piece = &self.detail.pieces[tuck.piece];
        piece.behind.iter().find(|b| b.index == tuck.behind).map_or(piece.name_span, |b| b.span)
    }
}

fn doubtful(piece: &Piece) -> bool {
    piece.doubtful || piece.material.kind.is_none()
}

/// The unit that most extents are written in; the first one met wins a tie.
fn usual_unit(detail: &Detail) -> &'static Unit {
    let mut counts: Vec<(&'static Unit, usize)> = Vec::new();
    for piece in &detail.pieces {
        for written in [piece.up.low, piece.up.high, piece.along.low, piece.along.high].into_iter().flatten() {
            match counts.iter_mut().find(|(unit, _)| *unit == written.unit) {
                Some((_, count)) => *count += 1,
                None => counts.push((written.unit, 1)),
            }
        }
    }
    let most = counts.iter().map(|(_, count)| *count).max();
    counts.iter().find(|(_, count)| Some(*count) == most).map_or_else(|| base_unit(Dimension::Length), |(u, _)| *u)
}
