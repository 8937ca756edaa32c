//! The published minimum laps, clearances and spacings, asserted from the source's own number: at it the rule is silent,
//! one step under (or over) it speaks.

use crate::review::review_text;

/// A limit as its source prints it.
struct Limit {
    rule: &'static str,
    source: &'static str,
    /// The printed number; silent at it.
    at: &'static str,
    /// A step on the wrong side of it.
    beyond: &'static str,
    /// A detail with `@` in the place of the number.
    detail: &'static str,
}

const LIMITS: &[Limit] = &[
    Limit {
        rule: "head-lap-below-code",
        source: "IRC 2015 R703.2: upper over lower by 2 in",
        at: "2 in",
        beyond: "1-15/16 in",
        detail: "detail D course joins C {\n piece low wrap-open up to @\n piece high wrap-open up from 0 in\n}",
    },
    Limit {
        rule: "short-side-lap",
        source: "IRC 2015 R703.2: 6 in at vertical joints",
        at: "6 in",
        beyond: "5-7/8 in",
        detail: "detail D seam joins C {\n piece left wrap-open along to @\n piece right wrap-open along from 0 in\n}",
    },
    Limit {
        rule: "short-head-lap",
        source: "practice: courses overlap by 6 in",
        at: "6 in",
        beyond: "5-7/8 in",
        detail: "detail D course joins C {\n piece low wrap-open up to @\n piece high wrap-open up from 0 in\n}",
    },
    Limit {
        rule: "corner-lap-short",
        source: "practice: corners are turned by 6 in",
        at: "6 in",
        beyond: "5-7/8 in",
        detail: "detail D corner joins W {\n fold along 0 in outside-corner\n piece left wrap-open of W along to @\n piece right wrap-open of W along from 0 in\n}",
    },
    Limit {
        rule: "clearance-to-grade",
        source: "IRC R317.1 (5): wood and siding 6 in above the ground",
        at: "-6 in",
        beyond: "-5-7/8 in",
        detail: "detail D base-of-wall joins C {\n grade up @\n piece stem concrete\n piece boards cedar-boards up from 0 in\n}",
    },
    Limit {
        rule: "weep-spacing",
        source: "IRC R703.8.6: weepholes at most 33 in apart",
        at: "33 in",
        beyond: "33-1/16 in",
        detail: "detail D base-of-wall joins C {\n piece through rubber-flashing up -3 in to 8 in with drip\n piece veneer brick-veneer up from 0 in\n weeps every @\n}",
    },
    Limit {
        rule: "fastener-spacing",
        source: "practice: caps about every 16 in",
        at: "16 in",
        beyond: "16-1/2 in",
        detail: "detail D course joins C {\n piece wrap wrap-open\n fasten wrap with cap-staple every @\n}",
    },
    Limit {
        rule: "ground-cover-thin",
        source: "EPA indoor air guidance: a ground cover of 6 mil",
        at: "6 mil",
        beyond: "5.9 mil",
        detail: "material cover sheet { holds water, air, vapor; thickness @; permeance 0.06 perm; surface polyolefin }\nassembly G existing { inside; layer cover; outside }\ndetail D ground-cover joins G to C {\n fold up 0 in base\n piece stem concrete of C up from 0 in\n piece cover cover of G up to 6 in\n seal cover to stem with butyl-bead up 5 in\n}",
    },
    Limit {
        rule: "ground-cover-lap",
        source: "IRC R408.3: joints lap 6 in",
        at: "6 in",
        beyond: "5-7/8 in",
        detail: "detail D ground-cover joins C {\n piece a poly-10mil along to @\n piece b poly-10mil along from 0 in\n seal b to a with butyl-bead along 2 in\n}",
    },
    Limit {
        rule: "ground-cover-turn-up",
        source: "IRC R408.3: 6 in up the wall",
        at: "6 in",
        beyond: "5-7/8 in",
        detail: "detail D ground-cover joins C {\n fold up 0 in base\n piece stem concrete of C up from 0 in\n piece cover poly-10mil up to @\n seal cover to stem with butyl-bead up 5 in\n}",
    },
    Limit {
        rule: "short-step-flashing",
        source: "IRC 2018 R905.2.8.3: 4 in by 4 in",
        at: "-4 in",
        beyond: "-3-3/4 in",
        detail: "detail D course joins C {\n piece membrane breather-membrane up to 10 in\n piece step galvanized-flashing as step-flashing up @ to 4 in\n piece wrap wrap-open up from 2 in\n}",
    },
    Limit {
        rule: "short-underlayment-lap",
        source: "IRC R905.1.1: underlayment laps 2 in from 4:12 up",
        at: "2 in",
        beyond: "1-15/16 in",
        detail: "assembly RR roof { slope 4:12; outside; layer shingles; layer roof-underlayment controls water; layer plywood 16 mm controls air; inside }\ndetail D course joins RR {\n piece low roof-underlayment of RR up to @\n piece high roof-underlayment of RR up from 0 in\n}",
    },
    Limit {
        rule: "short-underlayment-lap",
        source: "IRC R905.1.1, from memory: strips lap 19 in between 2:12 and 4:12",
        at: "19 in",
        beyond: "18-3/4 in",
        detail: "assembly RR roof { slope 3:12; outside; layer shingles; layer roof-underlayment controls water; layer plywood 16 mm controls air; inside }\ndetail D course joins RR {\n piece low roof-underlayment of RR up to @\n piece high roof-underlayment of RR up from 0 in\n}",
    },
    Limit {
        rule: "short-underlayment-side-lap",
        source: "IRC R905.1.1, from memory: end laps of 4 in",
        at: "4 in",
        beyond: "3-7/8 in",
        detail: "assembly RR roof { outside; layer shingles; layer roof-underlayment controls water; layer plywood 16 mm controls air; inside }\ndetail D seam joins RR {\n piece left roof-underlayment of RR along to @\n piece right roof-underlayment of RR along from 0 in\n}",
    },
    Limit {
        rule: "short-ice-barrier",
        source: "IRC R905.1.2: to 24 in inside of the exterior wall line",
        at: "44 in",
        beyond: "43-7/8 in",
        detail: "assembly RR roof { outside; layer shingles; layer roof-underlayment controls water; layer plywood 16 mm controls air; inside }\ndetail D eave joins RR {\n wall-line up 20 in\n piece deck plywood of RR up from 0 in\n piece ice ice-barrier up 0 in to @ bonds deck rolled\n}",
    },
    Limit {
        rule: "high-drip-edge",
        source: "IRC 2012-2021 R905.2.8.5: 1/4 in below the sheathing",
        at: "-1/4 in",
        beyond: "-3/16 in",
        detail: "assembly RR roof { outside; layer shingles; layer roof-underlayment controls water; layer plywood 16 mm controls air; inside }\ndetail D eave joins RR {\n piece deck plywood of RR up from 0 in\n piece edge drip-edge as drip-edge up @ to 3 in with drip\n}",
    },
    Limit {
        rule: "flat-shingles",
        source: "IRC R905.2.2, from memory: shingles from 2:12 up",
        at: "2:12",
        beyond: "1.9:12",
        detail: "assembly RR roof { slope @; outside; layer shingles; layer roof-underlayment controls water; layer plywood 16 mm controls air; inside }\ndetail D course joins RR {\n piece low roof-underlayment of RR\n}",
    },
    Limit {
        rule: "siding-on-roof",
        source: "DOE guide on step flashing: siding 1 in above the roof",
        at: "1 in",
        beyond: "15/16 in",
        detail: "assembly RR roof { outside; layer shingles; layer roof-underlayment controls water; layer plywood 16 mm controls air; inside }\nassembly WW wall { outside; layer cedar-boards; layer vented-gap; layer wrap-open controls water, air; layer plywood; inside }\ndetail D roof-to-wall joins RR to WW {\n fold up 0 in base\n piece boards cedar-boards of WW up from @\n}",
    },
    Limit {
        rule: "low-upturn",
        source: "practice: base flashing 150 mm above a low-slope roof, 8 in in North America",
        at: "6 in",
        beyond: "5-7/8 in",
        detail: "assembly FF roof { outside; layer roof-membrane controls water, air; layer polyurethane-board 6 in controls thermal; layer reinforced-concrete 8 in; inside }\ndetail D roof-to-wall joins FF to C {\n fold up 0 in base\n piece roof roof-membrane of FF up to @\n}",
    },
    Limit {
        rule: "short-counterflashing",
        source: "practice: counterflashing laps 2 in or more",
        at: "8 in",
        beyond: "8-1/8 in",
        detail: "assembly FF roof { outside; layer roof-membrane controls water, air; layer polyurethane-board 6 in controls thermal; layer reinforced-concrete 8 in; inside }\ndetail D roof-to-wall joins FF to C {\n fold up 0 in base\n piece roof roof-membrane of FF up to 10 in\n piece counter aluminum-flashing up @ to 14 in with drip\n}",
    },
    Limit {
        rule: "narrow-valley-metal",
        source: "IRC R905.2.8.2, from memory: valley metal 24 in wide",
        at: "-12 in",
        beyond: "-11-3/4 in",
        detail: "assembly RR roof { outside; layer shingles; layer roof-underlayment controls water; layer plywood 16 mm controls air; inside }\ndetail D valley joins RR {\n valley along 0 in\n piece metal galvanized-flashing along @ to 14 in\n}",
    },
    Limit {
        rule: "masonry-clearance",
        source: "IRC R404.1.6: 4 in with masonry veneer",
        at: "-4 in",
        beyond: "-3-7/8 in",
        detail: "detail D base-of-wall joins C {\n grade up @\n piece stem concrete\n piece veneer brick-veneer up from 0 in\n}",
    },
    Limit {
        rule: "short-veneer-upturn",
        source: "Ontario Building Code: 150 mm up the wall behind a veneer",
        at: "150 mm",
        beyond: "149 mm",
        detail: "detail D base-of-wall joins C {\n piece through copper-flashing up -10 mm to @ with drip\n piece veneer brick-veneer up from 0 mm\n weeps every 600 mm\n}",
    },
    Limit {
        rule: "missing-soft-joint",
        source: "BIA Technical Note 18A, from memory: 1/4 in below a shelf angle",
        at: "-1/4 in",
        beyond: "-3/16 in",
        detail: "detail D course joins C {\n piece through copper-flashing up -1/2 in to 8 in with drip\n piece low brick-veneer up to @\n piece high brick-veneer up from 0 in\n weeps every 24 in\n}",
    },
    Limit {
        rule: "cladding-below-grade",
        source: "IRC R404.1.6: cladding ends above grade",
        at: "0 in",
        beyond: "1/16 in",
        detail: "detail D base-of-wall joins C {\n grade up @\n piece stem concrete\n piece boards cedar-boards up from 0 in\n}",
    },
    Limit {
        rule: "short-drip-edge",
        source: "IRC 2012-2021 R905.2.8.5: 2 in up the deck",
        at: "2 in",
        beyond: "1-15/16 in",
        detail: "detail D eave joins C {\n piece edge drip-edge as drip-edge up -1 in to @ with drip\n piece membrane roof-underlayment up from 0 in\n}",
    },
    Limit {
        rule: "short-flashing-lap",
        source: "NBC 9.27.3.8, from memory: 50 mm up behind the membrane",
        at: "50 mm",
        beyond: "49 mm",
        detail: "detail D head joins C {\n piece cap aluminum-flashing up -60 mm to @ with drip\n piece high wrap-open up from 0 mm\n}",
    },
    Limit {
        rule: "foundation-lap-short",
        source: "trade guide on house wraps: the wrap laps the foundation by 1 in",
        at: "-1 in",
        beyond: "-15/16 in",
        detail: "detail D base-of-wall joins C {\n piece stem concrete up to 0 in\n piece wrap wrap-open up from @\n}",
    },
    Limit {
        rule: "narrow-cavity",
        source: "IRC R703.8.4.2, from memory: 1 in between veneer and sheathing",
        at: "1 in",
        beyond: "15/16 in",
        detail: "assembly V wall { outside; layer brick-veneer 90 mm; layer vented-gap @; layer wrap-open; layer plywood 12 mm; inside }",
    },
    Limit {
        rule: "narrow-roof-vent",
        source: "IRC R806.3: 1 in between insulation and roof sheathing",
        at: "1 in",
        beyond: "15/16 in",
        detail: "assembly V roof { outside; layer shingles; layer roof-underlayment; layer plywood 5/8 in; layer vented-gap @; layer mineral-wool 10 in between spruce 1-1/2 in at 24 in; inside }",
    },
    Limit {
        rule: "claim-without-hold",
        source: "ASTM E2178: 0.004 cfm/ft2 at 75 Pa, that is 0.02 L/(s m2)",
        at: "0.02 L/s.m2",
        beyond: "0.021 L/s.m2",
        detail: "material m sheet { holds water, air; air-permeance @ at 75 Pa; permeance 50 perm; thickness 0.2 mm }\nassembly A existing { outside; layer m controls water, air; inside }",
    },
    Limit {
        rule: "narrow-bond",
        source: "practice: 1 in of contact",
        at: "1 in",
        beyond: "15/16 in",
        detail: "detail D seam joins C {\n piece left wrap-open along to 6 in\n piece right wrap-open along from 0 in\n piece band acrylic-tape along -@ to 2 in bonds left, right rolled\n}",
    },
    Limit {
        rule: "clearance-to-paving",
        source: "IRC R317.1 (5): wood and siding 2 in above paving",
        at: "-2 in",
        beyond: "-1-7/8 in",
        detail: "detail D base-of-wall joins C {\n grade up @ paved\n piece stem concrete\n piece boards cedar-boards up from 0 in\n}",
    },
    Limit {
        rule: "damp-proofing-short",
        source: "IRC R406.1, from memory: damp-proofing up to finished grade",
        at: "-8 in",
        beyond: "-8-1/8 in",
        detail: "assembly F foundation { outside; layer bitumen-coat; layer concrete 8 in controls water, air; inside }\ndetail D base-of-wall joins F {\n grade up -8 in\n piece stem concrete of F up to 0 in\n piece damp bitumen-coat of F up to @\n}",
    },
    Limit {
        rule: "short-protection",
        source: "IECC R303.2.1, from memory: the covering runs 6 in below grade",
        at: "-14 in",
        beyond: "-13-7/8 in",
        detail: "assembly F foundation { outside; layer xps 2 in controls thermal; layer concrete 8 in controls water, air; inside }\ndetail D base-of-wall joins F {\n grade up -8 in\n piece stem concrete of F up to 0 in\n piece foam xps of F up to 0 in\n piece board cement-board up @ to 0 in\n}",
    },
    Limit {
        rule: "short-tuck",
        source: "practice: a strip goes 2 in under the old sheet",
        at: "-2 in",
        beyond: "-2-1/16 in",
        detail: "assembly N wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }\nassembly E existing { outside; layer felt-15 controls water; layer decking-boards; inside }\ndetail D wall-to-existing joins N to E {\n piece boards decking-boards of E along to 0 in\n piece felt felt-15 of E along to @\n piece deck plywood of N along from 0 in\n piece strip butyl-flashing along -4 in to 4 in behind felt bonds boards, deck\n piece wrap wrap-open of N along from 0 in\n seal wrap to strip with butyl-bead along 2 in\n}",
    },
];

#[test]
fn rules_speak_one_step_beyond_the_published_number_and_not_at_it() {
    let mut wrong = Vec::new();
    for limit in LIMITS {
        let speaks = |number: &str| {
            let text = format!(
                "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\nassembly W existing {{ outside; layer wrap-open controls water; inside }}\n{}\n",
                limit.detail.replace('@', number)
            );
            let report = review_text(&text);
            let unread: Vec<_> =
                report.findings.iter().filter(|f| &*f.rule == "syntax" || &*f.rule == "unknown-name").collect();
            assert!(unread.is_empty(), "{}: {unread:?}", limit.rule);
            report.findings.iter().any(|finding| &*finding.rule == limit.rule)
        };
        if speaks(limit.at) {
            wrong.push(format!("{} speaks at {} ({})", limit.rule, limit.at, limit.source));
        }
        if !speaks(limit.beyond) {
            wrong.push(format!("{} is silent at {} ({})", limit.rule, limit.beyond, limit.source));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
