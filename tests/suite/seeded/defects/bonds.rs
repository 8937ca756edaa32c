//! Tapes and beads: not rolled, not primed, on the wrong surface, in the cold, in the wrong place.

use super::{EACH, Kind, at};
use crate::seeded::text::Edit::{Drop, Swap, Then};

pub const KINDS: &[Kind] = &[
    Kind { name: "tape not rolled", brings: &["not-rolled"], sites: &[at(EACH, "piece", Swap("rolled", ""))] },
    Kind {
        name: "surface not primed",
        brings: &["needs-primer"],
        sites: &[
            at(EACH, "piece", Swap("primed", "")),
            at("F1-E0", "piece joint", Swap("primed", "")).brings(&["unprimed-coat"]),
        ],
    },
    Kind {
        name: "sill plate of plain spruce",
        brings: &["untreated-sill-plate"],
        sites: &[at(EACH, "piece plate", Swap("treated-wood", "spruce"))],
    },
    Kind {
        name: "silicone on polyolefin",
        brings: &["incompatible-seal"],
        // Every butyl bead of the library touches a wrap, a membrane or a ground cover, and all of these are polyolefin.
        sites: &[at(EACH, "seal", Swap("butyl-bead", "silicone-sealant"))],
    },
    Kind {
        name: "silicone strip for a tape on polyolefin",
        brings: &["incompatible-bond"],
        sites: &[
            at("C1", "piece band", Swap("acrylic-tape", "silicone-strip")),
            at("C2", "piece band", Swap("acrylic-tape", "silicone-strip")),
            at("K1", "piece band", Swap("acrylic-tape", "silicone-strip")),
            at("G1-F1", "piece seam", Swap("acrylic-tape", "silicone-strip")),
            at("P1", "piece apron", Swap("flash-tape", "silicone-strip")),
            at("P1", "piece side-l", Swap("flash-tape", "silicone-strip")),
            at("P1", "piece side-r", Swap("flash-tape", "silicone-strip")),
            at("P1", "piece top", Swap("flash-tape", "silicone-strip")),
            at("O1-W1", "piece jamb-l", Swap("flash-tape", "silicone-strip")),
            at("O1-W1", "piece jamb-r", Swap("flash-tape", "silicone-strip")),
            at("O1-W1", "piece top", Swap("flash-tape", "silicone-strip")),
        ],
    },
    Kind {
        name: "tape in the cold",
        brings: &["cold-application"],
        sites: &[
            at("A1", "sheet", Then("  installed-at -20 C")),
            at("C1", "sheet", Then("  installed-at -20 C")),
            at("K1", "sheet", Then("  installed-at -20 C")),
            at("K3", "sheet", Then("  installed-at -20 C")),
            at("B2", "sheet", Then("  installed-at -20 C")),
            at("F1-E0", "sheet", Then("  installed-at -20 C")),
            at("B1", "sheet", Then("  installed-at -20 C")).also(&[("cold-sealing", "its butyl bead as well")]),
            at("G1-F1", "sheet", Then("  installed-at -20 C")).also(&[("cold-sealing", "its butyl beads as well")]),
            at("P1", "sheet", Then("  installed-at -20 C")).also(&[("cold-sealing", "its butyl bead as well")]),
            at("O1-W1", "sheet", Then("  installed-at -20 C")).also(&[("cold-sealing", "its beads as well")]),
        ],
    },
    Kind {
        name: "bead in the cold",
        brings: &["cold-sealing"],
        sites: &[
            at("X1", "sheet", Then("  installed-at -20 C")),
            at("V1", "sheet", Then("  installed-at -20 C")),
            at("K2", "sheet", Then("  installed-at -20 C")),
            at("WR1", "sheet", Then("  installed-at -20 C")),
            at("RW1", "sheet", Then("  installed-at -20 C")),
            at("L1", "sheet", Then("  installed-at -20 C")),
            // -7 C is too cold for butyl (-5 C), and not for the acrylic of the tape (-10 C).
            at("G1-F1", "sheet", Then("  installed-at -7 C")),
            at("B1", "sheet", Then("  installed-at -7 C")).also(&[("cold-application", "its tape is butyl")]),
        ],
    },
    Kind {
        name: "cool day",
        brings: &[],
        sites: &[
            at("B1", "sheet", Then("  installed-at 5 C")).harmless("all of it may be applied from 0 C up"),
            at("O1-W1", "sheet", Then("  installed-at 5 C")).harmless("all of it may be applied from 0 C up"),
        ],
    },
    Kind {
        name: "tape that misses one side",
        brings: &["bond-without-contact"],
        sites: &[
            at("C1", "piece band", Swap("up -40 mm to 40 mm", "up -90 mm to -10 mm")).also(OPEN_SEAM),
            at("C2", "piece band", Swap("up -40 mm to 40 mm", "up -90 mm to -10 mm")).also(OPEN_SEAM),
            at("K1", "piece band", Swap("along 60 mm to 140 mm", "along 10 mm to 90 mm")).also(OPEN_SEAM),
            at("G1-F1", "piece seam", Swap("along -50 mm to 50 mm", "along 10 mm to 110 mm")),
            at("A1", "piece strip", Swap("up -75 mm to 75 mm", "up -75 mm to -5 mm")).also(&[
                ("unsealed-transition", "the tape no longer reaches the plywood, which is the air layer"),
                ("short-flashing-lap", "20 mm of wrap are left over the tape"),
            ]),
            at("B1", "piece strip", Swap("up -75 mm to 75 mm", "up -75 mm to -5 mm"))
                .also(&[("short-flashing-lap", "20 mm of wrap are left over the tape")]),
        ],
    },
    Kind {
        name: "tape or flashing that stops half way",
        brings: &["interrupted-transition"],
        sites: &[
            at("A1", "piece strip", Swap("up -75 mm to 75 mm", "up -75 mm to 75 mm along to 0 mm")),
            at("B1", "piece strip", Swap("up -75 mm to 75 mm", "up -75 mm to 75 mm along to 0 mm")),
            at("X1", "piece corner", Swap("along -100 mm to 100 mm", "along -100 mm to 100 mm up to 1500 mm"))
                .also(&[("reverse-lap", "the top of the flashing then stands in the way of what runs down the brick")]),
            at("F1-E0", "piece joint", Swap("along -150 mm to 150 mm", "along -150 mm to 150 mm up to 500 mm")),
            at("B2", "piece through", Swap("bonds stem, board", "along to 0 in bonds stem, board")).also(&[
                ("open-joint", "where there is no flashing the boards end on the stem"),
                ("bare-substrate", "below the coat nothing covers the boards"),
                ("missing-through-wall-flashing", "and the veneer stands on none"),
            ]),
        ],
    },
    Kind {
        name: "tape with a narrow hold",
        brings: &["narrow-bond"],
        sites: &[
            at("C1", "piece band", Swap("up -40 mm to 40 mm", "up -24 mm to 40 mm")),
            at("C1", "piece band", Swap("up -40 mm to 40 mm", "up -40 mm to 24 mm")),
            at("C2", "piece band", Swap("up -40 mm to 40 mm", "up -24 mm to 40 mm")),
            at("K1", "piece band", Swap("along 60 mm to 140 mm", "along 76 mm to 140 mm")),
            at("K1", "piece band", Swap("along 60 mm to 140 mm", "along 60 mm to 124 mm")),
            at("A1", "piece strip", Swap("up -75 mm to 75 mm", "up -24 mm to 75 mm")),
            at("B1", "piece strip", Swap("up -75 mm to 75 mm", "up -24 mm to 75 mm")),
            at("A1", "piece strip", Swap("up -75 mm to 75 mm", "up -75 mm to 24 mm"))
                .also(&[("short-flashing-lap", "49 mm of wrap are left over the tape")]),
            at("K3", "piece strip", Swap("along -2 in to 2 in", "along -0.9 in to 2 in")),
        ],
    },
    Kind {
        name: "bead moved out of the lap",
        brings: &["seal-without-contact"],
        sites: &[
            at("B1", "seal wrap to strip", Swap("up -15 mm", "up -200 mm")).also(OPEN_EDGE),
            at("O1-W1", "seal flap to low", Swap("up 1600 mm", "up 1800 mm")),
            at("P1", "seal high to low", Swap("up 200 mm", "up 400 mm")),
            at("L1", "seal high to low", Swap("up 200 mm", "up 400 mm")),
            at("V1", "seal membrane to edge", Swap("up 40 mm", "up 400 mm")).also(OPEN_EDGE),
            at("WR1", "seal membrane to wrap", Swap("up -20 mm", "up -200 mm")).also(OPEN_EDGE),
            at("WR1", "seal retarder to kraft", Swap("up -50 mm", "up -500 mm")),
            at("RW1", "seal wrap to membrane", Swap("up 200 mm", "up 400 mm")),
            at("X1", "seal wrap to corner", Swap("along -30 mm", "along 300 mm")),
            at("X1", "seal corner to brick", Swap("along -80 mm", "along -300 mm")),
        ],
    },
    Kind {
        name: "bead across the foot of the unit",
        brings: &["sill-bead-blocks-pan"],
        sites: &[
            at("O1-W1", "seal unit to pan", Swap("up 30 mm", "up -15 mm")),
            at("O1-W1", "seal unit to pan", Swap("up 30 mm", "")),
        ],
    },
    Kind {
        name: "tape across the foot of the unit",
        brings: &["sill-tape-blocks-pan"],
        sites: &[at(
            "O1-W1",
            "piece unit",
            Then("piece low-tape flash-tape up -100 mm to 10 mm along -100 mm to 1000 mm bonds unit, low rolled"),
        )],
    },
    Kind {
        name: "bead left out",
        brings: &["unsealed-transition"],
        sites: &[
            at("B1", "seal plate to stem", Drop)
                .harmless("the tape makes the joint airtight; the gasket is a second line"),
            at("B1", "seal wrap to strip", Drop),
            at("G1-F1", "seal cover-1 to stem", Drop).brings(&["ground-cover-open"]).also(LOOSE),
            at("G1-F1", "seal cover-2 to stem", Drop).brings(&["ground-cover-open"]).also(LOOSE),
            at("G1-F1", "seal cover-2 to cover-1", Drop).harmless("the tape closes the same joint"),
            at("X1", "seal corner to brick", Drop)
                .also(&[("corner-lap-short", "the flashing over the fold is then sealed on one side only")]),
            at("X1", "seal wrap to corner", Drop)
                .also(&[("corner-lap-short", "the flashing over the fold is then sealed on one side only")]),
            at("O1-W1", "seal unit to pan", Drop).brings(&["unsealed-sill"]),
            at("O1-W1", "seal flap to low", Drop).brings(&["unsealed-seam"]),
            at("V1", "seal membrane to edge", Drop).brings(&["unsealed-edge"]),
            at("K2", "seal edge to membrane", Drop)
                .harmless("the drip edge laps the membrane; rain and air do not go that way"),
            at("WR1", "seal membrane to wrap", Drop),
            at("WR1", "seal retarder to kraft", Drop).brings(&["broken-vapor-control"]),
            at("RW1", "seal wrap to kick", Drop).harmless("the bead to the membrane behind it is the air seal"),
            at("RW1", "seal wrap to step", Drop).harmless("the bead to the membrane behind it is the air seal"),
            at("RW1", "seal wrap to membrane", Drop),
            at("RW1", "seal retarder to kraft", Drop).brings(&["broken-vapor-control"]),
            at("P1", "seal high to low", Drop).brings(&["unsealed-seam"]),
            at("L1", "seal high to low", Drop).brings(&["unsealed-seam"]),
        ],
    },
    Kind {
        name: "bond left out",
        brings: &["unsealed-transition"],
        sites: &[
            at("A1", "piece strip", Swap("bonds stem, deck", "bonds deck")),
            at("A1", "piece strip", Swap("bonds stem, deck", "bonds stem")),
            at("A1", "piece strip", Swap("bonds stem, deck", "")).also(STUCK_TO_NOTHING),
            at("B1", "piece strip", Swap("bonds stem, deck", "bonds deck")),
            at("B1", "piece strip", Swap("bonds stem, deck", "bonds stem"))
                .harmless("the wrap is the air layer, and it is sealed to the tape, which holds the stem"),
            at("B1", "piece strip", Swap("bonds stem, deck", "")),
            at("B2", "piece through", Swap("bonds stem, board", "bonds board")),
            at("B2", "piece through", Swap("bonds stem, board", "bonds stem"))
                .harmless("the coat holds it to the board"),
            at("B2", "piece through", Swap("bonds stem, board", "")).also(STUCK_TO_NOTHING),
            at("K3", "piece strip", Swap("bonds board-l, board-r", "bonds board-l"))
                .harmless("the coat runs over both boards and holds all it touches"),
            at("C1", "piece band", Swap("bonds low, high", "bonds low")).brings(&["unsealed-seam"]).also(GAPING),
            at("C1", "piece band", Swap("bonds low, high", "bonds high")).brings(&["unsealed-seam"]),
            at("C2", "piece band", Swap("bonds low, high", "bonds low")).brings(&["unsealed-seam"]).also(GAPING),
            at("K1", "piece band", Swap("bonds left, right", "bonds left")).brings(&["unsealed-seam"]),
            at("K1", "piece band", Swap("bonds left, right", "bonds right")).brings(&["unsealed-seam"]),
            at("G1-F1", "piece seam", Swap("bonds cover-1, cover-2", "bonds cover-1"))
                .harmless("the bead closes the same joint"),
            at("O1-W1", "piece jamb-l", Swap("bonds unit, low", "bonds unit")).brings(FLANGE),
            at("O1-W1", "piece jamb-r", Swap("bonds unit, low", "bonds low")).brings(FLANGE),
            at("O1-W1", "piece top", Swap("bonds unit, low", "bonds unit")).brings(FLANGE),
            at("O1-W1", "piece top", Swap("bonds unit, low", "bonds low")).brings(FLANGE),
            at("O1-W1", "piece dam-l", Swap("bonds pan, low", "bonds low")).brings(&["loose-end-dam"]),
            at("O1-W1", "piece dam-r", Swap("bonds pan, low", "bonds low")).brings(&["loose-end-dam"]),
            at("P1", "piece side-l", Swap("bonds hood, low", "bonds hood")).brings(FLANGE),
            at("P1", "piece side-r", Swap("bonds hood, low", "bonds low")).brings(FLANGE),
            at("P1", "piece top", Swap("bonds hood, low", "bonds low")).brings(FLANGE),
            at("P1", "piece top", Swap("bonds hood, low", "bonds hood")).brings(FLANGE),
        ],
    },
];

const LOOSE: &[(&str, &str)] = &[("unsealed-edge", "the same edge, as part of the air barrier")];

const STUCK_TO_NOTHING: &[(&str, &str)] = &[("loose-adhered-sheet", "nothing says any more what it sticks to")];
const GAPING: &[(&str, &str)] = &[("reverse-lap", "the tape no longer sticks at its top, where water comes down")];

const OPEN_EDGE: &[(&str, &str)] = &[("unsealed-edge", "the bead was what closed the edge")];

const FLANGE: &[&str] = &["unsealed-flange"];

const OPEN_SEAM: &[(&str, &str)] = &[("unsealed-seam", "the tape was all that sealed the lap")];
