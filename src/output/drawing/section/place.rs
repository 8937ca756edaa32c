//! How far out each piece lies on a section.
//!
//! The datum is the outer face of the substrate, one plane for a whole wall. What makes it up lies inboard of it, as thick as it is. What
//! covers it lies outboard: each membrane a little off the next, so that their order can be read, and what is rigid as far out as its
//! assembly has it. Soft pieces drape over what lies under them, stiff ones stay straight.

use std::ops::Range;

use crate::facts::face::OPEN_LOW;
use crate::model::{Axis, Control, Detail, MaterialKind, Piece};
use crate::output::drawing::paper::SPREAD;
use crate::output::drawing::section::line::Line;
use crate::output::drawing::subject::Subject;

/// Limits of what a thick piece is drawn as, mm of paper: a board is never less than two lines, a wall never half of the sheet.
const THINNEST: f64 = 0.9;
const THICKEST: f64 = 48.0;

/// The least thickness of what is drawn in true size.
const HAIR: f64 = 0.01;

/// What a piece is drawn as that nobody said the thickness of.
const UNKNOWN: f64 = 10.0;

/// Height over which a draped membrane goes from one distance to another, mm of paper.
const DRAPE: f64 = 1.6;

/// The largest scale at which every piece on a line is drawn as thick as it is. What is thicker than this last scale allows is broken.
pub fn scale_of_thickest(detail: &Detail, line: &Line) -> f64 {
    let on_line = line.pieces().into_iter().map(|piece| &detail.pieces[piece]);
    let solid = on_line.filter(|piece| !is_flat(piece.material.kind));
    let thickest = solid.filter_map(|piece| depth(detail, piece)).fold(0.0, f64::max);
    let last = WHOLE[WHOLE.len() - 1];
    WHOLE.into_iter().find(|scale| thickest <= scale * THICKEST).unwrap_or(last)
}

/// A detail is not drawn smaller than this for one thick piece.
const WHOLE: [f64; 3] = [2.0, 5.0, 10.0];

/// Where the pieces of a line lie: distances from the datum in mm of paper, outboard positive.
#[derive(Clone, Debug)]
pub struct Places {
    /// For each piece and step of the line, its inner and outer face.
    slots: Vec<Vec<Option<[f64; 2]>>>,
    /// Positions along the line of the steps, mm of paper.
    along: Vec<[f64; 2]>,
    pub pieces: Vec<Look>,
    /// What lies outboard of the datum.
    skin: Vec<bool>,
    /// Where the line turns: there nothing leans.
    folds: Vec<f64>,
    /// The edges of openings: formed metal is bent there.
    edges: Vec<f64>,
    /// The foot of a veneer, along the line, and its outer face.
    pub ledge: Option<[f64; 2]>,
}

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
    /// Lies on what is under it, place by place.
    soft: bool,
    /// How far outboard of the datum its assembly has it.
    out: f64,
    /// Formed metal: straight between its bends.
    metal: bool,
    /// Fills what the others leave of the bay.
    fills: bool,
    /// A head flashing turns out over what it sheds water off: height of its face, fall of its top, and how far it stands out.
    hood: Option<[f64; 3]>,
}

/// Where a line turns, mm of paper along it.
pub struct Turn {
    pub at: f64,
    /// The outer side lies open, as over an eave.
    pub opens: bool,
    /// Not the wall turns but what lines an opening.
    pub opening: bool,
    /// An edge over which things hang: what lies is above it on the line, or below it.
    pub lies_above: Option<bool>,
}

impl Places {
    pub fn new(subject: &Subject, line: &Line, along: Vec<[f64; 2]>, turns: Vec<Turn>, scale: f64) -> Places {
        let detail = subject.detail;
        let drawn = if subject.whole { [HAIR, f64::MAX] } else { [THINNEST, THICKEST] };
        let mut pieces: Vec<Look> = detail.pieces.iter().map(|piece| look(detail, piece, scale, drawn)).collect();
        if line.axis == Axis::Up {
            hoods(detail, line, &along, scale, &mut pieces);
        }
        let skin = skin(detail, line, &pieces);
        let mut slots = vec![vec![None; line.steps.len()]; pieces.len()];
        let order = order(line, pieces.len());
        for piece in order.iter().rev().copied().filter(|p| !skin[*p]) {
            put(line, &pieces, piece, &mut slots, Way::In, &|_| Vec::new(), &[]);
        }
        lay(detail, line, &pieces, &skin, &mut slots);
        let mut hanging = vec![Vec::new(); pieces.len()];
        for piece in order.iter().copied().filter(|p| skin[*p]) {
            let bends = |slots: &[Vec<Option<[f64; 2]>>]| bends(detail, line, &along, &turns, slots, piece);
            hanging[piece] = hung(detail, line, &along, &turns, piece);
            put(line, &pieces, piece, &mut slots, Way::Out, &bends, &hanging[piece]);
        }
        settle(line, &skin, &hanging, &mut slots);
        let ledge = ledge(detail, line, &skin, &mut slots);
        let ledge = ledge.map(|(step, outer)| [along[step][0], outer]);
        let of = |opening: bool| turns.iter().filter(|turn| turn.opening == opening).map(|turn| turn.at).collect();
        let (folds, edges) = (of(false), of(true));
        Places { slots, along, pieces, skin, folds, edges, ledge }
    }

    /// Inner and outer face of a piece in a step.
    pub fn slot(&self, piece: usize, step: usize) -> Option<[f64; 2]> {
        self.slots[piece][step]
    }

    /// The middle of a piece in a step.
    pub fn middle(&self, piece: usize, step: usize) -> f64 {
        self.slots[piece][step].map_or(0.0, |[inner, outer]| (inner + outer) / 2.0)
    }

    /// It lies outboard of the datum.
    pub fn is_skin(&self, piece: usize) -> bool {
        self.skin[piece]
    }

    /// What lines an opening lies on its edge, one on the other, and not on what stands in front of the wall there.
    pub fn line_opening(&mut self, step: usize, stack: &[usize], lining: &[usize]) {
        let (mut reached, mut in_front) = (0.0, false);
        for piece in stack.iter().copied().filter(|piece| self.skin[*piece]) {
            let Some([inner, outer]) = self.slots[piece][step] else { continue };
            in_front |= !self.pieces[piece].soft;
            if lining.contains(&piece) {
                let slot = if in_front { [reached, reached + outer - inner] } else { [inner, outer] };
                self.slots[piece][step] = Some(slot);
                reached = slot[1];
            }
        }
    }

    /// The inmost and outmost distance in a step.
    pub fn reach(&self, step: usize) -> [f64; 2] {
        let slots = || self.slots.iter().filter_map(|slots| slots[step]);
        [slots().fold(0.0, |low: f64, s| low.min(s[0])), slots().fold(0.0, |high: f64, s| high.max(s[1]))]
    }

    /// The face on which water runs: a membrane itself, the outer face of something thick.
    pub fn surface(&self, piece: usize, step: usize) -> f64 {
        let [inner, outer] = self.slots[piece][step].unwrap_or([0.0, 0.0]);
        if self.pieces[piece].thin { (inner + outer) / 2.0 } else { outer }
    }

    /// The course of that face through steps, `ahead` in front of it: along the line, and out from the datum.
    pub fn course(&self, piece: usize, steps: Range<usize>, ahead: f64) -> Vec<(f64, f64)> {
        let distance = |step: usize| self.surface(piece, step) + ahead;
        let mut points = Vec::new();
        let Some(first) = steps.clone().next() else { return points };
        points.push((self.along[first][0], distance(first)));
        for step in steps.clone().skip(1) {
            let (below, above) = (distance(step - 1), distance(step));
            let at = self.along[step][0];
            if (below - above).abs() < 1e-9 {
                continue;
            }
            let edges = if self.pieces[piece].metal { &self.edges[..] } else { &[] };
            if self.folds.iter().chain(edges).any(|fold| (fold - at).abs() < 1e-6) {
                points.extend([(at, below), (at, above)]);
                continue;
            }
            // Under a veneer a flashing turns out over the ledge.
            if self.ledge.is_some_and(|[foot, outer]| (foot - at).abs() < 1e-6 && below > outer) {
                points.extend([(at - 0.9, below), (at - 0.4, above)]);
                continue;
            }
            // It leans in the step in which it lies nearer to the datum: there nothing is in its way.
            let room = |n: usize| ((self.along[n][1] - self.along[n][0]) / 2.0).min(DRAPE);
            if (below - ahead).abs() < (above - ahead).abs() {
                points.extend([(at - room(step - 1), below), (at, above)]);
            } else {
                points.extend([(at, below), (at + room(step), above)]);
            }
        }
        let last = steps.end - 1;
        points.push((self.along[last][1], distance(last)));
        self.over_hood(piece, first, ahead, &mut points);
        points
    }

    /// The foot of a head flashing: from its back leg out over its top, and down its face.
    fn over_hood(&self, piece: usize, first: usize, ahead: f64, points: &mut Vec<(f64, f64)>) {
        let Some([face, fall, out]) = self.pieces[piece].hood else { return };
        let lowest = first == 0 || self.slots[piece][first - 1].is_none();
        let (low, back) = points[0];
        // Under a veneer it turns out over the ledge, and has no foot of its own.
        let on_ledge = self.ledge.is_some_and(|[foot, outer]| low < foot && back >= outer);
        if !lowest || on_ledge {
            return;
        }
        let top = low + face + ahead;
        points.retain(|(along, _)| *along > top + fall);
        points.splice(0..0, [(low, back + out), (top, back + out), (top + fall, back)]);
    }

    /// Where a step lies along the line.
    pub fn along(&self, step: usize) -> [f64; 2] {
        self.along[step]
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    In,
    Out,
}

fn look(detail: &Detail, piece: &Piece, scale: f64, [thinnest, thickest]: [f64; 2]) -> Look {
    use MaterialKind::{Coat, Fastener, Fill, Flashing, Gap, Sealant, Sheet, Tape, Unit};
    let kind = piece.material.kind;
    let thin = matches!(kind, Some(Sheet | Tape | Coat | Flashing | Sealant | Fastener));
    let soft = thin || matches!(kind, Some(Gap | Unit));
    let paper = depth(detail, piece).map(|mm| mm / scale);
    let flat = is_flat(kind);
    Look {
        thin,
        thickness: if flat { SPREAD } else { paper.unwrap_or(UNKNOWN).clamp(thinnest, thickest) },
        cut_off: !flat && paper.is_none(),
        broken: !flat && paper.is_some_and(|p| p > thickest),
        soft,
        out: outboard(detail, piece).map_or(0.0, |mm| mm / scale),
        metal: kind == Some(Flashing) && piece.material.adhesive.is_none(),
        fills: piece.inside && kind == Some(Fill),
        hood: None,
    }
}

/// Drawn as a line; the flange of a unit lies on the wall like a membrane.
fn is_flat(kind: Option<MaterialKind>) -> bool {
    use MaterialKind::{Coat, Fastener, Flashing, Sealant, Sheet, Tape, Unit};
    matches!(kind, Some(Sheet | Tape | Coat | Flashing | Sealant | Fastener | Unit))
}

/// How thick a piece is said to be, mm of the building.
fn depth(detail: &Detail, piece: &Piece) -> Option<f64> {
    let thickness = piece.layer.and_then(|at| detail.layer(at).thickness).or(piece.material.thickness);
    depth_of_plate(detail, piece).or(thickness.map(|t| t.si)).map(|t| t * 1000.0)
}

/// A plate that lies flat is as high as it is said to be thick, and as deep as the bay above it.
fn depth_of_plate(detail: &Detail, piece: &Piece) -> Option<f64> {
    let (low, high, thick) = (piece.up.low?, piece.up.high?, piece.material.thickness?);
    let flat = piece.material.kind == Some(MaterialKind::Frame) && (high.si - low.si - thick.si).abs() < 1e-6;
    let layers = detail.joins.iter().flat_map(|join| &join.assembly.layers);
    let bays = layers.filter(|layer| layer.material.kind == Some(MaterialKind::Fill));
    let depth = bays.filter_map(|layer| layer.thickness).map(|t| t.si).reduce(f64::max);
    depth.filter(|_| flat)
}

/// Steps out at its foot, mm of the building: nobody states the profile of a head flashing.
const FACE: f64 = 12.0;
const PROJECTS: f64 = 18.0;

/// The foot of each head flashing, below what laps over it.
fn hoods(detail: &Detail, line: &Line, along: &[[f64; 2]], scale: f64, pieces: &mut [Look]) {
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
        pieces[index].hood = Some([face, (out / 4.0).min(0.4 * free), out]).filter(|_| free > 1.0);
    }
}

/// The runs of steps in which formed metal is straight: from bend to bend, and over each thing that it lies on. What comes over an open
/// edge hangs from it in one plane.
fn bends(
    detail: &Detail,
    line: &Line,
    along: &[[f64; 2]],
    turns: &[Turn],
    slots: &[Vec<Option<[f64; 2]>>],
    piece: usize,
) -> Vec<Range<usize>> {
    let rigid = |p: &usize| {
        use MaterialKind::{Board, Cladding, Frame, Mass};
        matches!(detail.pieces[*p].material.kind, Some(Board | Cladding | Frame | Mass))
    };
    let support = |n: usize| {
        let under = line.steps[n].stack.iter().take_while(|p| **p != piece).filter(|p| rigid(p));
        under.filter_map(|p| slots[*p][n]).map(|slot| slot[1]).fold(0.0, f64::max)
    };
    let turn = |n: usize| turns.iter().find(|turn| (turn.at - along[n][0]).abs() < 1e-6);
    let mut runs: Vec<Range<usize>> = Vec::new();
    for interval in line.intervals(piece) {
        let mut start = interval.start;
        for n in interval.start + 1..=interval.end {
            let hangs = || (n..interval.end).find_map(turn).is_some_and(|turn| turn.opens && !turn.opening);
            if n == interval.end || turn(n).is_some() || (support(n) - support(n - 1)).abs() > 1e-6 && !hangs() {
                runs.push(start..n);
                start = n;
            }
        }
    }
    runs
}

/// The steps in which a slate or a coping only hangs over the edge that it lies on: there nothing carries it.
fn hung(detail: &Detail, line: &Line, along: &[[f64; 2]], turns: &[Turn], piece: usize) -> Vec<usize> {
    if detail.pieces[piece].material.kind != Some(MaterialKind::Cladding) {
        return Vec::new();
    }
    let mut hung = Vec::new();
    for interval in line.intervals(piece) {
        let (low, high) = (along[interval.start][0], along[interval.end - 1][1]);
        for (at, above) in turns.iter().filter_map(|turn| Some((turn.at, turn.lies_above?))) {
            let (lies, hangs) = if above { (high - at, at - low) } else { (at - low, high - at) };
            if low < at - 1e-6 && at + 1e-6 < high && hangs < lies {
                hung.extend(interval.clone().filter(|n| (along[*n][0] < at - 1e-6) == above));
            }
        }
    }
    hung
}

/// How far a layer stands off the plane in which its assembly controls water, mm of the building; nothing for one inboard of it.
fn outboard(detail: &Detail, piece: &Piece) -> Option<f64> {
    let at = piece.layer?;
    let layers = &detail.joins[at.join].assembly.layers;
    let water = layers.iter().position(|layer| layer.controls().has(Control::Water))?;
    let between = layers.get(at.layer + 1..water)?;
    let sum =
        between.iter().map(|layer| layer.thickness.or(layer.material.thickness).map_or(0.0, |t| t.si)).sum::<f64>();
    Some(1000.0 * sum)
}

/// Part of the wall itself: at or inboard of the layer that controls water, whatever is tucked behind it.
fn is_wall(detail: &Detail, piece: &Piece) -> bool {
    let solid = matches!(piece.material.kind, Some(MaterialKind::Mass | MaterialKind::Board | MaterialKind::Frame));
    let controlled =
        |join: usize| detail.joins[join].assembly.layers.iter().any(|layer| layer.controls().has(Control::Water));
    solid && piece.layer.is_some_and(|at| controlled(at.join)) && outboard(detail, piece).is_none()
}

/// What lies outboard of the datum: every membrane of the outer face and all that somewhere lies on one.
fn skin(detail: &Detail, line: &Line, pieces: &[Look]) -> Vec<bool> {
    let flat = |p: usize| pieces[p].thin || detail.pieces[p].material.kind == Some(MaterialKind::Unit);
    let own = |p: usize| !detail.pieces[p].inside && (flat(p) || outboard(detail, &detail.pieces[p]).is_some());
    let wall: Vec<bool> = (0..pieces.len()).map(|p| !flat(p) && is_wall(detail, &detail.pieces[p])).collect();
    // A membrane with a part of the wall on either side of it lies within the wall.
    let within = |p: usize| {
        line.steps.iter().any(|step| {
            let at = step.stack.iter().position(|q| *q == p);
            let parts = at.map(|at| (&step.stack[..at], &step.stack[at + 1..]));
            parts.is_some_and(|(inner, outer)| [inner, outer].iter().all(|side| side.iter().any(|q| wall[*q])))
        })
    };
    let mut skin: Vec<bool> = (0..pieces.len()).map(|p| own(p) && !within(p)).collect();
    loop {
        let before = skin.clone();
        for step in &line.steps {
            let mut covered = false;
            for piece in &step.stack[step.inner..] {
                covered |= skin[*piece];
                skin[*piece] |= covered && !wall[*piece];
            }
        }
        if before == skin {
            return skin;
        }
    }
}

/// The pieces from the inmost out, as far as the stacks agree; a piece of a circle comes in order of installation.
fn order(line: &Line, count: usize) -> Vec<usize> {
    let mut above: Vec<Vec<usize>> = vec![Vec::new(); count];
    let mut under = vec![0usize; count];
    for pair in line.steps.iter().flat_map(|step| step.stack.windows(2)) {
        if !above[pair[0]].contains(&pair[1]) {
            above[pair[0]].push(pair[1]);
            under[pair[1]] += 1;
        }
    }
    let mut waiting: Vec<bool> = vec![true; count];
    let mut order = Vec::with_capacity(count);
    while order.len() < count {
        let free = (0..count).find(|p| waiting[*p] && under[*p] == 0);
        let Some(next) = free.or_else(|| waiting.iter().position(|w| *w)) else { break };
        waiting[next] = false;
        order.push(next);
        for piece in &above[next] {
            under[*piece] = under[*piece].saturating_sub(1);
        }
    }
    order
}

/// Of each piece, its two sides at each step, once it is placed.
type Slots = [Vec<Option<[f64; 2]>>];

/// Puts a piece against what lies next to it on the side of the datum.
fn put(
    line: &Line,
    pieces: &[Look],
    piece: usize,
    slots: &mut [Vec<Option<[f64; 2]>>],
    way: Way,
    bends: &dyn Fn(&Slots) -> Vec<Range<usize>>,
    hung: &[usize],
) {
    let look = pieces[piece];
    let mut faces: Vec<(usize, f64)> = Vec::new();
    for (n, step) in line.steps.iter().enumerate() {
        let Some(at) = step.stack.iter().position(|p| *p == piece) else { continue };
        let taken = |p: &usize| slots[*p][n];
        let face = match way {
            Way::Out => step.stack[..at].iter().filter_map(taken).map(|s| s[1]).fold(look.out, f64::max),
            Way::In => step.stack[at + 1..].iter().filter_map(taken).map(|s| s[0]).fold(0.0, f64::min),
        };
        faces.push((n, face));
    }
    if look.fills && way == Way::In {
        // What reaches deeper than the bay leaves it no room.
        let inner = faces.iter().fold(f64::MIN, |near, f| near.max(f.1)) - look.thickness;
        for (n, face) in faces.into_iter().filter(|f| f.1 > inner + THINNEST) {
            slots[piece][n] = Some([inner, face]);
        }
        return;
    }
    if look.metal && way == Way::Out {
        for run in bends(slots) {
            let mut own: Vec<&mut (usize, f64)> = faces.iter_mut().filter(|f| run.contains(&f.0)).collect();
            let farthest = own.iter().fold(0.0, |far: f64, f| far.max(f.1));
            own.iter_mut().for_each(|f| f.1 = farthest);
        }
    }
    if !look.soft {
        let farthest = match way {
            Way::Out => faces.iter().filter(|f| !hung.contains(&f.0)).fold(0.0, |far: f64, f| far.max(f.1)),
            Way::In => faces.iter().fold(0.0, |far: f64, f| far.min(f.1)),
        };
        faces.iter_mut().for_each(|f| f.1 = farthest);
    }
    for (n, face) in faces {
        // A membrane that lies within one part of the wall and on the next takes no room on that.
        let stack = &line.steps[n].stack;
        let outmost = !stack.iter().skip_while(|p| **p != piece).skip(1).any(|p| slots[*p][n].is_some());
        if look.thin && way == Way::In && outmost {
            slots[piece][n] = Some([face, face]);
            continue;
        }
        slots[piece][n] = Some(match way {
            Way::Out => [face, face + look.thickness],
            Way::In => [face - look.thickness, face],
        });
    }
}

/// A membrane within the wall lies on what is behind it, and does not span from one thing in front of it to the next.
fn lay(detail: &Detail, line: &Line, pieces: &[Look], skin: &[bool], slots: &mut [Vec<Option<[f64; 2]>>]) {
    for (n, step) in line.steps.iter().enumerate() {
        for pair in step.stack.windows(2).filter(|pair| !skin[pair[0]] && !skin[pair[1]]) {
            let (Some(behind), Some(own)) = (slots[pair[0]][n], slots[pair[1]][n]) else { continue };
            let piece = pair[1];
            if pieces[piece].thin && !detail.pieces[piece].inside && behind[1] < own[0] - 1e-6 {
                slots[piece][n] = Some([behind[1], behind[1] + own[1] - own[0]]);
            }
        }
    }
}

/// In stacks that contradict each other a piece may have come to lie in another; there order goes before straightness.
/// Of a membrane tucked into the wall the wall knows nothing.
fn settle(line: &Line, skin: &[bool], hanging: &[Vec<usize>], slots: &mut [Vec<Option<[f64; 2]>>]) {
    for (n, step) in line.steps.iter().enumerate() {
        let mut reached: Option<f64> = None;
        for piece in step.stack.iter().filter(|p| skin[**p] && !hanging[**p].contains(&n)) {
            let Some([inner, outer]) = slots[*piece][n] else { continue };
            let shift = reached.map_or(0.0, |r| (r - inner).max(0.0));
            slots[*piece][n] = Some([inner + shift, outer + shift]);
            reached = Some(outer + shift);
        }
    }
}

/// A veneer stands on a ledge: what passes behind its foot and ends a little lower lies on the ledge and hangs over its edge. The step
/// in which the veneer begins, and how far out it reaches.
fn ledge(detail: &Detail, line: &Line, skin: &[bool], slots: &mut [Vec<Option<[f64; 2]>>]) -> Option<(usize, f64)> {
    let heavy = |p: &usize| is_veneer(&detail.pieces[*p]) && skin[*p];
    let piece = line.pieces().into_iter().find(heavy)?;
    let foot = line.intervals(piece).first()?.start;
    let outer = slots[piece][foot]?[1];
    if foot == 0 || line.axis != Axis::Up {
        return None;
    }
    let over = |p: &usize| {
        let starts = line.intervals(*p).into_iter().find(|i| i.contains(&(foot - 1)) && i.contains(&foot));
        starts.filter(|i| line.steps[i.start].extent.low != OPEN_LOW)
    };
    let flashings: Vec<usize> = line.steps[foot]
        .stack
        .iter()
        .copied()
        .filter(|p| skin[*p] && *p != piece && slots[*p][foot].is_some())
        .collect();
    for p in flashings {
        let thin = slots[p][foot].is_some_and(|[inner, outer]| outer - inner <= SPREAD);
        let Some(interval) = over(&p).filter(|_| thin) else { continue };
        for slot in &mut slots[p][interval.start..foot] {
            *slot = slot.map(|[a, b]| [a + outer, b + outer]);
        }
    }
    Some((foot, outer))
}

/// Masonry in front of a cavity.
pub fn is_veneer(piece: &Piece) -> bool {
    let masonry = piece.material.surface.as_deref() == Some("masonry");
    masonry
        && piece.material.kind == Some(MaterialKind::Cladding)
        && piece.material.thickness.is_none_or(|t| t.si > 0.05)
}
