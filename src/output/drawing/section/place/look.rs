//! How each piece shows in a section: as a line or a body, how thick, and how far out its assembly has it.

use crate::model::{AssemblyKind, Control, Detail, MaterialKind, Piece};
use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::gap;
use crate::output::drawing::section::place::ledge::is_angle;
use crate::output::drawing::section::place::put::Slots;
use crate::output::drawing::section::place::sill::is_sill;
use crate::output::drawing::subject::Subject;

/// How a piece shows in a section.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Drawn as a line.
    pub thin: bool,
    /// Its thickness on paper.
    pub thickness: f64,
    /// Nobody said how thick it is.
    pub cut_off: bool,
    /// It is thicker than it is drawn.
    pub broken: bool,
    /// It fills the corner that a roof and a wall make; what lies on it goes over it aslant.
    pub cant: bool,
    /// Lies on what is under it, place by place.
    pub(super) soft: bool,
    /// How far outboard of the datum its assembly has it.
    pub(super) out: f64,
    /// How deep the gap is that its assembly has behind it.
    pub(super) gap: f64,
    /// Formed metal: straight between its bends.
    pub(super) metal: bool,
    /// Wool in a joint: it pushes nothing aside.
    pub(super) yields: bool,
    /// Fills what the others leave of the bay.
    pub(super) fills: bool,
    /// A head flashing turns out over what it sheds water off: height of its face, fall of its top, and how far it stands out.
    pub(super) hood: Option<[f64; 3]>,
    /// The rise over run that is stated for its top.
    pub(super) rise: Option<f64>,
}

/// Limits of what a thick piece is drawn as, mm of paper: a board is never less than two lines, a wall never half of the sheet.
pub(super) const THINNEST: f64 = 0.9;
pub(super) const THICKEST: f64 = 70.0;

/// The same for an enlargement: of what is thicker, the other face is never in its circle.
const ENLARGED: f64 = 300.0;

/// The least thickness of what is drawn in true size.
const HAIR: f64 = 0.01;

/// What a piece is drawn as that nobody said the thickness of.
const UNKNOWN: f64 = 10.0;

/// How far a slab is drawn at most that nobody said the depth of: no less deep than high, so that it is no curb.
const JUTS: f64 = 24.0;

/// The leg of an angle that nobody said the thickness of, mm of the building (practice: three eighths of an inch).
const LEG: f64 = 10.0;

/// How thin and how thick a piece is drawn at most: without limits where nothing is drawn shorter than it is.
pub(super) fn limits(subject: &Subject) -> [f64; 2] {
    match (subject.whole, subject.thick) {
        (true, _) => [HAIR, f64::MAX],
        (_, true) => [THINNEST, ENLARGED],
        _ => [THINNEST, THICKEST],
    }
}

/// The largest scale at which every piece on a line is drawn as thick as it is. What is thicker than this last scale allows is broken.
pub fn scale_of_thickest(subject: &Subject, line: &SectionLine) -> f64 {
    let detail = subject.detail;
    let on_line = line.pieces().into_iter().map(|piece| &detail.pieces[piece]);
    let solid = on_line.filter(|piece| !is_flat(piece.material.kind));
    let thickest = solid.filter_map(|piece| depth(detail, piece)).fold(0.0, f64::max);
    let whole = &subject.scales().all()[..WHOLE];
    whole.iter().copied().find(|scale| thickest <= scale * THICKEST).unwrap_or(whole[WHOLE - 1])
}

/// A detail is not drawn smaller for one thick piece than at the last of so many scales.
const WHOLE: usize = 3;

pub(super) fn look(detail: &Detail, piece: &Piece, scale: f64, [thinnest, thickest]: [f64; 2]) -> Look {
    use MaterialKind::{Coat, Fastener, Fill, Flashing, Gap, Sealant, Sheet, Tape, Unit};
    let kind = if is_formed(piece) { Some(Flashing) } else { piece.material.kind };
    let thin = matches!(kind, Some(Sheet | Tape | Coat | Flashing | Sealant | Fastener));
    // Air fills what others leave; a net or a screen stands straight.
    let soft = thin || kind == Some(Unit) || kind == Some(Gap) && piece.layer.is_some();
    let steel = || is_angle(piece).then_some(LEG / scale);
    let paper = depth(detail, piece).map(|mm| mm / scale).or_else(steel);
    let flat = is_flat(kind);
    // A mat that keeps two sheets apart is thin; a solid of unknown thickness goes on beyond a break.
    let mat = kind == Some(Gap) && piece.layer.is_none();
    let high = || piece.up.low.zip(piece.up.high).map_or(0.0, |(low, high)| (high.si - low.si) * 1000.0 / scale);
    let unknown = match (mat, juts(detail, piece)) {
        (true, _) => thinnest,
        (_, true) => high().clamp(UNKNOWN, JUTS),
        _ => UNKNOWN,
    };
    Look {
        thin,
        thickness: if flat { SPREAD } else { paper.unwrap_or(unknown).clamp(thinnest, thickest) },
        cut_off: !flat && !mat && paper.is_none(),
        broken: !flat && paper.is_some_and(|p| p > thickest),
        cant: false,
        soft,
        out: outboard(detail, piece).map_or(0.0, |mm| mm / scale),
        gap: piece.layer.map_or(0.0, |at| gap::behind(detail, at) / scale),
        metal: kind == Some(Flashing) && piece.material.adhesive.is_none(),
        yields: !piece.inside && piece.layer.is_none() && kind == Some(Fill),
        fills: piece.inside && kind == Some(Fill),
        hood: None,
        rise: piece.slope.map(|slope| slope.value.si).filter(|rise| rise.is_finite() && *rise > 0.0),
    }
}

/// A slab, a stoop or a hood of concrete that falls away from its wall: nobody says how far it runs.
pub fn juts(detail: &Detail, piece: &Piece) -> bool {
    let bounded = piece.up.low.is_some() && piece.up.high.is_some() && piece.slope.is_some();
    let plain = piece.layer.is_none() && piece.role.is_none() && !piece.inside;
    plain
        && bounded
        && piece.material.kind == Some(MaterialKind::Mass)
        && depth(detail, piece).is_none()
        && !is_sill(detail, piece)
}

/// Sheet metal over a parapet is bent over its edges, whatever it is sold as.
pub(super) fn is_formed(piece: &Piece) -> bool {
    let metal = piece.material.surface.as_deref().is_some_and(|surface| surface.contains("metal"));
    let thin = piece.material.thickness.is_some_and(|t| t.si < SHEET_METAL);
    piece.role.as_deref() == Some("coping") && piece.material.kind == Some(MaterialKind::Cladding) && metal && thin
}

/// Metal thinner than this is bent to shape, m.
const SHEET_METAL: f64 = 0.003;

/// Drawn as a line; the flange of a unit lies on the wall like a membrane.
pub fn is_flat(kind: Option<MaterialKind>) -> bool {
    use MaterialKind::{Coat, Fastener, Flashing, Sealant, Sheet, Tape, Unit};
    matches!(kind, Some(Sheet | Tape | Coat | Flashing | Sealant | Fastener | Unit))
}

/// How thick a piece is said to be, mm of the building.
pub fn depth(detail: &Detail, piece: &Piece) -> Option<f64> {
    let thickness = piece.layer.and_then(|at| detail.layer(at).thickness).or(piece.material.thickness);
    depth_of_plate(detail, piece).or(thickness.map(|t| t.si)).map(|t| t * 1000.0)
}

/// Lumber of 38 mm is drawn as 1-1/2 in, m.
const ROUNDED: f64 = 0.001;

/// A plate that lies flat is as high as it is said to be thick, and as deep as the bay above it.
fn depth_of_plate(detail: &Detail, piece: &Piece) -> Option<f64> {
    let (low, high, thick) = (piece.up.low?, piece.up.high?, piece.material.thickness?);
    let flat = piece.material.kind == Some(MaterialKind::Frame) && (high.si - low.si - thick.si).abs() < ROUNDED;
    let layers = detail.joins.iter().flat_map(|join| &join.assembly.layers);
    let bays = layers.filter(|layer| layer.material.kind == Some(MaterialKind::Fill));
    let depth = bays.filter_map(|layer| layer.thickness).map(|t| t.si).reduce(f64::max);
    depth.filter(|_| flat)
}

/// Steps out at its foot, mm of the building: nobody states the profile of a head flashing.
const FACE: f64 = 12.0;
const PROJECTS: f64 = 18.0;

/// The foot of each head flashing, below what laps over it.
pub(super) fn hoods(detail: &Detail, line: &SectionLine, along: &[[f64; 2]], scale: f64, pieces: &mut [Look]) {
    for (index, piece) in detail.pieces.iter().enumerate() {
        let steps = line.intervals(index).into_iter().next();
        let Some(steps) = steps.filter(|_| pieces[index].metal && piece.role.as_deref() == Some("head-flashing"))
        else {
            continue;
        };
        let covered = |n: &usize| line.steps[*n].stack.last() != Some(&index);
        let free = steps.clone().find(covered).map_or(along[steps.end - 1][1], |n| along[n][0]) - along[steps.start][0];
        let face = (FACE / scale).min(0.4 * free);
        let out = (PROJECTS / scale).max(1.5 * SPREAD);
        let fall = pieces[index].rise.unwrap_or(0.25) * out;
        pieces[index].hood = Some([face, fall.min(0.4 * free), out]).filter(|_| free > 1.0);
    }
}

/// The toe of each weep screed, under the foot of the stucco that it carries.
pub(super) fn toes(detail: &Detail, line: &SectionLine, along: &[[f64; 2]], slots: &Slots, pieces: &mut [Look]) {
    for (index, piece) in detail.pieces.iter().enumerate() {
        let called = piece.material.name.split('-').any(|word| word == "screed");
        let Some(steps) = line.intervals(index).into_iter().next().filter(|_| called && pieces[index].metal) else {
            continue;
        };
        let (low, high) = (along[steps.start][0], along[steps.end - 1][1]);
        let foot = |q: &usize| {
            let first = line.intervals(*q).into_iter().find(|own| steps.contains(&own.start))?.start;
            let over = line.steps[first].stack.iter().skip_while(|p| **p != index).any(|p| p == q);
            let [back, face] = [slots[index][first]?, slots[*q][first]?].map(|slot| slot[1]);
            let rigid = !pieces[*q].thin && detail.pieces[*q].material.kind != Some(MaterialKind::Gap);
            (over && rigid).then_some((along[first][0], face - back + SPREAD / 2.0))
        };
        if let Some((at, out)) = line.pieces().iter().find_map(foot).filter(|(at, _)| at + TOE < high) {
            pieces[index].hood = Some([at - low, TOE, out]);
        }
    }
}

/// How much the toe of a screed falls, mm of paper.
const TOE: f64 = 0.3;

/// How far a layer stands off the plane in which its assembly controls water, mm of the building; nothing for one inboard of it. A cover
/// on the ground is seen from within: the earth lies under it.
pub(super) fn outboard(detail: &Detail, piece: &Piece) -> Option<f64> {
    let at = piece.layer?;
    let assembly = &detail.joins[at.join].assembly;
    if assembly.kind == AssemblyKind::Ground {
        return None;
    }
    let layers = &assembly.layers;
    let water = layers.iter().position(|layer| layer.controls().has(Control::Water))?;
    let between = layers.get(at.layer + 1..water)?;
    let sum =
        between.iter().map(|layer| layer.thickness.or(layer.material.thickness).map_or(0.0, |t| t.si)).sum::<f64>();
    Some(1000.0 * sum)
}
