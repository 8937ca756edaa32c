//! Hatches as families of parallel lines, where lines can tell them; what they cannot is drawn stroke by stroke.

use crate::output::drawing::hatch::{BLOCK, BRICK, Hatch};

/// Parallel lines, in mm of paper unless they are courses, and relative to the direction of a layer.
pub struct Family {
    pub degrees: f64,
    pub apart: f64,
    /// `apart` is in mm of the building: the height of courses.
    pub real: bool,
    /// How far beside the point of origin the first line lies.
    pub off: f64,
    /// How far each line's dashes lie on from those of the one before.
    pub shift: f64,
    /// Strokes, and as negative numbers the gaps between them; a stroke of nothing is a dot. None for whole lines.
    pub dashes: &'static [f64],
}

const fn lines(degrees: f64, apart: f64) -> Family {
    Family { degrees, apart, real: false, off: 0.0, shift: 0.0, dashes: &[] }
}

const fn dashed(degrees: f64, apart: f64, shift: f64, dashes: &'static [f64]) -> Family {
    Family { degrees, apart, real: false, off: 0.0, shift, dashes }
}

const fn courses([high, _]: [f64; 2]) -> Family {
    Family { real: true, ..lines(90.0, high) }
}

const MASONRY: &[Family] = &[lines(45.0, 1.8), courses(BRICK)];
const SINGLE_BRICK: &[Family] = &[lines(45.0, 1.8)];
const BLOCKS: &[Family] = &[lines(45.0, 4.2), Family { off: 0.85, ..lines(45.0, 4.2) }, courses(BLOCK)];
const OTHER: &[Family] = &[lines(135.0, 4.0)];
const RIGID: &[Family] = &[lines(45.0, 2.6), lines(135.0, 2.6)];
const BOARD: &[Family] = &[lines(0.0, 1.1)];
const PLYWOOD: &[Family] = &[lines(0.0, 0.8), lines(45.0, 2.4)];
const GYPSUM: &[Family] = &[dashed(0.0, 1.5, 0.9, &[0.0, -1.8])];
const RENDER: &[Family] = &[dashed(0.0, 1.1, 0.55, &[0.0, -1.1])];
const STONE: &[Family] = &[lines(135.0, 3.2), dashed(0.0, 2.6, 1.3, &[0.0, -2.6])];
const EPS: &[Family] = &[dashed(0.0, 1.9, 0.95, &[0.7, -1.2]), dashed(90.0, 1.9, 0.95, &[0.7, -1.2])];
const CONCRETE: &[Family] = &[
    dashed(20.0, 2.3, 1.1, &[0.0, -2.4]),
    dashed(10.0, 5.5, 3.1, &[1.3, -5.2]),
    dashed(70.0, 5.5, 2.3, &[1.3, -5.2]),
    dashed(130.0, 5.5, 2.7, &[1.3, -5.2]),
];

/// The name of a hatch and its lines; a hatch without lines is solid. Nothing where strokes tell it.
pub fn pattern(hatch: Hatch) -> Option<(&'static str, &'static [Family])> {
    Some(match hatch {
        Hatch::Masonry => ("MASONRY", MASONRY),
        Hatch::Brick => ("BRICK", SINGLE_BRICK),
        Hatch::Block => ("BLOCK", BLOCKS),
        Hatch::Rigid => ("RIGID-INSULATION", RIGID),
        Hatch::Board => ("BOARD", BOARD),
        Hatch::Plywood => ("PLYWOOD", PLYWOOD),
        Hatch::Gypsum => ("GYPSUM", GYPSUM),
        Hatch::Eps => ("BEAD-FOAM", EPS),
        Hatch::Concrete => ("CONCRETE", CONCRETE),
        Hatch::Render => ("RENDER", RENDER),
        Hatch::Stone => ("STONE", STONE),
        Hatch::Other => ("OTHER", OTHER),
        Hatch::Metal => ("SOLID", &[]),
        Hatch::Lumber
        | Hatch::Blocking
        | Hatch::Batt
        | Hatch::Wool
        | Hatch::Slate
        | Hatch::Osb
        | Hatch::Earth
        | Hatch::Gravel
        | Hatch::Air
        | Hatch::Unit => {
            return None;
        }
    })
}
