//! Sizes and weights on paper, mm: one list for every drawing (ISO 128-2 line series, ISO 3098-1 letters, ISO 216 sheets).

use crate::output::drawing::scene::{Dash, Ink, Pen};

/// Heights of letters.
pub const TITLE: f64 = 3.5;
pub const WORDS: f64 = 2.5;
/// Small enough for a chart, and large enough for a screen: 11 px where a millimeter is 3.78.
pub const SMALL: f64 = 2.1;

/// Distance of two lines of words.
pub const LINE: f64 = 4.2;

/// Lines: what is cut, membranes, what lies beyond, leaders and dimensions, hatches, finished ground.
pub const CUT: f64 = 0.5;
pub const MEMBRANE: f64 = 0.7;
pub const BEYOND: f64 = 0.25;
pub const LEADER: f64 = 0.18;
pub const HATCH: f64 = 0.13;
pub const GRADE: f64 = 1.0;

/// A line of medium weight, for what is drawn by itself: charts, marks, fasteners.
pub const MEDIUM: f64 = 0.35;

/// Water: the line, the white around it, its arrowheads and their distance.
pub const WATER: f64 = 0.7;
pub const CASING: f64 = 1.4;
pub const ARROW: f64 = 2.5;
pub const ARROWS: f64 = 30.0;

/// The ring where water goes wrong.
pub const RING: f64 = 4.0;

/// Distance of one membrane to the next: drawn true, they would be one line.
pub const SPREAD: f64 = 1.5;

/// The circle of an enlargement.
pub const CIRCLE: f64 = 50.0;

/// Finished ground is hatched so deep.
pub const EARTH: f64 = 10.0;

/// Lengths of the dashes and gaps of a line (ISO 128-2, table 2, shortened: details have short edges), in widths of its pen.
pub fn dashes(dash: Dash) -> &'static [f64] {
    match dash {
        Dash::Solid => &[],
        Dash::Dashed => &[6.0, 3.0],
        Dash::Chain => &[16.0, 3.0, 1.0, 3.0],
        Dash::Dotted => &[1.0, 2.5],
        Dash::Wet => &[3.0 / WATER, 1.5 / WATER],
    }
}

pub const LEAD: Pen = Pen { width: LEADER, ink: Ink::Dark, dash: Dash::Solid };
pub const FOLD: Pen = Pen { width: LEADER, ink: Ink::Dark, dash: Dash::Chain };
