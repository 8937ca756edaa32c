//! Pieces left out.

use super::{Kind, at};
use crate::seeded::text::Edit::{Drop, LeaveOut, Swap, Then};

const FOR_WATER: &str = "this kind of detail is drawn for water and air";
const NOT_SHOWN: &[&str] = &["control-not-shown"];

pub const KINDS: &[Kind] = &[
    Kind {
        name: "kick-out left out",
        brings: &["missing-kick-out"],
        sites: &[at("RW1", "piece kick", LeaveOut), at("RW1", "piece kick", Swap("as kick-out", "as step-flashing"))],
    },
    Kind {
        name: "drip edge of shingles left out",
        brings: &["missing-drip-edge"],
        sites: &[
            at("K4", "piece edge", LeaveOut),
            at("V2", "piece edge", LeaveOut)
                .also(&[("bare-substrate", "the deck runs out below the underlayment, as at V1")]),
            at("K4", "piece edge", Swap("as drip-edge", "as apron")),
        ],
    },
    Kind {
        name: "back dam left out",
        brings: &["missing-back-dam"],
        sites: &[
            at("O1-W1", "piece pan", Swap("to 40 mm", "to 20 mm"))
                .also(&[("seal-without-contact", "the bead lies above the dam that is left")]),
            at("O1-W1", "piece pan", Swap("to 40 mm", "to 30 mm")).harmless("an inch is enough"),
        ],
    },
    Kind {
        name: "drip left out",
        brings: &["missing-drip"],
        sites: &[at("B2", "piece through", Swap("with drip", ""))],
    },
    Kind {
        name: "drip of a head flashing left out",
        brings: &["head-flashing-without-drip"],
        sites: &[at("O1-W1", "piece head", Swap("with drip", ""))],
    },
    Kind {
        name: "head flashing as long as the opening",
        brings: &["short-head-flashing"],
        sites: &[at("O1-W1", "piece head", Swap("along -50 mm to 950 mm", "along 0 mm to 900 mm"))],
    },
    Kind {
        name: "bead at the foot of the boards",
        brings: &["sealed-outlet"],
        sites: &[at("B1", "piece boards", Then("  seal boards to wrap with butyl-bead up -20 mm"))],
    },
    Kind {
        name: "tape over the foot of the boards",
        brings: &["taped-gap"],
        sites: &[at(
            "B1",
            "piece boards",
            Then("  piece skirt flash-tape up -120 mm to 0 mm bonds boards, strip rolled"),
        )
        .also(&[("reverse-lap", "beside the boards, which are cut back, it lies over the wrap")])],
    },
    Kind {
        name: "lath across the gap",
        brings: &["blocked-gap"],
        sites: &[at("B1", "fasten wrap", Then("  piece lath treated-wood up 40 mm to 80 mm"))],
    },
    Kind {
        name: "tape for a through-wall flashing",
        brings: &["missing-through-wall-flashing"],
        sites: &[at("B2", "piece through", Swap("butyl-flashing", "flash-tape"))],
    },
    Kind {
        name: "mortar in the cavity",
        brings: &["bridged-cavity"],
        sites: &[at("B2", "piece coat", Then("  piece mortar clay-brick up 0 in to 4 in"))],
    },
    Kind { name: "weeps left out", brings: &["missing-weeps"], sites: &[at("B2", "weeps", Drop)] },
    Kind {
        name: "end dam left out",
        brings: &["missing-end-dam"],
        sites: &[at("O1-W1", "piece dam-l", LeaveOut), at("O1-W1", "piece dam-r", LeaveOut)],
    },
    Kind {
        name: "flashing of a ledger left out",
        brings: &["missing-flashing"],
        sites: &[at("L1", "piece cap", LeaveOut)],
    },
    Kind {
        name: "cap of a ledger that ends above it",
        brings: &["uncapped-ledger"],
        sites: &[at("L1", "piece cap", Swap("up -40 mm", "up 10 mm"))],
    },
    Kind {
        name: "tape left out",
        brings: &["unsealed-seam"],
        sites: &[
            at("C1", "piece band", LeaveOut),
            at("C2", "piece band", LeaveOut),
            at("K1", "piece band", LeaveOut),
            at("G1-F1", "piece seam", LeaveOut).harmless("the bead closes the same joint"),
            at("A1", "piece strip", LeaveOut).brings(&["unsealed-transition"]),
            at("B1", "piece strip", LeaveOut).brings(&["unsealed-transition"]),
            // The coat runs over both boards, and splits at the bare corner.
            at("K3", "piece strip", LeaveOut).brings(&["raw-board-joint"]),
            at("P1", "piece top", LeaveOut)
                .brings(&["reverse-lap"])
                .also(&[("unsealed-flange", "it was what sealed the head of the hood")]),
            at("P1", "piece apron", LeaveOut).harmless("the flange laps the wrap by 30 mm, as shingles do"),
            at("P1", "piece side-l", LeaveOut).brings(&["unsealed-flange"]),
            at("P1", "piece side-r", LeaveOut).brings(&["unsealed-flange"]),
            at("O1-W1", "piece jamb-l", LeaveOut)
                .brings(&["unsealed-flange"])
                .also(&[("lap-relies-on-seal", "the tape lay over the top of the end dam, which now only sticks")]),
            at("O1-W1", "piece jamb-r", LeaveOut)
                .brings(&["unsealed-flange"])
                .also(&[("lap-relies-on-seal", "the tape lay over the top of the end dam, which now only sticks")]),
            at("O1-W1", "piece top", LeaveOut).brings(&["unsealed-flange"]),
        ],
    },
    Kind {
        name: "flashing left out",
        brings: &["unsealed-transition"],
        sites: &[
            at("B2", "piece through", LeaveOut).brings(&["bare-substrate"]).also(&[
                ("broken-water-control", "nothing carries water from one to the other"),
                ("missing-through-wall-flashing", "and the veneer stands on none"),
            ]),
            at("X1", "piece corner", LeaveOut).also(&[("corner-lap-short", "the wrap runs 60 mm past the fold")]),
            at("F1-E0", "piece joint", LeaveOut).brings(&["broken-water-control"]),
            at("V1", "piece edge", LeaveOut)
                .brings(&["bare-substrate"])
                .also(&[("unsealed-edge", "its bead is gone as well")]),
            at("K2", "piece edge", LeaveOut)
                .harmless("slates run out over the rake; the code asks for a drip edge under asphalt shingles"),
            at("O1-W1", "piece pan", LeaveOut).brings(&["missing-pan"]),
            at("O1-W1", "piece head", LeaveOut).brings(&["missing-head-drip"]),
            at("RW1", "piece step", LeaveOut).brings(&["missing-step-flashing"]),
        ],
    },
    Kind {
        name: "sheet left out",
        brings: &["bare-substrate"],
        sites: &[
            at("A1", "piece wrap", LeaveOut).also(&[NOT_THERE]),
            at("B1", "piece wrap", LeaveOut).also(&[NOT_THERE]),
            at("C1", "piece low", LeaveOut).also(&[RELIES, LOOSE]),
            at("C1", "piece high", LeaveOut).also(&[LOOSE]),
            at("K1", "piece left", LeaveOut).also(&[("corner-lap-short", "the other one begins beyond the corner")]),
            at("K1", "piece right", LeaveOut),
            at("V1", "piece membrane", LeaveOut),
            at("WR1", "piece membrane", LeaveOut).also(GONE),
            at("WR1", "piece wrap", LeaveOut).also(GONE),
            at("RW1", "piece membrane", LeaveOut).also(GONE),
            at("RW1", "piece wrap", LeaveOut).also(&[NOT_THERE, OUTSIDE, LOOSE]),
            at("X1", "piece wrap", LeaveOut).also(&[NOT_THERE]),
            at("L1", "piece low", LeaveOut).also(&[LOOSE]),
            at("L1", "piece high", LeaveOut).also(&[OUTSIDE, LOOSE]),
            at("P1", "piece high", LeaveOut).also(&[OUTSIDE, LOOSE, RELIES]),
            at("O1-W1", "piece flap", LeaveOut).also(&[OUTSIDE, LOOSE, RELIES]),
        ],
    },
    Kind {
        name: "layer that the drawing forgets",
        brings: NOT_SHOWN,
        sites: &[
            at("B1", "piece foam", LeaveOut).harmless(FOR_WATER),
            at("B1", "piece wool", LeaveOut).harmless(FOR_WATER),
            at("B2", "piece foam", LeaveOut).harmless(FOR_WATER),
            at("B2", "piece wool", LeaveOut).harmless(FOR_WATER),
            at("B2", "piece coat", LeaveOut).also(&[RELIES]),
            at("WR1", "piece wool", LeaveOut),
            at("WR1", "piece roof-wool", LeaveOut),
            at("WR1", "piece kraft", LeaveOut),
            at("WR1", "piece retarder", LeaveOut),
            at("RW1", "piece wool", LeaveOut).harmless(FOR_WATER),
            at("RW1", "piece roof-wool", LeaveOut).harmless(FOR_WATER),
            at("RW1", "piece kraft", LeaveOut).harmless(FOR_WATER),
            at("RW1", "piece retarder", LeaveOut).harmless(FOR_WATER),
            at("O1-W1", "piece wool", LeaveOut).harmless(FOR_WATER),
            at("X1", "piece brick", LeaveOut)
                .also(&[("corner-lap-short", "the flashing over the fold is then sealed on one side only")]),
            at("F1-E0", "piece old", LeaveOut),
            at("F1-E0", "piece stem", LeaveOut),
            // Within one assembly as well: a corner is there to show how the layer turns.
            at("K3", "piece coat", LeaveOut),
        ],
    },
    Kind {
        name: "joint that nothing bridges",
        brings: &["broken-water-control"],
        sites: &[
            at("F1-E0", "piece joint", LeaveOut).also(&[("unsealed-transition", "air goes the same way")]),
            at("F1-E0", "piece joint", Swap("along -150 mm to 150 mm", "along -15 mm to 150 mm"))
                .also(&[("unsealed-transition", "air goes the same way")]),
        ],
    },
    Kind {
        name: "hole around a hood",
        brings: &["open-gap", "open-joint", "reverse-lap"],
        sites: &[at("P1", "piece hood", LeaveOut)],
    },
];

const NOT_THERE: (&str, &str) = ("control-not-shown", "it was the control layer of a joined assembly");
const GONE: &[(&str, &str)] = &[NOT_THERE, LOOSE];

const LOOSE: (&str, &str) = ("unsealed-edge", "the edge that it lapped is left open");

const RELIES: (&str, &str) = ("lap-relies-on-seal", "the tape or flashing that it covered is all that is left");

const OUTSIDE: (&str, &str) = ("reverse-lap", "the flashing or tape that it should come down over is left outside");
