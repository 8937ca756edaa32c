//! The line along which a detail is cut, and what lies on it.

use crate::facts::face::{Cells, Coordinate, Extent, OPEN_HIGH, OPEN_LOW};
use crate::model::{Axis, Detail, MaterialKind};
use crate::output::drawing::mark;
use crate::output::drawing::section::bed::beds;
use crate::output::drawing::section::place::is_flat;
use crate::output::drawing::subject::Subject;

/// A detail cut along one line, from its low end up.
#[derive(Clone, Debug)]
pub struct SectionLine {
    /// The direction of the line: `Up` for a section seen from the side, `Along` for a plan.
    pub axis: Axis,
    /// Where it stands on the other axis.
    pub at: Extent,
    /// The column, or in plan the row, of the face's cells.
    pub cell: usize,
    pub steps: Vec<Step>,
}

/// A part of the line on which nothing changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    pub extent: Extent,
    /// Pieces from the inmost to the outmost.
    pub stack: Vec<usize>,
    /// How many of them lie on the inner face.
    pub inner: usize,
}

/// A detail in which something changes along the wall and nothing with height is drawn in plan.
pub fn axis(detail: &Detail) -> Axis {
    let written = |axis: Axis| {
        detail.pieces.iter().any(|piece| {
            let extent = if axis == Axis::Up { piece.up } else { piece.along };
            extent.low.is_some() || extent.high.is_some()
        })
    };
    if written(Axis::Along) && !written(Axis::Up) { Axis::Along } else { Axis::Up }
}

impl SectionLine {
    /// Every different line of a face in that direction, from left to right or from the lowest up.
    pub fn all(cells: &Cells, axis: Axis) -> Vec<SectionLine> {
        let groups = if axis == Axis::Up { cells.alike_columns() } else { cells.alike_rows() };
        groups
            .into_iter()
            .map(|group| {
                let extent = |n: usize| if axis == Axis::Up { cells.column(n) } else { cells.row(n) };
                let at = Extent { low: extent(group.start).low, high: extent(group.end - 1).high };
                SectionLine { axis, at, cell: group.start, steps: steps(cells, axis, group.start) }
            })
            .collect()
    }

    /// The lines of a detail. A body that goes on under a frame turns in at the edge of the opening, where nothing else may end.
    fn of(subject: &Subject) -> Vec<SectionLine> {
        let axis = axis(subject.detail);
        let beds = if axis == Axis::Up { beds(subject.detail) } else { Vec::new() };
        let mut lines = SectionLine::all(&subject.facts.face.cells, axis);
        lines.iter_mut().for_each(|line| beds.iter().for_each(|bed| line.split(bed.at)));
        lines
    }

    fn split(&mut self, at: Coordinate) {
        let within = |step: &Step| step.extent.low < at && at < step.extent.high;
        if let Some(n) = self.steps.iter().position(within) {
            let above = Step { extent: Extent { low: at, ..self.steps[n].extent }, ..self.steps[n].clone() };
            self.steps[n].extent.high = at;
            self.steps.insert(n + 1, above);
        }
    }

    /// The line that shows most: the findings first, then the pieces.
    pub fn principal(subject: &Subject) -> Option<SectionLine> {
        SectionLine::showing(subject, &[])
    }

    /// The same, and of these pieces as many as can be.
    pub fn showing(subject: &Subject, wanted: &[usize]) -> Option<SectionLine> {
        let detail = subject.detail;
        let about: Vec<Vec<usize>> = subject.marks.iter().map(|m| mark::pieces(detail, m.finding)).collect();
        let marked = |line: &SectionLine| about.iter().map(|pieces| line.shown(pieces)).sum::<usize>();
        let lines = SectionLine::of(subject);
        let unit = |piece: &usize| detail.pieces[*piece].material.kind == Some(MaterialKind::Unit);
        // What passes through the wall is cut where the wall has its hole.
        let solid = |piece: &usize| !is_flat(detail.pieces[*piece].material.kind) && !detail.pieces[*piece].inside;
        let hole = |step: &Step| {
            let at = step.stack.iter().position(unit);
            at.is_some_and(|at| !step.stack[..at].iter().any(solid))
        };
        // An opening, or a hole that is cut into a body, is cut where it is widest and through its pan, everything else where most
        // lies, and nothing along a dam at its end. Of equals the first.
        let called = |piece: &usize, role: &str| detail.pieces[*piece].role.as_deref() == Some(role);
        let closed = |extent: Extent| extent.low != OPEN_LOW && extent.high != OPEN_HIGH;
        let cuts = subject.shape.cuts.iter().filter(|cut| solid(&cut.piece) && closed(cut.rect.up));
        let holes: Vec<Extent> = cuts.map(|cut| cut.rect.along).filter(|along| closed(*along)).collect();
        let shows = |line: &SectionLine| {
            let pieces = line.pieces();
            let opening = pieces.iter().any(unit) || line.axis == Axis::Up && holes.iter().any(|h| h.overlaps(line.at));
            let width = if opening { line.at.length().unwrap_or(Coordinate::MAX) } else { 0 };
            let pan = pieces.iter().any(|piece| called(piece, "pan"));
            let end_dam = pieces.iter().any(|piece| called(piece, "end-dam"));
            (opening, pan, !end_dam, line.steps.iter().any(hole), width, pieces.len())
        };
        let asked = |line: &SectionLine| wanted.iter().filter(|piece| line.has(**piece)).count();
        lines.into_iter().rev().max_by_key(|line| (marked(line), asked(line), shows(line)))
    }

    /// The line through a place on the other axis.
    pub fn through(subject: &Subject, place: Coordinate) -> Option<SectionLine> {
        SectionLine::of(subject).into_iter().find(|line| line.at.reaches(place))
    }

    pub fn has(&self, piece: usize) -> bool {
        self.steps.iter().any(|step| step.stack.contains(&piece))
    }

    /// How well the line shows what is said of some pieces: best where two of them meet, else at least one of them.
    fn shown(&self, pieces: &[usize]) -> usize {
        let most = |step: &Step| pieces.iter().filter(|p| step.stack.contains(*p)).count().min(2);
        let together = self.steps.iter().map(most).max().unwrap_or(0);
        if pieces.len() == 1 { 2 * together } else { together }
    }

    /// Every piece on the line, in order of installation.
    pub fn pieces(&self) -> Vec<usize> {
        let mut pieces: Vec<usize> = self.steps.iter().flat_map(|step| step.stack.iter().copied()).collect();
        pieces.sort_unstable();
        pieces.dedup();
        pieces
    }

    /// Runs of neighbouring steps that a piece is in.
    pub fn intervals(&self, piece: usize) -> Vec<std::ops::Range<usize>> {
        let mut intervals: Vec<std::ops::Range<usize>> = Vec::new();
        for (n, _) in self.steps.iter().enumerate().filter(|(_, step)| step.stack.contains(&piece)) {
            match intervals.last_mut() {
                Some(last) if last.end == n => last.end = n + 1,
                _ => intervals.push(n..n + 1),
            }
        }
        intervals
    }

    /// The step that a coordinate lies in; on an edge, the one above it.
    pub fn step_at(&self, at: Coordinate) -> usize {
        self.steps.iter().position(|step| at < step.extent.high).unwrap_or(self.steps.len().saturating_sub(1))
    }
}

fn steps(cells: &Cells, axis: Axis, group: usize) -> Vec<Step> {
    let count = if axis == Axis::Up { cells.rows() } else { cells.columns() };
    let mut steps: Vec<Step> = Vec::with_capacity(count);
    for n in 0..count {
        let (column, row) = if axis == Axis::Up { (group, n) } else { (n, group) };
        let extent = if axis == Axis::Up { cells.row(row) } else { cells.column(column) };
        let whole = cells.whole(column, row);
        let inner = whole.len() - cells.stack(column, row).len();
        let stack: Vec<usize> = whole.iter().map(|piece| *piece as usize).collect();
        match steps.last_mut() {
            Some(last) if last.stack == stack && last.inner == inner => last.extent.high = extent.high,
            _ => steps.push(Step { extent, stack, inner }),
        }
    }
    steps
}
