//! What a body that ends at a fold stands on, or ends under: a floor goes through its wall, and a block stands on the deck.

use crate::model::{AssemblyKind, Axis, MaterialKind};
use crate::output::drawing::hatch::insulates;
use crate::output::drawing::section::cut::Cut;

/// How far a floor is drawn beyond the wall that it goes through, mm of paper.
const BEYOND: f64 = 8.0;

/// How far out on a leg that lies a piece ends which stands on it, or under it.
pub(super) fn stands_on(cut: &Cut, piece: usize, [lying, standing]: [usize; 2]) -> Option<f64> {
    bearing(cut, piece, [lying, standing]).and_then(|bearing| cut.places.slot(bearing, lying)).map(|slot| slot[1])
}

/// How much farther a lying piece goes on under what stands beyond the fold, or through it: so it does which bears that, or lies below
/// what does.
pub(super) fn goes_under(cut: &Cut, piece: usize, [lying, standing]: [usize; 2]) -> Option<f64> {
    let stack = &cut.line.steps[lying].stack;
    let place = |p: usize| stack.iter().position(|q| *q == p);
    let stands = cut.line.steps[standing].stack.iter().filter(|p| cut.places.slot(**p, standing).is_some());
    let bearing = stands.filter_map(|p| bearing(cut, *p, [lying, standing])).max_by_key(|p| place(*p))?;
    let inside = of(cut, bearing) == Some(AssemblyKind::Floor) || &*cut.subject.detail.kind == "threshold";
    (place(piece) <= place(bearing)).then_some(if inside { BEYOND } else { 0.0 })
}

/// How far out a roof ends before what stands on it in front of the wall, as ballast does before upright insulation.
pub(super) fn ends_before(cut: &Cut, piece: usize, beside: usize) -> f64 {
    let stack = cut.line.steps[beside].stack.iter().copied();
    let before = stack.filter(|p| *p < piece && cut.places.is_skin(*p) && !cut.places.pieces[*p].thin);
    before.filter_map(|p| cut.places.slot(p, beside)).map(|slot| slot[1]).fold(0.0, f64::max)
}

/// How far out of a roof or a soffit that begins which meets its membranes.
pub(super) fn begins_on(cut: &Cut, piece: usize, beside: usize) -> f64 {
    let stack = cut.line.steps[beside].stack.iter().copied();
    let under = stack.filter(|p| *p < piece && cut.places.is_skin(*p) && cut.places.pieces[*p].thin);
    under.filter_map(|p| cut.places.slot(p, beside)).map(|slot| slot[1]).fold(0.0, f64::max)
}

/// The body in a step of a leg that lies on which a piece stands that ends at the fold: a wall on the floor that carries it, a block of
/// stated height on the deck, and not what lines that.
fn bearing(cut: &Cut, piece: usize, [lying, standing]: [usize; 2]) -> Option<usize> {
    let own = &cut.subject.detail.pieces[piece];
    let wall = of(cut, piece) == Some(AssemblyKind::Wall);
    let inmost = cut.line.steps[standing].stack.iter().find(|p| is_body(cut, **p)) == Some(&piece);
    let block = inmost && own.layer.is_none() && own.up.low.is_some() && own.up.high.is_some();
    let bears = |p: &usize| {
        let material = &cut.subject.detail.pieces[*p].material;
        let (floor, roof) = (of(cut, *p) == Some(AssemblyKind::Floor), of(cut, *p) == Some(AssemblyKind::Roof));
        let carries = wall && floor && material.kind == Some(MaterialKind::Mass);
        is_body(cut, *p) && (carries || block && (floor || roof) && *p < piece && !insulates(material))
    };
    let ends = cut.line.axis == Axis::Up && is_body(cut, piece) && !cut.line.steps[lying].stack.contains(&piece);
    cut.line.steps[lying].stack.iter().copied().rev().filter(|_| ends).find(bears)
}

fn of(cut: &Cut, piece: usize) -> Option<AssemblyKind> {
    let detail = cut.subject.detail;
    detail.pieces[piece].layer.map(|at| detail.joins[at.join].assembly.kind)
}

fn is_body(cut: &Cut, piece: usize) -> bool {
    use MaterialKind::{Board, Frame, Mass};
    let own = &cut.subject.detail.pieces[piece];
    matches!(own.material.kind, Some(Board | Frame | Mass)) && !own.inside && !cut.places.is_skin(piece)
}
