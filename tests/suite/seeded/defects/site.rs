//! Metals, grade, ledgers, and what falls to the wall.

use super::{Kind, at};
use crate::seeded::text::Edit::{Swap, Then};

pub const KINDS: &[Kind] = &[
    Kind {
        name: "aluminum on treated wood",
        brings: &["metal-contact"],
        sites: &[at("L1", "piece cap", Swap("galvanized-flashing", "aluminum-flashing"))],
    },
    Kind {
        name: "copper above aluminum",
        brings: &["corrosive-runoff"],
        sites: &[at("RW1", "piece step", Swap("galvanized-flashing", "copper-flashing"))],
    },
    Kind {
        name: "wood screws in a ledger",
        brings: &["light-ledger-fastener"],
        sites: &[at("L1", "fasten ledger", Swap("ledger-screw", "wood-screw"))],
    },
    Kind {
        name: "ledger flashing without a drip",
        brings: &["ledger-cap-no-drip"],
        sites: &[at("L1", "piece cap", Swap("with drip", ""))],
    },
    Kind {
        name: "grade above the foot of the wall",
        brings: &["cladding-below-grade"],
        sites: &[
            at("B1", "grade", Swap("-230 mm", "100 mm")),
            at("A1", "grade", Swap("-200 mm", "50 mm")),
            at("B2", "grade", Swap("-8 in", "2 in")).also(&[("buried-weeps", "and its weeps are in the ground")]),
        ],
    },
    Kind {
        name: "paving right below the boards",
        brings: &["clearance-to-paving"],
        sites: &[at("B1", "grade", Swap("-230 mm", "-60 mm paved"))],
    },
    Kind {
        name: "hood that falls to the wall",
        brings: &["falls-to-wall"],
        sites: &[at("P1", "piece hood", Swap("up -80 mm to 80 mm", "up -80 mm to 80 mm slope -2 deg"))],
    },
    Kind {
        name: "ledger over siding",
        brings: &["ledger-over-siding"],
        sites: &[at("L1", "fasten low", Then("piece boards cedar-boards of W1 up to -10 mm"))],
    },
];
