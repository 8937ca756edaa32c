//! Hatches of cut materials.
//!
//! Material indications as drafting practice in North America has them (practice): concrete stippled with small
//! triangles, bricks at 45 degrees and blocks in pairs of such lines, each with their bed joints, continuous lumber crossed and blocking with one diagonal, boards
//! lined along their length, plywood in plies, panels of strands as short flakes, gypsum dotted, render finely dotted, batts as loops, wool boards as fibers, extruded foam cross-hatched and expanded in
//! beads, gravel in stones, earth in groups of strokes. They are drawn as plain lines, since patterns print unevenly from
//! many programs.

mod lines;
mod material;

pub use material::{hatch_of, insulates};

use crate::output::drawing::paper::{BEYOND, HATCH};
use crate::output::drawing::scene::{Area, Ink, Pen, Shape};
use lines::{
    beads, courses, crosses, dots, fibres, flakes, grain, lapped, loops, paired, slanted, stones, strokes, triangles,
};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hatch {
    Concrete,
    Masonry,
    /// A brick by itself.
    Brick,
    Block,
    Lumber,
    Blocking,
    Board,
    Plywood,
    Osb,
    Gypsum,
    Batt,
    Rigid,
    Eps,
    Wool,
    Render,
    Stone,
    Earth,
    Gravel,
    Slate,
    Metal,
    Air,
    /// A factory-made unit: empty, with a rim.
    Unit,
    Other,
}

/// The direction in which a layer runs on the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Runs {
    Upright,
    Level,
}

/// Metal that is thicker on paper is hatched and not filled.
const PLATE: f64 = 1.8;

/// The height of a course of bricks and of one of blocks with its joint, and their lengths, mm of the building (practice: modular brick of
/// 2-2/3 in and 8 in, block of 8 in and 16 in; bricks of other countries differ by a few mm).
pub const BRICK: [f64; 2] = [68.0, 203.0];
pub const BLOCK: [f64; 2] = [203.0, 406.0];

/// The lines that fill an area, in mm of paper, of which each is so many mm of the building.
pub fn hatch(area: Area, hatch: Hatch, runs: Runs, scale: f64) -> Vec<Shape> {
    let hair = Pen::solid(HATCH, Ink::Dark);
    match hatch {
        Hatch::Air | Hatch::Unit => Vec::new(),
        Hatch::Masonry => {
            vec![Shape::lines(slanted(area, 1.8, 1.0), hair), Shape::lines(courses(area, runs, BRICK[0] / scale), hair)]
        }
        Hatch::Brick => vec![Shape::lines(slanted(area, 1.8, 1.0), hair)],
        // In pairs: crossed lines are those of foam, which often lies on block.
        Hatch::Block => {
            vec![Shape::lines(paired(area, 4.2, 1.2), hair), Shape::lines(courses(area, runs, BLOCK[0] / scale), hair)]
        }
        Hatch::Other => vec![Shape::lines(slanted(area, 4.0, -1.0), hair)],
        Hatch::Rigid => {
            let mut lines = slanted(area, 2.6, 1.0);
            lines.extend(slanted(area, 2.6, -1.0));
            vec![Shape::lines(lines, hair)]
        }
        Hatch::Metal if area.width().min(area.height()) < PLATE => {
            vec![Shape::polygon(area.corners(), None, Some(Ink::Dark))]
        }
        Hatch::Metal => vec![Shape::lines(paired(area, 2.4, 0.8), hair)],
        Hatch::Slate => vec![Shape::lines(lapped(area, runs), hair)],
        Hatch::Board => vec![Shape::lines(grain(area, runs, 1.1), hair)],
        Hatch::Plywood => {
            let mut shapes = vec![Shape::lines(grain(area, runs, 0.8), hair)];
            shapes.push(Shape::lines(slanted(area, 2.4, 1.0), hair));
            shapes
        }
        Hatch::Osb => vec![Shape::lines(flakes(area, runs), hair)],
        Hatch::Lumber => vec![Shape::lines(crosses(area, runs, true), Pen::solid(BEYOND, Ink::Dark))],
        Hatch::Blocking => vec![Shape::lines(crosses(area, runs, false), Pen::solid(BEYOND, Ink::Dark))],
        Hatch::Batt => vec![Shape::line(loops(area, runs), hair)],
        Hatch::Gypsum => dots(area, 1.7, 0.16),
        Hatch::Eps => beads(area),
        Hatch::Wool => vec![Shape::lines(fibres(area, runs), hair)],
        Hatch::Render => dots(area, 1.1, 0.13),
        Hatch::Stone => {
            let mut shapes = vec![Shape::lines(slanted(area, 3.2, -1.0), hair)];
            shapes.extend(dots(area, 2.6, 0.15));
            shapes
        }
        Hatch::Concrete => {
            let mut shapes = dots(area, 2.3, 0.17);
            shapes.extend(triangles(area));
            shapes
        }
        Hatch::Gravel => stones(area),
        Hatch::Earth => vec![Shape::lines(strokes(area), Pen::solid(BEYOND, Ink::Dark))],
    }
}

#[cfg(test)]
mod tests {
    use super::{Hatch, Runs, hatch};
    use crate::output::drawing::scene::{Area, Point, Shape};

    /// Who knows the indications distinguishes what carries from what insulates, and panels from boards.
    #[test]
    fn materials_that_meet_have_hatches_of_their_own() {
        use Hatch::{Block, Board, Concrete, Masonry, Metal, Osb, Plywood, Rigid, Slate, Stone};
        let area = Area::new(0.0, 0.0, 20.0, 60.0);
        let kinds = [Block, Board, Concrete, Masonry, Metal, Osb, Plywood, Rigid, Slate, Stone];
        let drawn = kinds.map(|kind| hatch(area, kind, Runs::Upright, 5.0));
        for n in 0..kinds.len() {
            for m in 0..n {
                assert!(drawn[n][0] != drawn[m][0], "{:?} {:?}", kinds[n], kinds[m]);
            }
        }
    }

    #[test]
    fn no_line_leaves_its_area() {
        use Hatch::{
            Batt, Block, Blocking, Board, Brick, Concrete, Earth, Eps, Gravel, Gypsum, Lumber, Masonry, Metal, Osb,
            Other, Plywood, Render, Rigid, Slate, Stone, Wool,
        };
        let area = Area::new(-3.0, 2.0, 9.5, 41.0);
        for kind in [
            Concrete, Masonry, Brick, Block, Lumber, Blocking, Board, Plywood, Gypsum, Batt, Rigid, Eps, Earth, Gravel,
            Slate, Metal, Other, Render, Stone, Wool, Osb,
        ] {
            for runs in [Runs::Upright, Runs::Level] {
                let shapes = hatch(area, kind, runs, 5.0);
                assert!(!shapes.is_empty(), "{kind:?}");
                for shape in &shapes {
                    let points: Vec<Point> = match shape {
                        Shape::Path { runs, .. } => runs.concat(),
                        Shape::Circle { center, .. } => vec![*center],
                        _ => panic!("a hatch is lines and dots"),
                    };
                    let grown = Area::new(area.left - 1e-6, area.top - 1e-6, area.right + 1e-6, area.bottom + 1e-6);
                    assert!(points.iter().all(|p| grown.contains(*p)), "{kind:?} {points:?}");
                }
            }
        }
    }
}
