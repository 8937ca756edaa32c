//! Insulation that stops, and controls that nothing carries on.

use super::{Kind, at};
use crate::seeded::text::Edit::Swap;

pub const KINDS: &[Kind] = &[
    Kind {
        name: "insulation with a gap",
        brings: &["thermal-gap", "wide-thermal-gap", "insulation-stops-short", "insulation-hole"],
        sites: &[
            at("B1", "piece foam", Swap("up to 0 mm", "up to -100 mm")),
            at("B1", "piece wool", Swap("up from 0 mm", "up from 100 mm")),
            at("B2", "piece foam", Swap("up to 0 in", "up to -4 in")),
            at("WR1", "piece wool", Swap("up to 0 mm", "up to -100 mm")),
            at("WR1", "piece roof-wool", Swap("up from 0 mm", "up from 100 mm")),
            at("RW1", "piece roof-wool", Swap("up to 0 mm", "up to -100 mm")),
            at("RW1", "piece wool", Swap("up from 0 mm", "up from 100 mm")),
            at(
                "O1-W1",
                "cut wool",
                Swap("up 0 mm to 1400 mm along 0 mm to 900 mm", "up -100 mm to 1500 mm along -100 mm to 1000 mm"),
            ),
        ],
    },
    Kind {
        name: "vapor retarder that stops short",
        // The bead is left behind, and is reported in place of the break that it leaves.
        brings: &["seal-without-contact"],
        sites: &[
            at("WR1", "piece retarder", Swap("up from -100 mm", "up from 10 mm")),
            at("RW1", "piece retarder", Swap("up to 100 mm", "up to -10 mm")),
        ],
    },
    Kind {
        name: "joint coat that misses one side",
        brings: &["broken-water-control"],
        sites: &[at("F1-E0", "piece joint", Swap("along -150 mm to 150 mm", "along -10 mm to 150 mm"))],
    },
];
