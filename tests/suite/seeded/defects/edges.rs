//! Lengths just under their limits.

use super::{EACH, Kind, at};
use crate::seeded::text::Edit::Swap;

/// A bead that the shortened lap no longer reaches.
const BEAD: &[(&str, &str)] = &[("seal-without-contact", "the bead lies above what is left of the lap")];

pub const KINDS: &[Kind] = &[
    Kind {
        name: "head lap of 149 mm",
        brings: &["short-head-lap"],
        sites: &[
            at("C1", "piece low", Swap("up to 150 mm", "up to 149 mm")),
            at("C1", "piece low", Swap("up to 150 mm", "up to 51 mm")),
            at("P1", "piece low", Swap("up to 250 mm", "up to 239 mm")),
            at("L1", "piece low", Swap("up to 250 mm", "up to 199 mm")),
            at("L1", "piece high", Swap("up from 50 mm", "up from 101 mm"))
                .also(&[("short-flashing-lap", "the cap flashing keeps 49 mm")]),
            at("P1", "piece high", Swap("up from 90 mm", "up from 101 mm"))
                .also(&[("short-flashing-lap", "the tape over the hood keeps 49 mm")]),
            at("O1-W1", "piece low", Swap("up to 1650 mm", "up to 1579 mm")),
            at("WR1", "piece wrap", Swap("up to 150 mm", "up to 99 mm"))
                .harmless("the sheet of the roof is sealed to it"),
            at("RW1", "piece membrane", Swap("up to 250 mm", "up to 199 mm")).harmless("an upturn is lapped by 2 in"),
        ],
    },
    Kind {
        name: "head lap of 49 mm",
        brings: &["head-lap-below-code"],
        sites: &[
            at("C1", "piece low", Swap("up to 150 mm", "up to 49 mm")),
            at("C2", "piece low", Swap("up to 120 mm", "up to 49 mm"))
                .also(&[("idle-waiver", "its waiver is for laps from 50 mm up")]),
            at("WR1", "piece wrap", Swap("up to 150 mm", "up to -1 mm")),
            at("P1", "piece low", Swap("up to 250 mm", "up to 139 mm")).also(BEAD),
            at("RW1", "piece membrane", Swap("up to 250 mm", "up to 99 mm")).also(BEAD),
            at("L1", "piece low", Swap("up to 250 mm", "up to 99 mm")).also(BEAD),
        ],
    },
    Kind {
        name: "laps at their limits",
        brings: &[],
        sites: &[
            at("L1", "piece low", Swap("up to 250 mm", "up to 200 mm"))
                .harmless("150 mm are enough, and the bead is at its edge"),
            at("P1", "piece low", Swap("up to 250 mm", "up to 240 mm")).harmless("150 mm are enough"),
            at("WR1", "piece wrap", Swap("up to 150 mm", "up to 100 mm")).harmless("150 mm are enough"),
            at("RW1", "piece step", Swap("to 150 mm", "to 100 mm")).harmless("50 mm behind the wrap are enough"),
            at("V1", "piece edge", Swap("to 100 mm", "to 61 mm")).harmless("51 mm up the deck are enough"),
            at("G1-F1", "piece cover-1", Swap("along to 300 mm", "along to 150 mm")).harmless("150 mm are enough"),
            at("K1", "piece left", Swap("along to 300 mm", "along to 180 mm"))
                .harmless("180 mm past the corner; its seam is taped"),
            at("B1", "grade", Swap("up -230 mm", "up -190 mm")).harmless("150 mm below the boards are enough"),
            at("B2", "grade", Swap("up -8 in", "up -4 in")).harmless("4 in below a veneer are enough"),
            at("B2", "weeps", Swap("24 in", "33 in")).harmless("33 in are the most, and allowed"),
            at("O1-W1", "piece pan", Swap("slope 6 deg", "slope 4 deg")).harmless("steeper than 6 in 100"),
        ],
    },
    Kind {
        name: "wrap 24 mm over the foundation",
        brings: &["foundation-lap-short"],
        sites: &[
            at("A1", "piece wrap", Swap("up from -25 mm", "up from -24 mm"))
                .harmless("the strip that sticks to the foundation carries the joint"),
            at("B1", "piece wrap", Swap("up from -25 mm", "up from -24 mm"))
                .harmless("the strip that sticks to the foundation carries the joint"),
        ],
    },
    Kind {
        name: "sheet 49 mm over a flashing",
        brings: &["short-flashing-lap"],
        sites: &[
            at("RW1", "piece step", Swap("up -110 mm to 150 mm", "up -110 mm to 99 mm"))
                .also(&[("short-step-flashing", "the leg up the wall is then 1 mm short of what side walls are due")]),
            at("RW1", "piece kick", Swap("up -150 mm to 150 mm", "up -150 mm to 99 mm")),
            at("O1-W1", "piece head", Swap("to 1510 mm", "to 1479 mm")),
            at("L1", "piece cap", Swap("to 150 mm", "to 99 mm")),
            // Over the tape at the head of a pipe or a hood 38 mm do.
            at("P1", "piece top", Swap("to 150 mm", "to 127 mm")),
            at("B1", "piece strip", Swap("to 75 mm", "to 24 mm"))
                .also(&[("narrow-bond", "24 mm of the plywood are left to the tape")]),
        ],
    },
    Kind {
        name: "vertical seam of 149 mm that its tape misses",
        brings: &["short-side-lap"],
        sites: &[at("K1", "piece right", Swap("along from 100 mm", "along from 151 mm")).also(&[
            ("bond-without-contact", "the tape at 60 to 140 mm no longer reaches it"),
            ("unsealed-seam", "and so nothing seals the lap"),
        ])],
    },
    Kind {
        name: "corner turned by 149 mm",
        brings: &["corner-lap-short"],
        sites: &[at("K1", "piece left", Swap("along to 300 mm", "along to 149 mm"))
            .also(&[("short-taped-lap", "49 mm of the taped lap are left")])],
    },
    Kind {
        name: "drip edge too short up the roof",
        brings: &["short-drip-edge"],
        sites: &[at("V1", "piece edge", Swap("to 100 mm", "to 60 mm"))],
    },
    Kind {
        name: "step flashing of 200 mm",
        brings: &["short-step-flashing"],
        sites: &[at("RW1", "piece step", Swap("up -110 mm to 150 mm", "up -50 mm to 150 mm"))],
    },
    Kind {
        name: "ground cover lapped by 149 mm",
        brings: &["ground-cover-lap"],
        sites: &[
            at("G1-F1", "piece cover-1", Swap("along to 300 mm", "along to 149 mm")),
            at("G1-F1", "piece cover-2", Swap("along from 0 mm", "along from 151 mm")).also(&[
                ("bond-without-contact", "the tape at -50 to 50 mm no longer reaches it"),
                ("seal-without-contact", "nor does the bead at 20 mm"),
            ]),
        ],
    },
    Kind {
        name: "ground cover without a lap",
        brings: &["ground-cover-butt"],
        sites: &[
            at("G1-F1", "piece cover-1", Swap("along to 300 mm", "along to 0 mm")),
            at("G1-F1", "piece cover-2", Swap("along from 0 mm", "along from 300 mm")).also(&[
                ("bond-without-contact", "the tape at -50 to 50 mm no longer reaches it"),
                ("seal-without-contact", "nor does the bead at 20 mm"),
            ]),
        ],
    },
    Kind {
        name: "ground cover turned up by 149 mm",
        // The other sheet still runs 200 mm up, and does not lie where this one goes on alone.
        brings: &["ground-cover-turn-up"],
        sites: &[
            at("G1-F1", "piece cover-1", Swap("up to 200 mm", "up to 149 mm")).also(ABOVE),
            at("G1-F1", "piece cover-2", Swap("up to 200 mm", "up to 149 mm")).also(ABOVE),
            at("G1-F1", "piece cover-1", Swap("up to 200 mm", "up to -1 mm")).also(LOOSE),
        ],
    },
    Kind {
        name: "boards too near the ground",
        brings: &["clearance-to-grade"],
        sites: &[
            at("B1", "grade", Swap("up -230 mm", "up -189 mm")),
            at("B1", "piece boards", Swap("up from -40 mm", "up from -81 mm")),
            at("A1", "grade", Swap("up -200 mm", "up -149 mm")),
        ],
    },
    Kind {
        name: "veneer too near the ground",
        brings: &["masonry-clearance"],
        sites: &[at("B2", "grade", Swap("up -8 in", "up -3-1/2 in"))],
    },
    Kind {
        name: "weeps under the ground",
        brings: &["buried-weeps"],
        sites: &[at("B2", "grade", Swap("up -8 in", "up 1 in"))
            .also(&[("cladding-below-grade", "and the veneer stands in the ground")])],
    },
    Kind {
        name: "boards under the ground",
        brings: &["cladding-below-grade"],
        sites: &[at("B1", "piece boards", Swap("up from -40 mm", "up from -250 mm"))],
    },
    Kind {
        name: "coat an inch over its flashing",
        brings: &["short-coat-lap"],
        sites: &[at("B2", "piece coat", Swap("up from 4 in", "up from 7 in"))],
    },
    Kind {
        name: "through-wall flashing 5 in up the wall",
        brings: &["short-veneer-upturn"],
        sites: &[at("B2", "piece through", Swap("to 8 in", "to 5 in"))
            .also(&[("short-coat-lap", "the coat that laps the flashing keeps an inch of it")])],
    },
    Kind { name: "weeps 34 in apart", brings: &["weep-spacing"], sites: &[at("B2", "weeps", Swap("24 in", "34 in"))] },
    Kind {
        name: "weeps a course above the flashing",
        brings: &["high-weeps"],
        sites: &[
            at("B2", "weeps", Swap("up 0 in", "up 3 in")),
            at("B2", "weeps", Swap("up 0 in", "up 1 in")).harmless("a bed joint above the flashing is right above it"),
        ],
    },
    Kind {
        name: "left in the sun for a year",
        brings: &["uv-overrun"],
        sites: &[
            at(EACH, "exposed", Swap("60 days", "365 days")),
            at(EACH, "exposed", Swap("45 days", "365 days")),
            at(EACH, "exposed", Swap("30 days", "365 days")),
        ],
    },
    Kind {
        name: "one day too long in the sun",
        brings: &["uv-overrun"],
        // The wraps, the membrane and the butyl flashing stand 120 days; the acrylic tape and the coat of K3 stand 180.
        sites: &[
            at("A1", "exposed", Swap("60 days", "121 days")),
            at("C1", "exposed", Swap("60 days", "121 days")),
            at("B2", "exposed", Swap("30 days", "121 days")),
            at("V1", "exposed", Swap("45 days", "121 days")),
            at("K3", "exposed", Swap("30 days", "181 days")),
            at("C1", "exposed", Swap("60 days", "120 days")).harmless("the wrap stands 120 days"),
            at("K3", "exposed", Swap("30 days", "180 days")).harmless("its coat stands 180 days and covers the rest"),
        ],
    },
    Kind {
        name: "pan with little slope",
        brings: &["flat-sill"],
        sites: &[at("O1-W1", "piece pan", Swap("slope 6 deg", "slope 3 deg"))],
    },
    Kind {
        name: "pan without slope",
        brings: &["level-sill"],
        sites: &[
            at("O1-W1", "piece pan", Swap("slope 6 deg", "slope 0 deg")),
            at("O1-W1", "piece pan", Swap("slope 6 deg", "")),
        ],
    },
];

const ABOVE: &[(&str, &str)] = &[("seal-without-contact", "the bead is left above the edge")];

const LOOSE: &[(&str, &str)] = &[ABOVE[0], ("unsealed-edge", "it lies loose on the ground")];
