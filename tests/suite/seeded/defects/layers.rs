//! Assemblies: materials that are too tight, claims that do not hold, layers left out.

use super::{Kind, at};
use crate::seeded::text::Edit::{Drop, Swap};

const NOT_ASKED: &str = "vapor control is not asked of every assembly";
const BETWEEN: &str = "insulation between studs insulates, named or not";

const SLOW: &[(&str, &str)] = &[("slow-drying", "the deck then dries outward through less than before")];

const SHUT: &[(&str, &str)] = &[
    ("slow-drying", "the deck then dries outward through less than before"),
    ("unvented-roof", "the vent above a tight sheet vents nothing below it"),
];

pub const KINDS: &[Kind] = &[
    Kind {
        name: "studs of steel for wood",
        brings: &["steel-without-insulation"],
        sites: &[
            at("W1", "layer mineral-wool", Swap("spruce 38 mm", "steel-stud 2 mm")),
            at("W2", "layer mineral-wool", Swap("spruce 1-1/2 in", "steel-stud 1/16 in")),
        ],
    },
    Kind {
        name: "frame that nobody states",
        brings: &["frame-unstated"],
        sites: &[
            at("W1", "layer mineral-wool", Swap("between spruce 38 mm at 400 mm", "")),
            at("W2", "layer mineral-wool", Swap("between spruce 1-1/2 in at 16 in", "")),
            at("WALL", "layer mineral-wool", Swap("between spruce 38 mm at 400 mm", "")),
        ],
    },
    Kind {
        name: "tight sheet outside of wood",
        brings: &["vapor-trap"],
        // Wet-cup, the facing of the batts passes 1 perm, and with what lies behind it less.
        sites: &[
            at("W1", "layer annex-wrap", Swap("annex-wrap", "ice-barrier")),
            at("WALL", "layer project-wrap", Swap("project-wrap", "ice-barrier")),
        ],
    },
    Kind {
        name: "washable covering on a wall with a facing",
        brings: &["vapor-trap"],
        // The gypsum board then lies between 0.9 perm inside and less than 1 perm outside.
        sites: &[at("W1", "layer emulsion-paint", Swap("emulsion-paint", "washable-covering"))],
    },
    Kind {
        name: "vapor retarder left out",
        brings: &["condensation-over-limit", "condensation-accumulates"],
        sites: &[
            at("W1", "layer kraft-facing", Drop),
            at("W2", "layer responsive-retarder", Drop),
            at("R1", "layer responsive-retarder", Drop),
        ],
    },
    Kind {
        name: "polyethylene inside",
        brings: &["retarder-class-disputed"],
        sites: &[
            at("W1", "layer kraft-facing", Swap("kraft-facing", "poly-6mil")),
            at("W2", "layer responsive-retarder", Swap("responsive-retarder", "poly-6mil")),
            at("R1", "layer responsive-retarder", Swap("responsive-retarder", "poly-6mil"))
                .harmless("the classes are for walls, and the roof dries outward through its membrane"),
        ],
    },
    Kind {
        name: "wall of Greensboro in Miami",
        brings: &["retarder-class"],
        sites: &[at("W1", "climate", Swap("greensboro-4a", "miami-1a"))],
    },
    Kind {
        name: "vent behind slates closed",
        brings: &["unvented-roof"],
        // The slates pass 0.5 perm wet-cup; inward the deck still dries through the responsive retarder.
        sites: &[at("R1", "layer vented-gap", Swap("vented-gap", "still-gap")).also(SLOW)],
    },
    Kind {
        name: "batts of 5 mm",
        brings: &["mold-risk"],
        sites: &[
            at("W1", "layer mineral-wool", Swap("140 mm", "5 mm"))
                .also(&[("far-below-code", "hardly any insulation is left")]),
            at("R1", "layer mineral-wool", Swap("240 mm", "5 mm"))
                .also(&[("far-below-code", "hardly any insulation is left")]),
        ],
    },
    Kind {
        name: "layer that cannot serve",
        brings: &["claim-without-hold"],
        sites: &[
            at("W1", "layer annex-wrap", Swap("annex-wrap", "wrap-perforated")),
            at("W1", "layer annex-wrap", Swap("controls water, air", "controls water, air, vapor")),
            at("W1", "layer kraft-facing", Swap("controls vapor", "controls air, vapor")),
            at("W2", "layer liquid-membrane", Swap("controls water, air", "controls water, air, vapor")),
            at("R1", "layer breather-membrane", Swap("breather-membrane", "roof-underlayment")).also(SHUT),
            at("WALL", "layer plywood", Swap("controls air", "controls water, air")),
        ],
    },
    Kind {
        name: "control that nobody names",
        brings: &["control-undeclared"],
        sites: &[
            at("F1", "layer concrete", Swap("controls water, air", "")),
            at("F1", "layer concrete", Swap("controls water, air", "controls water"))
                .harmless("concrete is airtight, named or not"),
            at("F1", "layer xps", Swap("controls thermal", "")),
            at("W1", "layer annex-wrap", Swap("controls water, air", "")),
            at("W1", "layer annex-wrap", Swap("controls water, air", "controls air")),
            at("W1", "layer mineral-wool", Swap("controls thermal", "")).harmless(BETWEEN),
            at("W1", "layer kraft-facing", Swap("controls vapor", "")).harmless(NOT_ASKED),
            at("W2", "layer liquid-membrane", Swap("controls water, air", "")),
            at("W2", "layer mineral-wool", Swap("controls thermal", "")).harmless(BETWEEN),
            at("W2", "layer responsive-retarder", Swap("controls vapor", "")).harmless(NOT_ASKED),
            at("R1", "layer breather-membrane", Swap("controls water, air", "")),
            at("R1", "layer mineral-wool", Swap("controls thermal", "")),
            at("R1", "layer responsive-retarder", Swap("controls vapor", "")).harmless(NOT_ASKED),
            at("WALL", "layer project-wrap", Swap("controls water", "")),
            at("WALL", "layer plywood", Swap("controls air", "")),
            at("WALL", "layer mineral-wool", Swap("controls thermal", "")).harmless(BETWEEN),
            at("FOUNDATION", "layer concrete", Swap("controls water, air", "")),
            at("G1", "layer ground-poly", Swap("controls air, vapor", ""))
                .harmless("the ground is no enclosure of its own"),
            at("E1", "layer library-brick", Swap("controls water, air", "")).harmless("an existing wall is as it is"),
            at("O1", "layer window-wood", Swap("controls water, air, thermal", "")).harmless("a window is one unit"),
        ],
    },
    Kind {
        name: "narrow cavity behind brick",
        brings: &["narrow-cavity"],
        sites: &[
            at("W2", "layer drained-gap", Swap("1-1/2 in", "3/4 in")),
            at("W2", "layer drained-gap", Drop),
            at("W2", "layer drained-gap", Swap("1-1/2 in", "1 in")).harmless("an inch is enough"),
        ],
    },
    Kind {
        name: "narrow gap behind boards",
        brings: &["narrow-vent"],
        sites: &[
            at("W1", "layer vented-gap", Swap("19 mm", "6 mm")),
            at("WALL", "layer vented-gap", Swap("19 mm", "6 mm")),
            at("W1", "layer vented-gap", Swap("19 mm", "10 mm")).harmless("10 mm drain and dry"),
        ],
    },
    Kind {
        name: "thin ground cover",
        brings: &["ground-cover-thin"],
        sites: &[
            at("G1-F1", "piece cover-1", Swap("ground-poly of G1", "foil")),
            at("G1-F1", "piece cover-2", Swap("ground-poly of G1", "foil")),
        ],
    },
];
