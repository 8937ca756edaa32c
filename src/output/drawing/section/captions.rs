//! What a section says of itself: where it is cut, which side is the outer one, and which line is that of the wall.

use crate::facts::bend::{self, Bend, Leg, falls_along};
use crate::facts::face::Coordinate;
use crate::facts::nanometres;
use crate::model::{AssemblyKind, Axis, Fold, FoldKind, MaterialKind};
use crate::output::drawing::free::Free;
use crate::output::drawing::joint::Joint;
use crate::output::drawing::lettering;
use crate::output::drawing::paper::{BEYOND, SMALL};
use crate::output::drawing::ruler;
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Shape};
use crate::output::drawing::section::bed::is_dam;
use crate::output::drawing::section::cut::Cut;
use crate::output::drawing::section::{eave, enlarge};

/// Where it is cut.
pub(super) fn caption(cut: &Cut) -> String {
    let [before, beyond, axis] = match cut.line.axis {
        Axis::Up => ["left of", "right of", "along the wall"],
        Axis::Along => ["below", "above", "up"],
    };
    // The facts close a joint in its middle: the line ends at its edge.
    let across = |joint: &&Joint| joint.axis != cut.line.axis;
    let edges = || cut.subject.joints.iter().filter(across).map(|joint| joint.edges);
    let edge = |c: Coordinate, side: usize| edges().find(|at| (at[0]..=at[1]).contains(&c)).map_or(c, |at| at[side]);
    let bound = |c: Coordinate, side: usize| {
        (c != i64::MIN && c != i64::MAX).then(|| cut.subject.length(ruler::millimetres(edge(c, side))))
    };
    let place = match [bound(cut.line.at.low, 1), bound(cut.line.at.high, 0)] {
        [Some(low), Some(high)] => format!("cut between {low} and {high} {axis}; "),
        [Some(low), None] => format!("cut {beyond} {low}; "),
        [None, Some(high)] => format!("cut {before} {high}; "),
        [None, None] => String::new(),
    };
    let place = format!("{place}{}", fall(cut).map_or(String::new(), |words| format!("{words}; ")));
    let unit = cut.subject.unit();
    format!("{place}lengths in {unit} along the face; membrane gaps exaggerated")
}

/// Why a roof that is covered with slates or shingles is drawn level.
pub(super) fn fall(cut: &Cut) -> Option<&'static str> {
    let facts = cut.subject.facts;
    let pitched = cut.subject.detail.joins.iter().map(|join| &join.assembly).any(|roof| {
        let clad = roof.layers.iter().any(|layer| layer.material.kind == Some(MaterialKind::Cladding));
        roof.kind == AssemblyKind::Roof && clad
    });
    let given = |leg: &Leg| facts.slopes.said(leg.extent.low, leg.extent.high).is_some();
    let bend = Bend::new(facts, Axis::Up);
    let mut level =
        bend.legs.iter().filter(|leg| leg.heading == LEVEL && pitched && cut.line.axis == Axis::Up).peekable();
    level.peek()?;
    match falls_along(&facts.detail) {
        true => Some("roof falls along the wall"),
        false => level.any(|leg| !given(leg)).then_some("slope not given, drawn level"),
    }
}

/// An opening has framing about it, or a wall that carries itself: where no piece is either, a reader should not take it for left out of
/// the building.
pub(super) fn not_shown(cut: &Cut) -> Option<&'static str> {
    let detail = cut.subject.detail;
    let opens = [Axis::Up, Axis::Along].into_iter().any(|axis| bend::openings(detail, axis).next().is_some());
    let carries = |kind: MaterialKind| matches!(kind, MaterialKind::Frame | MaterialKind::Mass);
    // A strip behind a pan carries nothing.
    let given = detail.pieces.iter().any(|piece| piece.material.kind.is_some_and(carries) && !is_dam(piece));
    (opens && !given).then_some("Not shown: framing at the opening.")
}

/// The heading of a roof that is drawn level, degrees.
const LEVEL: f64 = 180.0;

/// Which side is the outer one.
pub(super) fn sides(cut: &Cut, moved: &dyn Fn(Point) -> Point, body: Area) -> Vec<Shape> {
    let Area { left, top, right, bottom } = body;
    let word = |words: &str, at: Point, anchor: Anchor| Shape::text(at, SMALL, words).anchored(anchor).inked(Ink::Dark);
    let last = cut.spine.legs() - 1;
    // What lies on the ground is seen from within, and so is the wall that it turns up.
    let within = cut.subject.detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Ground);
    let [outer, inner] = if within { ["inside", "outside"] } else { ["outside", "inside"] };
    match cut.line.axis {
        // Over the top of a parapet the line comes down on the side of the roof: the words stand beyond all that lies on its two faces.
        Axis::Up if comes_down(cut).is_some() => {
            let down = face(cut, comes_down(cut).unwrap_or(last));
            let [roof, wall] = [down, face(cut, 0)].map(|p| moved(p).x);
            vec![
                word("roof", Point::new(roof.min(wall) - 1.5, top - 1.0), Anchor::End),
                word(outer, Point::new(roof.max(wall) + 1.5, top - 1.0), Anchor::Start),
            ]
        }
        // A parapet of which the drawing ends on its top.
        Axis::Up if ends_on_top(cut) => {
            let wall = moved(face(cut, 0)).x;
            vec![
                word("roof", Point::new(left, top - 3.0), Anchor::Start),
                word(outer, Point::new(wall + 1.5, top - 1.0), Anchor::Start),
            ]
        }
        // Seen from its roof, on the side of the wall.
        Axis::Up if cut.top.is_some() && cut.spine.lies(0) => {
            let face = moved(cut.spine.raw(last, cut.spine.span(last)[0], 0.0)).x;
            let roof = moved(cut.spine.raw(last - 1, cut.spine.span(last - 1)[0], 0.0)).x;
            vec![
                word(outer, Point::new(face - 1.5, top - 3.0), Anchor::End),
                word("roof", Point::new(roof + 1.5, top - 3.0), Anchor::Start),
            ]
        }
        Axis::Up if !cut.spine.lies(last) => {
            let x = moved(cut.spine.raw(last, cut.spine.span(last)[1], 0.0)).x;
            let tick = vec![Point::new(x, top - 2.2), Point::new(x, top - 2.2 - SMALL - 1.0)];
            // Behind the face of a chimney is no room.
            let room = (&*cut.subject.detail.kind != "chimney")
                .then(|| word(inner, Point::new(x - 1.5, top - 3.0), Anchor::End));
            let open = word(outer, Point::new(x + 1.5, top - 3.0), Anchor::Start);
            room.into_iter().chain([open, Shape::line(tick, Pen::solid(BEYOND, Ink::Dark))]).collect()
        }
        Axis::Up => vec![word(outer, Point::new((left + right) / 2.0, top - 3.0), Anchor::Middle)],
        Axis::Along if cut.spine.outward(0).y < 0.0 => {
            vec![word("outside", Point::new((left + right) / 2.0, top - 3.0), Anchor::Middle)]
        }
        Axis::Along => {
            let foot = bottom + 1.4 + SMALL;
            let mut words = vec![
                word("inside", Point::new(left, top - 3.0), Anchor::Start),
                word("outside", Point::new(left, foot), Anchor::Start),
            ];
            // Beyond an inside corner the last wall has a room of its own, as an addition beside an old wall.
            if cut.spine.outward(last).x < -0.5 {
                let inner = (moved(inner_face(cut, last)).x + 1.5).min(right + 1.0);
                let beside = left + lettering::width("outside", SMALL) + 3.0;
                words.push(word("inside", Point::new(inner.max(beside), foot), Anchor::Start));
            }
            words
        }
    }
}

/// The leg on which a line comes down that went up a wall and over its top.
fn comes_down(cut: &Cut) -> Option<usize> {
    let stands = |leg: &usize| !cut.spine.lies(*leg);
    let faces = |leg: &usize| cut.spine.outward(*leg).x * cut.spine.outward(0).x < -0.5;
    (1..cut.spine.legs()).find(|leg| stands(&0) && stands(leg) && faces(leg))
}

/// The outermost place on the upper end of a leg that stands.
fn face(cut: &Cut, leg: usize) -> Point {
    let out = steps_on(cut, leg).map(|n| cut.places.reach(n)[1]).fold(0.0, f64::max);
    cut.spine.raw(leg, cut.spine.span(leg)[usize::from(leg == 0)], out)
}

/// The inmost place on the far end of a leg.
fn inner_face(cut: &Cut, leg: usize) -> Point {
    let deep = steps_on(cut, leg).map(|n| cut.places.reach(n)[0]).fold(0.0, f64::min);
    cut.spine.raw(leg, cut.spine.span(leg)[1], deep)
}

fn steps_on(cut: &Cut, leg: usize) -> impl Iterator<Item = usize> {
    (0..cut.line.steps.len()).filter(move |n| {
        let [low, high] = cut.places.along(*n);
        cut.spine.leg_from((low + high) / 2.0, 1.0) == leg
    })
}

/// The last leg is the top of a wall beside a roof.
fn ends_on_top(cut: &Cut) -> bool {
    let detail = cut.subject.detail;
    let roof = &*detail.kind == "parapet" || detail.joins.iter().any(|join| join.assembly.kind == AssemblyKind::Roof);
    let at =
        |fold: &&Fold| fold.axis == Axis::Up && (cut.ruler.at(nanometres(fold.at)) - cut.spine.span(0)[1]).abs() < 1e-6;
    let kind = detail.folds.iter().find(at).map(|fold| fold.kind);
    let top = matches!(kind, Some(FoldKind::Sill | FoldKind::OutsideCorner));
    roof && top && cut.spine.legs() == 2 && !cut.spine.lies(0) && cut.spine.lies(1) && cut.spine.outward(1).y < 0.0
}

/// The words of the wall line, where they have room beside it.
pub(super) fn eave_words([top, foot]: [Point; 2], free: &mut Free, drawn: &[Shape]) -> Option<Shape> {
    let wide = lettering::width(eave::WORDS, SMALL);
    let rooms = [
        Area::new(foot.x - wide / 2.0, foot.y + 0.6, foot.x + wide / 2.0, foot.y + 0.6 + SMALL),
        Area::new(foot.x - wide - 1.0, foot.y - SMALL, foot.x - 1.0, foot.y),
        Area::new(top.x - wide / 2.0, top.y - 0.6 - SMALL, top.x + wide / 2.0, top.y - 0.6),
    ];
    let fits = rooms.into_iter().filter(|room| room.left >= 0.0 && room.top >= 0.0 && free.has(*room));
    let room = fits.min_by_key(|room| enlarge::crossings(drawn, *room))?;
    free.take(room);
    Some(Shape::text(Point::new(room.left, room.bottom), SMALL, eave::WORDS).inked(Ink::Dark))
}
