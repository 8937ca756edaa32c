//! The paper that a dimension takes.

use crate::output::drawing::dimension::Placed;
use crate::output::drawing::note;
use crate::output::drawing::scene::{Area, Point, Shape};

/// What a dimension takes of the paper: its words, its own line, and the two lines that lead to that.
pub(super) struct Room {
    words: Area,
    line: [Point; 2],
    leads: Vec<[Point; 2]>,
}

/// Two lines of dimensions beside each other are at least so far apart: practice in drafting is 7 mm, and 1/4 in. at the least, so that a
/// number of 2.5 to 3.5 mm stands between them with as much free paper about it.
pub(super) const BETWEEN: f64 = 7.0;

impl Room {
    pub(super) fn new(placed: &Placed) -> Room {
        let (words, shape) = placed.draw(0.5);
        let mut lines = Vec::new();
        shape.each(&mut |shape| {
            if let (Shape::Path { runs, closed: false, .. }, true) = (shape, lines.is_empty()) {
                lines = runs.iter().map(|run| [run[0], run[run.len() - 1]]).collect();
            }
        });
        let line = lines.pop().unwrap_or([words.center(), words.center()]);
        Room { words, line, leads: lines }
    }

    /// Words lie on nothing, and no line crosses that of another. One may stand outside of another, and share an end with it.
    pub(super) fn overlaps(&self, other: &Room) -> bool {
        let crossed = |line: [Point; 2], room: &Room| room.lines().any(|own| note::cross(line, own));
        self.hides(other) || crossed(self.line, other) || crossed(other.line, self)
    }

    /// Words lie on nothing, and lines do not run along each other; they may cross.
    pub(super) fn hides(&self, other: &Room) -> bool {
        let struck = |words: Area, room: &Room| room.lines().any(|[a, b]| words.meets(a, b));
        self.words.overlaps(other.words) || struck(self.words, other) || struck(other.words, self) || self.beside(other)
    }

    fn lines(&self) -> impl Iterator<Item = [Point; 2]> + '_ {
        self.leads.iter().copied().chain([self.line])
    }

    /// Their lines run along each other, too close to be two.
    fn beside(&self, other: &Room) -> bool {
        let [a, b] = self.line;
        let long = (b.x - a.x).hypot(b.y - a.y).max(1e-9);
        let d = Point::new((b.x - a.x) / long, (b.y - a.y) / long);
        let local = other.line.map(|p| {
            let (x, y) = (p.x - a.x, p.y - a.y);
            (x * d.x + y * d.y, (y * d.x - x * d.y).abs())
        });
        let along = local[0].0.min(local[1].0) < long - 1e-6 && local[0].0.max(local[1].0) > 1e-6;
        along && local.iter().all(|(_, off)| *off < BETWEEN)
    }
}
