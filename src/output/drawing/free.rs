//! Room on a drawing that is not yet taken by words and leaders.

use crate::output::drawing::dimension::Placed;
use crate::output::drawing::scene::{Area, Point, Role, Shape};

/// What later words keep clear of.
#[derive(Clone)]
pub struct Free {
    leaders: Vec<[Point; 2]>,
    words: Vec<Area>,
}

/// Where the number of a dimension may stand along its line, the best first.
const PARTS: [f64; 7] = [0.5, 0.38, 0.62, 0.28, 0.72, 0.18, 0.82];

impl Free {
    /// Leaders and words of shapes.
    pub fn of(shapes: &[Shape]) -> Free {
        let mut free = Free { leaders: Vec::new(), words: Vec::new() };
        for shape in shapes {
            free.words.extend(words(shape));
            shape.each(&mut |shape| {
                if let Shape::Group {
                    role: Role::Label(_) | Role::BeadName | Role::Remark | Role::Anchor(_),
                    shapes,
                    ..
                } = shape
                    && let Some(Shape::Path { runs, .. }) = shapes.first()
                {
                    free.leaders.extend(runs.iter().flat_map(|run| run.windows(2)).map(|pair| [pair[0], pair[1]]));
                }
            });
        }
        free
    }

    /// No leader runs through it and no words lie in it.
    pub fn has(&self, area: Area) -> bool {
        self.leaders.iter().all(|[a, b]| !area.meets(*a, *b)) && self.words.iter().all(|other| !other.overlaps(area))
    }

    pub fn take(&mut self, area: Area) {
        self.words.push(area);
    }

    /// A dimension moved by so much, its number where no leader runs through it and nothing else lies, if there is such a place; nothing
    /// where it would lie on other words.
    pub fn dimension(&mut self, placed: &Placed, [dx, dy]: [f64; 2], other: Option<Area>) -> Option<Shape> {
        let room = |part: f64| {
            let area = placed.draw(part).0;
            Area::new(area.left + dx, area.top + dy, area.right + dx, area.bottom + dy)
        };
        let clear = |part: &f64| self.has(room(*part)) && other.is_none_or(|other| !other.overlaps(room(*part)));
        let legible = |part: &f64| self.words.iter().all(|words| !words.overlaps(room(*part)));
        let first = |fits: &dyn Fn(&f64) -> bool| PARTS.into_iter().find(|part| fits(part));
        let part = first(&clear).or_else(|| first(&|part| self.has(room(*part)))).or_else(|| first(&legible))?;
        let (taken, shape) = (room(part), placed.draw(part).1);
        self.take(taken);
        Some(shape.moved(dx, dy))
    }
}

/// The words within a shape.
fn words(shape: &Shape) -> Vec<Area> {
    let mut found = Vec::new();
    shape.each(&mut |shape| found.extend(shape.room()));
    found
}
