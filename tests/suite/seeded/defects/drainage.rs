//! Installation sequence: what was installed too early or too late, and what then catches water.

use super::{Kind, at};
use crate::seeded::text::Edit::{After, Before, Swap, Then};

pub const KINDS: &[Kind] = &[
    Kind {
        name: "steps in the wrong order",
        brings: &["reverse-lap"],
        sites: &[
            at("A1", "piece wrap", Before("piece strip")).also(&[
                ("bond-without-contact", "the wrap now lies between tape and plywood"),
                ("unsealed-transition", "and so the tape no longer seals the plywood"),
            ]),
            // The bead between wrap and tape holds the water up, so that it stands there and backs up over the tape.
            at("B1", "piece wrap", Before("piece strip"))
                .brings(&["reverse-lap"])
                .also(&[("bond-without-contact", "the wrap now lies between tape and plywood")]),
            at("C1", "piece high", Before("piece low")).also(BAND),
            at("C2", "piece high", Before("piece low")).also(&[
                BETWEEN,
                OPEN,
                ("idle-waiver", "a lap the wrong way round is no short lap, so its waiver covers nothing"),
            ]),
            at("O1-W1", "piece flap", Before("piece head")),
            at("O1-W1", "piece head", After("piece flap")),
            at("O1-W1", "piece flap", Before("piece top")).also(&[
                ("reverse-lap", "the top edge of the tape now lies outside of the flap"),
                ("narrow-bond", "between unit and flap 5 mm of the wrap are left to the tape"),
            ]),
            // Stuck to 10 mm of the lower course, the tape holds the water up.
            at("P1", "piece high", Before("piece top"))
                .brings(&["reverse-lap"])
                .also(&[("narrow-bond", "between hood and upper course 10 mm of the lower one are left to the tape")]),
            at("P1", "piece apron", After("piece hood")),
            at("L1", "piece high", Before("piece cap")),
            at("V1", "piece membrane", Before("piece edge")),
            // The bead holds the water up.
            at("WR1", "piece membrane", Before("piece wrap"))
                .brings(&["reverse-lap"])
                .also(&[("unsealed-edge", "the top edge of the wrap, no longer under the membrane, stands open")]),
            at("RW1", "piece wrap", Before("piece kick")),
            at("RW1", "piece wrap", Before("piece membrane"))
                .also(&[("lap-relies-on-seal", "the bead at 200 mm is what keeps the top of the membrane shut"),
                ("seal-without-contact", "the membrane now lies between the wrap and both flashings")]),
        ],
    },
    Kind {
        name: "flashing after the coat that should lap it",
        brings: &["lap-relies-on-seal", "reverse-lap"],
        sites: &[at("B2", "piece through", After("piece coat"))],
    },
    Kind {
        name: "drip edge under the underlayment of a rake",
        brings: &["rake-edge-order"],
        sites: &[at("K2", "piece edge", Before("piece membrane"))],
    },
    Kind {
        name: "upper course tucked behind the lower",
        brings: &["reverse-lap"],
        sites: &[
            at("C1", "piece high", Swap("up from 0 mm", "up from 0 mm behind low")).also(BAND),
            at("L1", "piece high", Swap("up from 50 mm", "up from 50 mm behind cap")),
            at("O1-W1", "piece flap", Swap("up from 1430 mm", "up from 1430 mm behind head")),
            at("V1", "piece membrane", Swap("up from 10 mm", "up from 10 mm behind edge")),
        ],
    },
    Kind {
        name: "apron on the face of the wrap",
        brings: &["open-top-edge"],
        sites: &[at(
            "C1",
            "piece high",
            Swap("up from 0 mm", "up from 0 mm\n  piece apron annex-wrap up 300 mm to 600 mm"),
        )],
    },
    Kind {
        name: "flashing tucked in without a slit",
        brings: &["impossible-stack"],
        sites: &[
            at("O1-W1", "piece head", Swap("with drip", "with drip behind low over top")).also(CIRCLE),
            at("L1", "piece cap", Swap("with drip", "with drip behind low over ledger")).also(CIRCLE),
            at("P1", "piece top", Swap("rolled", "rolled behind low over hood")).also(&[
                ("reverse-lap", "the hood is outboard of the wrap"),
                ("tuck-behind-fixed", "the wrap is fixed"),
                ("bond-without-contact", "the wrap lies between tape and hood"),
                ("narrow-bond", "little is left to the tape"),
                ("unsealed-flange", "behind the wrap the tape seals no flange"),
            ]),
        ],
    },
    Kind {
        name: "flashing tucked in behind all that lies on the sheet",
        brings: &["tuck-behind-fixed", "reverse-lap", "uncapped-ledger"],
        sites: &[
            at("O1-W1", "piece head", Swap("with drip", "with drip behind low")).also(CIRCLE),
            at("L1", "piece cap", Swap("with drip", "with drip behind low")).also(CIRCLE),
            at("P1", "piece top", Swap("rolled", "rolled behind low"))
                .also(&[("bond-without-contact", "the wrap lies between tape and hood"), ("unsealed-flange", "so that nothing seals the flange"), ("reverse-lap", "the hood is outboard of the wrap"), ("tuck-behind-fixed", "the wrap is fixed")]),
        ],
    },
    Kind {
        name: "flashing put behind what is stuck",
        brings: &["tuck-behind-fixed"],
        sites: &[at("O1-W1", "piece head", Swap("with drip", "with drip behind top"))
            .also(&[("narrow-bond", "below the head flashing 15 mm of the unit are left to the tape")])],
    },
    Kind {
        name: "trim bedded at its foot over a pan",
        brings: &["trapped-water"],
        sites: &[
            // The bead that belongs behind the unit is put under a trim outboard of it: water behind the trim then rises
            // over the back of the pan at 40 mm before it runs out over the trim at 60 mm.
            at(
                "O1-W1",
                "seal unit to pan",
                Swap("seal unit to pan with silicone-sealant up 30 mm", "piece trim treated-wood up -60 mm to 60 mm along 0 mm to 900 mm\n  seal trim to pan with silicone-sealant up -50 mm"),
            )
            .also(&[("unsealed-sill", "the bead that is moved was the air seal of the sill")]),
            at("O1-W1", "seal unit to pan", Then("  piece trim treated-wood up -60 mm to 60 mm along 0 mm to 900 mm\n  seal trim to pan with silicone-sealant up -50 mm"))
                .harmless("the bead behind the unit keeps the back of the pan shut, and the water runs out over the trim"),
        ],
    },
    Kind {
        name: "sheet that stops short",
        brings: &["bare-substrate"],
        sites: &[
            at("A1", "piece wrap", Swap("up from -25 mm", "up from 100 mm")).also(&[NO_WATER]),
            at("B1", "piece wrap", Swap("up from -25 mm", "up from 100 mm")).also(&[LOOSE, DANGLING]),
            at("C1", "piece high", Swap("up from 0 mm", "up from 190 mm")).also(NO_LAP),
            at("C2", "piece high", Swap("up from 0 mm", "up from 160 mm")).also(&[
                NO_TAPE,
                NO_AIR,
                NO_WATER,
                ("idle-waiver", "without a lap there is no short one"),
            ]),
            at("K1", "piece left", Swap("along to 300 mm", "along to 50 mm")).also(&[
                NO_TAPE,
                NO_AIR,
                NO_WATER,
                ("corner-lap-short", "it runs 50 mm past the corner"),
            ]),
            at("L1", "piece high", Swap("up from 50 mm", "up from 260 mm"))
                .also(&[UNLAPPED, LOOSE, RELIES, DANGLING]),
            at("P1", "piece high", Swap("up from 90 mm", "up from 260 mm"))
                .also(&[OUTSIDE, LOOSE, RELIES, DANGLING]),
            at("O1-W1", "piece flap", Swap("up from 1430 mm", "up from 1660 mm"))
                .also(&[UNLAPPED, LOOSE, RELIES, DANGLING]),
            at("V1", "piece membrane", Swap("up from 10 mm", "up from 110 mm"))
                .also(&[("unsealed-edge", "the bead to the drip edge holds nothing"), DANGLING]),
            at("WR1", "piece membrane", Swap("up from -50 mm", "up from 200 mm"))
                .also(&[LOOSE, DANGLING]),
            at("RW1", "piece wrap", Swap("up from 50 mm", "up from 300 mm"))
                .also(&[UNLAPPED, LOOSE, RELIES, DANGLING]),
            at("X1", "piece wrap", Swap("along from -60 mm", "along from 110 mm")).also(&[
                DANGLING,
                ("corner-lap-short", "no sheet reaches the fold"),
            ]),
        ],
    },
    Kind {
        name: "sheets edge to edge",
        brings: &["open-joint"],
        sites: &[
            at("C1", "piece high", Swap("up from 0 mm", "up from 150 mm")).also(&[NO_TAPE, NO_AIR]),
            // A bead within 2 in of the joint counts as in it, and the leg of the cap below is no longer lapped.
            at("L1", "piece high", Swap("up from 50 mm", "up from 250 mm")).brings(&["unlapped-flashing"]),
        ],
    },
];

type Also = (&'static str, &'static str);

const BETWEEN: Also = ("bond-without-contact", "the lower course now lies between tape and upper course");
const OPEN: Also = ("unsealed-seam", "and so nothing seals their lap");
const BAND: &[Also] = &[BETWEEN, OPEN];

// What else may be said wherever two sheets no longer lap.
const NO_TAPE: Also = ("bond-without-contact", "the tape over the lap reaches one of them only");
const NO_AIR: Also = ("unsealed-transition", "nothing links the two for air");
const NO_WATER: Also = ("broken-water-control", "nor for water, where no drop tells of it");
const NO_LAP: &[Also] = &[NO_TAPE, NO_AIR, NO_WATER];
const OUTSIDE: Also = ("reverse-lap", "the flashing that it should come down over is left outside");
const UNLAPPED: Also = ("unlapped-flashing", "the leg of the flashing ends below it");

const LOOSE: Also = ("unsealed-edge", "its edge, or the one that it lapped, is left open");
const RELIES: Also = ("lap-relies-on-seal", "the tape that it covered is all that is left");
const DANGLING: Also = ("seal-without-contact", "its bead joins it to nothing");

/// What water meets in a circle is stacked by order of installation.
const CIRCLE: &[Also] = &[
    ("reverse-lap", "what was laid over is now behind"),
    ("tuck-behind-fixed", "what it is put behind is held by tapes"),
    ("bond-without-contact", "a sheet lies between tape and wrap"),
    ("narrow-bond", "little is left to the tape"),
];
