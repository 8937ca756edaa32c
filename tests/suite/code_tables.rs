//! The tables of the code for vapor and insulation, asserted from their printed numbers: at a number the rule is silent, one
//! step under it speaks.

use crate::review::review_text;

/// Zone, R over 2x4 studs, R over 2x6 studs: IRC 2018 Table R702.7.1, 2021 Table R702.7(3); marine 4 read, the rest from memory.
const CLASS_THREE: [(&str, f64, f64); 6] =
    [("4C", 2.5, 3.75), ("5A", 5.0, 7.5), ("6A", 7.5, 11.25), ("7", 10.0, 15.0), ("8", 12.5, 20.0), ("5C", 5.0, 7.5)];

/// The same with class II inside and foam sheathing outside: IRC 2021 Table R702.7(4), from memory.
const CLASS_TWO: [(&str, f64, f64); 6] =
    [("3A", 2.0, 2.0), ("4A", 3.0, 5.0), ("5A", 3.0, 5.0), ("6A", 3.0, 5.0), ("7", 5.0, 7.5), ("8", 7.5, 10.0)];

/// Zone and R: IRC Table R806.5, 1A and 5 read, the rest from memory.
const UNVENTED: [(&str, f64); 9] = [
    ("1A", 5.0),
    ("2A", 5.0),
    ("3A", 5.0),
    ("4C", 10.0),
    ("4A", 15.0),
    ("5A", 20.0),
    ("6A", 25.0),
    ("7", 30.0),
    ("8", 35.0),
];

fn speaks(rule: &str, zone: &str, text: &str) -> bool {
    let text = format!("include \"stock.detail\"\nclimate here {{ zone {zone} }}\n{text}");
    review_text(&text).findings.iter().any(|finding| &*finding.rule == rule)
}

/// A framed wall with foam of an R as labeled, and a board and a retarder inside.
fn wall(foam: &str, sheathing: &str, depth: &str, retarder: &str) -> String {
    format!(
        "material foam board {{ holds thermal; thickness 1 in; resistance {foam}; permeance 0.9 perm }}\n\
         assembly W wall {{ climate here; outside; layer fiber-cement 8 mm; layer foam; layer wrap-open controls water, air\n \
         layer {sheathing} 1/2 in; layer mineral-wool {depth} controls thermal between spruce 1-1/2 in at 16 in\n \
         layer gypsum 1/2 in; layer {retarder} controls vapor; inside }}"
    )
}

#[test]
fn class_three_goes_with_the_insulation_of_its_zone() {
    for (zone, shallow, deep) in CLASS_THREE {
        for (depth, r) in [("3-1/2 in", shallow), ("5-1/2 in", deep)] {
            let at =
                |r: f64| speaks("thin-insulation", zone, &wall(&format!("R {r}"), "plywood", depth, "latex-paint"));
            assert!(!at(r), "{zone} {depth} at R {r}");
            assert!(at(r - 0.1), "{zone} {depth} under R {r}");
        }
    }
}

#[test]
fn class_two_goes_with_the_foam_sheathing_of_its_zone() {
    for (zone, shallow, deep) in CLASS_TWO {
        for (depth, r) in [("3-1/2 in", shallow), ("5-1/2 in", deep)] {
            let foam = |r: f64| wall(&format!("R {r}"), "glass-mat-sheathing", depth, "kraft-facing");
            assert!(!speaks("class-two-insulation", zone, &foam(r)), "{zone} {depth} at R {r}");
            assert!(speaks("class-two-insulation", zone, &foam(r - 0.1)), "{zone} {depth} under R {r}");
            // Over wood it is the wood that stays wet.
            let foam = |r: f64| wall(&format!("R {r}"), "plywood", depth, "kraft-facing");
            assert!(!speaks("vapor-trap", zone, &foam(r)), "{zone} {depth} at R {r}");
            assert!(speaks("vapor-trap", zone, &foam(r - 0.1)), "{zone} {depth} under R {r}");
        }
    }
}

#[test]
fn an_unvented_roof_has_the_insulation_of_its_zone() {
    for (zone, r) in UNVENTED {
        let roof = |r: f64| {
            format!(
                "material foam board {{ holds thermal; thickness 4 in; resistance R {r}; permeance 1 perm }}\n\
                 assembly R roof {{ climate here; outside; layer shingles; layer roof-underlayment controls water; layer foam\n \
                 layer plywood 5/8 in controls air; layer mineral-wool 6 in controls thermal between spruce 1-1/2 in at 24 in\n \
                 layer gypsum 1/2 in; inside }}"
            )
        };
        assert!(!speaks("unvented-roof", zone, &roof(r)), "{zone} at R {r}");
        assert!(speaks("unvented-roof", zone, &roof(r - 0.1)), "{zone} under R {r}");
    }
}

/// IRC R702.7: class I is 0.1 perm or less, class II 1.0 perm or less; zones 1 and 2 allow neither inside, zone 3 no class I. A
/// responsive retarder opens beyond 1 perm when wet and is allowed everywhere.
#[test]
fn the_classes_of_retarders_end_where_the_code_ends_them() {
    let inside = |permeance: &str| {
        format!(
            "material film sheet {{ holds vapor; thickness 0.2 mm; permeance {permeance} }}\n\
             assembly W wall {{ climate here; outside; layer wrap-open controls water, air; layer plywood 1/2 in\n \
             layer mineral-wool 5-1/2 in controls thermal between spruce 1-1/2 in at 16 in\n \
             layer film controls vapor; layer gypsum 1/2 in; inside }}"
        )
    };
    for (zone, refused, allowed) in [
        ("1A", "1.0 perm", "1.05 perm"),
        ("2A", "1.0 perm", "1.05 perm"),
        ("3A", "0.1 perm", "0.105 perm"),
        ("5A", "10.5 perm", "1.0 perm"),
        ("1A", "0.5 perm dry, 1.0 perm wet", "0.5 perm dry, 1.05 perm wet"),
    ] {
        assert!(speaks("retarder-class", zone, &inside(refused)), "{zone} {refused}");
        assert!(!speaks("retarder-class", zone, &inside(allowed)), "{zone} {allowed}");
    }
}
