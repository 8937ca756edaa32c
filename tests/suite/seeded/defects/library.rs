//! Waivers and sets.

use super::{Kind, at};
use crate::seeded::text::Edit::{DropItem, Swap, Then};

pub const KINDS: &[Kind] = &[
    Kind {
        name: "waiver past its day",
        brings: &["expired-waiver"],
        sites: &[at("C2", "waive", Swap("2028-12-31", "2025-12-31"))
            .also(&[("short-head-lap", "what was accepted is open again")])],
    },
    Kind {
        name: "waiver of another rule",
        brings: &["idle-waiver"],
        sites: &[at("C2", "waive", Swap("short-head-lap", "short-side-lap"))
            .also(&[("short-head-lap", "what was accepted is open again")])],
    },
    Kind {
        name: "waiver of a lap made long enough",
        brings: &["idle-waiver"],
        sites: &[at("C2", "piece low", Swap("up to 120 mm", "up to 150 mm"))],
    },
    Kind {
        name: "detail that nobody drew",
        brings: &["missing-detail"],
        sites: &[
            at("set", "needs rake", Then("  needs parapet of R1")),
            at("set", "needs rake", Then("  needs ground-cover between G1 and E0")),
            at("set", "needs base-of-wall between F1 and W1", Swap("W1", "W3")),
        ],
    },
    Kind {
        name: "detail taken out of the set",
        brings: &["missing-detail"],
        sites: &[
            at("B1", "", DropItem),
            at("B2", "", DropItem),
            at("G1-F1", "", DropItem),
            at("F1-E0", "", DropItem),
            at("K1", "", DropItem),
            at("K3", "", DropItem),
            at("P1", "", DropItem),
            at("L1", "", DropItem),
            at("WR1", "", DropItem),
            at("RW1", "", DropItem),
            at("V1", "", DropItem),
            at("K2", "", DropItem),
            at("C1", "", DropItem).harmless("C2 is a course of the same wall"),
            at("O1-W1", "", DropItem).harmless("O2-W1 is an opening between the same two"),
            at("X1", "", DropItem).harmless("X2 joins the same two"),
        ],
    },
];
