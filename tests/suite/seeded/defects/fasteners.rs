//! Caps: too far apart, missing, under tapes, through tapes and flashings.

use super::{EACH, Kind, at};
use crate::seeded::text::Edit::{After, Swap};

pub const KINDS: &[Kind] = &[
    Kind {
        name: "caps 450 mm apart",
        brings: &["fastener-spacing"],
        sites: &[
            at(EACH, "fasten", Swap("every 400 mm", "every 450 mm")),
            at("L1", "fasten ledger", Swap("every 400 mm", "every 450 mm"))
                .harmless("screws of a ledger hold no sheet"),
        ],
    },
    Kind {
        name: "caps 16 in apart",
        brings: &[],
        sites: &[at("C1", "fasten", Swap("every 400 mm", "every 16 in")).harmless("a stud bay in inches is as good")],
    },
    Kind {
        name: "staples without caps",
        brings: &["uncapped-fastener"],
        sites: &[at(EACH, "fasten", Swap("cap-staple", "staple"))],
    },
    Kind {
        name: "caps under a tape",
        brings: &["tape-over-fastener"],
        sites: &[
            at("C1", "fasten low", Swap("up to -100 mm", "up to 0 mm")),
            at("C1", "fasten high", Swap("up from 200 mm", "up from 20 mm")),
            at("C2", "fasten low", Swap("up to -100 mm", "up to 0 mm")),
            at("K1", "fasten left", Swap("along to -100 mm", "along to 200 mm")),
            at("K1", "fasten right", Swap("along from 350 mm", "along from 20 mm")),
            at("P1", "fasten low", Swap("up to -200 mm", "up to -100 mm")),
            at("O1-W1", "fasten low", Swap("along to -150 mm", "along to -60 mm"))
                .also(&[("flashing-over-fastener", "the end dam lies over them as well")]),
            at("O1-W1", "fasten low", Swap("along from 1050 mm", "along from 960 mm"))
                .also(&[("flashing-over-fastener", "the end dam lies over them as well")]),
        ],
    },
    Kind {
        name: "caps under a flashing",
        brings: &["flashing-over-fastener"],
        sites: &[
            at("L1", "fasten low", Swap("up to -300 mm", "up to 100 mm")),
            at("O1-W1", "fasten low", Swap("up to 1300 mm along to -150 mm", "up to -20 mm"))
                .also(&[("tape-over-fastener", "the tapes at the jambs begin there as well")]),
        ],
    },
    Kind {
        name: "caps through a flashing",
        brings: &["fastener-through-flashing"],
        sites: &[
            at("RW1", "fasten wrap", Swap("up from 350 mm", "up from 100 mm")),
            at("O1-W1", "fasten flap", Swap("up from 1700 mm", "up from 1450 mm"))
                .also(&[("fastener-through-tape", "the tapes below the flap run up to 1490 mm")]),
            at("L1", "fasten high", Swap("up from 300 mm", "up from 100 mm")),
            at("X1", "fasten wrap", Swap("along from 150 mm", "along from 50 mm")),
        ],
    },
    Kind {
        name: "caps through a flashing tape",
        brings: &["fastener-through-tape"],
        sites: &[
            at("A1", "fasten wrap", Swap("up from 125 mm", "up from 0 mm")),
            at("B1", "fasten wrap", Swap("up from 125 mm", "up from 0 mm")),
            at("P1", "fasten high", Swap("up from 300 mm", "up from 100 mm")),
        ],
    },
    Kind {
        name: "tape before the caps beside it",
        brings: &[],
        sites: &[at("C1", "fasten low", After("piece band"))
            .harmless("they stand clear of each other, so the order is free")],
    },
];
