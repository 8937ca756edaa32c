//! How far out each piece lies on a section.
//!
//! The datum is the outer face of the substrate, one plane for a whole wall. What makes it up lies inboard of it, as thick as it is. What
//! covers it lies outboard: each membrane a little off the next, so that their order can be read, and what is rigid as far out as its
//! assembly has it. Soft pieces drape over what lies under them, stiff ones stay straight.

mod built_in;
mod carried;
mod crest;
mod face_line;
mod folded;
mod gap;
mod ledge;
mod look;
mod notch;
mod on_paper;
mod order;
mod put;
mod sill;
mod straight;
mod tucked;

pub use ledge::{Ledge, is_angle};
pub use look::{Look, depth, is_flat, juts, scale_of_thickest};
pub use sill::is_sill;

use crate::model::Axis;
use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::subject::Subject;
use carried::{battens, cants, deepen, ended};
pub use crest::Crest;
use crest::joints;
pub use face_line::DRAPE;
use folded::{bends, hung};
use ledge::{ledge, toe};
use look::{hoods, limits, look, toes};
use on_paper::OnPaper;
use order::{order, skin};
use put::{Side, fill, lay, put, settle};
pub use straight::Under;
use straight::straight;
pub use tucked::Tucked;
use tucked::{lay_in_joints, tucked};

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
    /// What a veneer stands on.
    pub ledge: Option<Ledge>,
    /// Bodies that lie on straight where their text turns.
    under: Vec<(usize, Under)>,
    /// What is tucked into joints of the wall.
    pub tucked: Vec<Tucked>,
    /// Pieces that line an opening, each with a step in which it does.
    lining: Vec<(usize, usize)>,
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
    pub fn new(
        subject: &Subject,
        line: &SectionLine,
        along: Vec<[f64; 2]>,
        turns: Vec<Turn>,
        crest: Option<Crest>,
        scale: f64,
    ) -> Places {
        let detail = subject.detail;
        let drawn = limits(subject);
        let mut pieces: Vec<Look> = detail.pieces.iter().map(|piece| look(detail, piece, scale, drawn)).collect();
        if line.axis == Axis::Up {
            hoods(detail, line, &along, scale, &mut pieces);
        } else {
            pieces.iter_mut().for_each(|look| look.rise = None);
        }
        let on = OnPaper { detail, line, along: &along, turns: &turns };
        let skin = skin(detail, line, &pieces);
        battens(detail, line, &skin, &mut pieces);
        deepen(detail, line, scale, &mut pieces);
        notch::shallow(detail, line, &mut pieces);
        cants(on, &mut pieces);
        let end = |piece: usize, slots: &mut [Vec<Option<[f64; 2]>>]| {
            ended(on, crest.as_ref(), piece).iter().for_each(|n| slots[piece][*n] = None);
        };
        let mut slots = vec![vec![None; line.steps.len()]; pieces.len()];
        let order = order(line, pieces.len());
        let mut under = Vec::new();
        let breaks = built_in::breaks(on, scale);
        let apart = |p: &usize| !skin[*p] && !breaks.iter().any(|own| own.piece == *p);
        for piece in order.iter().rev().copied().filter(apart) {
            let mut apart = joints(subject, line, piece);
            apart.extend(crest.iter().flat_map(|crest| crest.top_of(&along, piece)));
            put(line, &pieces, piece, &mut slots, Side::Inboard, &|_| Vec::new(), &apart);
            if let Some(crest) = crest.as_ref().filter(|crest| crest.bodies == [piece] && pieces[piece].cut_off) {
                crest.fill(&mut slots[piece]);
                pieces[piece].cut_off = false;
            }
            end(piece, &mut slots);
            let straight = straight(on, &pieces, piece);
            straight.ended.iter().for_each(|n| slots[piece][*n] = None);
            under.extend(straight.under.into_iter().map(|under| (piece, under)));
        }
        for own in breaks.iter().filter(|own| !skin[own.piece]) {
            own.place(line, &mut slots);
            under.extend(own.end.map(|end| (own.piece, end)));
        }
        if let Some(crest) = crest.as_ref().filter(|crest| crest.lined) {
            crest.line(&along, &pieces, &skin, &mut slots);
        }
        lay(detail, line, &pieces, &skin, &mut slots);
        fill(line, &skin, &mut pieces, &mut slots);
        let outboard = |pieces: &[Look]| {
            let (mut slots, mut hanging) = (slots.clone(), vec![Vec::new(); pieces.len()]);
            for piece in order.iter().copied().filter(|p| skin[*p]) {
                let bends = |slots: &[Vec<Option<[f64; 2]>>]| bends(on, slots, piece);
                hanging[piece] = hung(on, piece);
                hanging[piece].extend(toe(subject, line, pieces, &skin, piece));
                put(line, pieces, piece, &mut slots, Side::Outboard, &bends, &hanging[piece]);
                notch::notch(on, pieces, piece, &mut slots);
                end(piece, &mut slots);
            }
            (slots, hanging)
        };
        let (pushed, hanging) = outboard(&pieces);
        gap::keep(detail, line, &skin, &hanging, &pushed, &mut pieces);
        let (mut slots, hanging) = outboard(&pieces);
        settle(line, &skin, &hanging, &mut slots);
        if line.axis == Axis::Up {
            toes(detail, line, &along, &slots, &mut pieces);
        }
        built_in::vents(detail, line, &pieces, &slots).iter().for_each(|own| own.place(line, &mut slots));
        if line.axis == Axis::Up {
            sill::reach(detail, line, &skin, scale, &mut slots);
        }
        let ledge = ledge(on, &skin, &hanging, &mut slots);
        let of = |opening: bool| turns.iter().filter(|turn| turn.opening == opening).map(|turn| turn.at).collect();
        let (folds, edges): (Vec<f64>, Vec<f64>) = (of(false), of(true));
        let tucked = tucked(line, &along, &folds, &pieces, &skin);
        lay_in_joints(&tucked, &mut slots);
        Places { slots, along, pieces, skin, folds, edges, ledge, under, tucked, lining: Vec::new() }
    }

    /// Inner and outer face of a piece in a step.
    pub fn slot(&self, piece: usize, step: usize) -> Option<[f64; 2]> {
        self.slots[piece][step]
    }

    /// The middle of a piece in a step.
    pub fn middle(&self, piece: usize, step: usize) -> f64 {
        self.slots[piece][step].map_or(0.0, |[inner, outer]| (inner + outer) / 2.0)
    }

    /// Where a body lies on straight under a curb.
    pub fn under(&self, piece: usize) -> impl Iterator<Item = &Under> {
        self.under.iter().filter(move |(own, _)| *own == piece).map(|(_, under)| under)
    }

    /// It lies outboard of the datum.
    pub fn is_skin(&self, piece: usize) -> bool {
        self.skin[piece]
    }

    /// Its assembly has a gap under it.
    pub fn stands_off(&self, piece: usize) -> bool {
        self.pieces[piece].out > 0.0
    }

    /// What lines an opening lies on its edge, one on the other, and not on what stands in front of the wall there.
    pub fn line_opening(&mut self, step: usize, stack: &[usize], lining: &[usize]) {
        self.lining.extend(lining.iter().map(|piece| (*piece, step)));
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

    /// Where a step lies along the line.
    pub fn along(&self, step: usize) -> [f64; 2] {
        self.along[step]
    }
}
