//! What carries what: cladding lies on its battens, and what is stiff ends where nothing carries it any more.

use crate::facts::face::{OPEN_HIGH, OPEN_LOW};
use crate::facts::nanometres;
use crate::model::{Axis, Detail, MaterialKind};
use crate::output::drawing::section::bed::beds;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::look::{Look, THICKEST, THINNEST};
use crate::output::drawing::section::place::on_paper::OnPaper;
use crate::output::drawing::section::place::{Crest, Turn};

/// Cladding lies on the battens that are drawn under it. Battens of which nobody says how thick they are fill the gap that the assembly
/// leaves for them.
pub(super) fn battens(detail: &Detail, line: &SectionLine, skin: &[bool], pieces: &mut [Look]) {
    let of = |piece: usize, kind: MaterialKind| skin[piece] && detail.pieces[piece].material.kind == Some(kind);
    for piece in line.pieces().into_iter().filter(|p| of(*p, MaterialKind::Cladding)) {
        if pieces[piece].out <= 0.0 {
            continue;
        }
        let steps = line.steps.iter().filter(|step| step.stack.contains(&piece));
        let under = steps.map(|step| {
            // What has insulation over it is built into that, and carries no cladding.
            let next = step.stack.iter().rev().copied().skip_while(|p| *p != piece).skip(1);
            let next =
                next.take_while(|p| pieces[*p].thin || detail.pieces[*p].material.kind != Some(MaterialKind::Board));
            next.filter(|p| of(*p, MaterialKind::Frame) && is_wood(detail, *p)).collect::<Vec<usize>>()
        });
        let Some(under) = under.max_by_key(Vec::len).filter(|under| !under.is_empty()) else { continue };
        let (unknown, known): (Vec<usize>, Vec<usize>) = under.into_iter().partition(|p| pieces[*p].cut_off);
        let gap = pieces[piece].out - known.iter().map(|p| pieces[*p].thickness).sum::<f64>();
        for batten in &unknown {
            pieces[*batten].thickness = (gap / unknown.len() as f64).max(THINNEST);
            pieces[*batten].cut_off = false;
        }
        pieces[piece].out = 0.0;
    }
}

/// A cant in the corner of a roof and a wall is a wedge: it takes no room from what lies on either of them.
pub(super) fn cants(on: OnPaper<'_>, pieces: &mut [Look]) {
    let OnPaper { detail, line, turns, .. } = on;
    let called = |p: &usize| detail.pieces[*p].role.as_deref() == Some("cant") && !pieces[*p].thin;
    let in_corner = |p: &usize| {
        line.intervals(*p).into_iter().any(|interval| {
            let [low, high] = on.reach(&interval);
            let over = |turn: &Turn| low < turn.at - 1e-6 && turn.at + 1e-6 < high;
            turns.iter().any(|turn| !turn.opens && !turn.opening && over(turn))
        })
    };
    let wedges: Vec<usize> = line.pieces().into_iter().filter(called).filter(in_corner).collect();
    for piece in wedges {
        let look = &mut pieces[piece];
        (look.thickness, look.cut_off, look.broken, look.soft, look.cant) = (0.0, false, false, true, true);
    }
}

/// A body of which nobody says how thick it is goes as deep as what lies on it reaches in under a frame.
pub(super) fn deepen(detail: &Detail, line: &SectionLine, scale: f64, pieces: &mut [Look]) {
    for bed in beds(detail).into_iter().filter(|_| line.axis == Axis::Up) {
        let ends = |p: &usize| detail.pieces[*p].up.high.is_some_and(|high| nanometres(high) == bed.at);
        let below = line.pieces().into_iter().filter(|p| if bed.lies { ends(p) } else { *p == bed.piece });
        for piece in below.filter(|p| pieces[*p].cut_off).collect::<Vec<usize>>() {
            let deep = bed.deep as f64 * 1e-6 / scale;
            pieces[piece].thickness = pieces[piece].thickness.max(deep.min(THICKEST));
        }
    }
}

/// A lintel of steel in a cavity is no batten.
fn is_wood(detail: &Detail, piece: usize) -> bool {
    detail.pieces[piece].material.surface.as_deref() == Some("wood")
}

/// The steps in which a stiff piece is not drawn though its text goes on: the body of a parapet beyond its top, and battens beyond the
/// edge of their roof.
pub(super) fn ended(on: OnPaper<'_>, crest: Option<&Crest>, piece: usize) -> Vec<usize> {
    let OnPaper { detail, line, along, turns } = on;
    let count = line.steps.len();
    if let Some(crest) = crest.filter(|crest| crest.bodies.contains(&piece)) {
        return (0..count).filter(|n| along[*n][0] > crest.along[0] - 1e-6).collect();
    }
    // A body that goes on under a frame lies below the edge of the opening.
    let beds = if line.axis == Axis::Up { beds(detail) } else { Vec::new() };
    let under = beds.into_iter().filter(|bed| bed.piece == piece && !bed.lies);
    let mut ended: Vec<usize> =
        under.flat_map(|bed| (0..count).filter(move |n| line.steps[*n].extent.low >= bed.at)).collect();
    if detail.pieces[piece].material.kind != Some(MaterialKind::Frame) {
        return ended;
    }
    for interval in line.intervals(piece) {
        let open =
            [line.steps[interval.start].extent.low == OPEN_LOW, line.steps[interval.end - 1].extent.high == OPEN_HIGH];
        let reach = on.reach(&interval);
        for (at, above) in turns.iter().filter_map(|turn| Some((turn.at, turn.lies_above?))) {
            let within = reach[0] < at - 1e-6 && at + 1e-6 < reach[1];
            if within && open[usize::from(!above)] {
                ended.extend(interval.clone().filter(|n| beyond(along[*n], at, above)));
            }
        }
    }
    ended
}

/// A step lies on the side of an edge where things hang.
fn beyond([low, high]: [f64; 2], at: f64, lies_above: bool) -> bool {
    if lies_above { high < at + 1e-6 } else { low > at - 1e-6 }
}
