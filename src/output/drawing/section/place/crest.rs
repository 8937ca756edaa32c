//! Where pieces end that the facts take farther: the body of a parapet under its top, and the sides of a joint.

use crate::output::drawing::section::line::SectionLine;
use crate::output::drawing::section::place::look::{Look, THINNEST};
use crate::output::drawing::subject::Subject;

/// The top of a parapet, mm of paper along the line, and the pieces that end under it.
pub struct Crest {
    pub along: [f64; 2],
    pub bodies: Vec<usize>,
    /// On the far side something lies on the body.
    pub lined: bool,
}

impl Crest {
    /// The steps of a body above its wall: it ends under the top, and what lies on that does not push it out of its plane.
    pub(super) fn top_of(&self, along: &[[f64; 2]], piece: usize) -> Vec<usize> {
        let body = self.bodies.contains(&piece);
        (0..along.len()).filter(|n| body && along[*n][0] > self.along[0] - 1e-6).collect()
    }

    /// A body of which nobody says how thick it is reaches to the outer face, which lies below the end of the top.
    pub(super) fn fill(&self, slots: &mut [Option<[f64; 2]>]) {
        let outer = self.along[0] - self.along[1];
        slots.iter_mut().flatten().for_each(|slot| slot[0] = outer.min(slot[1]));
    }

    /// What lies on the far side of the body has the room that the body leaves of the top.
    pub(super) fn line(&self, along: &[[f64; 2]], pieces: &[Look], skin: &[bool], slots: &mut [Vec<Option<[f64; 2]>>]) {
        let stands = |p: &usize| slots[*p].iter().zip(along).filter(|(_, at)| at[0] < self.along[0] - 1e-6);
        let deep =
            self.bodies.iter().flat_map(stands).filter_map(|(slot, _)| *slot).fold(0.0, |d: f64, s| d.max(-s[0]));
        let room = self.along[1] - self.along[0] - deep;
        if room < THINNEST {
            return;
        }
        for piece in (0..pieces.len()).filter(|p| !skin[*p]) {
            for slot in
                slots[piece].iter_mut().zip(along).filter(|(_, at)| at[0] > self.along[1] - 1e-6).map(|(s, _)| s)
            {
                let kept = slot.map(|slot| slot.map(|out| out.max(-room)));
                *slot = kept.filter(|[inner, outer]| pieces[piece].thin || outer - inner > 1e-6);
            }
        }
    }
}

/// The steps into which a piece only reaches as the bead of its joint.
pub(super) fn joints(subject: &Subject, line: &SectionLine, piece: usize) -> Vec<usize> {
    let beads = |steps: std::ops::Range<usize>| {
        let whole = [line.steps[steps.start].extent.low, line.steps[steps.end - 1].extent.high];
        let [low, high] = subject.real(piece, line.axis, line.at, whole);
        steps.filter(move |n| line.steps[*n].extent.low >= high || line.steps[*n].extent.high <= low)
    };
    line.intervals(piece).into_iter().flat_map(beads).collect()
}
