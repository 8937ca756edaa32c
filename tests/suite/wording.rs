//! What findings say, where the words once misled: which piece, which surface, what to write.

use headlap::finding::{Finding, Level};
use headlap::output::{self, Look};
use headlap::text::{FileId, Span};

use crate::review::review_text;

/// The only finding of a rule on one detail, as message and advice.
fn reported(rule: &str, detail: &str) -> (String, String) {
    let text = format!(
        "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\n\
         detail d seam joins C {{\n{detail}\n}}\n"
    );
    let report = review_text(&text);
    let found: Vec<_> = report.findings.iter().filter(|finding| &*finding.rule == rule).collect();
    assert_eq!(found.len(), 1, "{:?}", report.findings);
    (found[0].message.clone(), found[0].fix.as_deref().unwrap_or_default().to_owned())
}

#[test]
fn a_sealant_names_both_of_its_surfaces() {
    let lines = "piece wall concrete\npiece wrap wrap-open along from 0 mm\n\
                 seal wrap to wall with silicone-sealant along 20 mm";
    let (message, fix) = reported("incompatible-seal", lines);
    assert!(message.contains("does not suit both `wrap` and `wall`"), "{message}");
    assert!(fix.contains("sticks to both `wrap` and `wall`"), "{fix}");
}

/// A piece called `back` is no adverb, and one called `right` no side. Names are alike wherever they come up, and within what is to
/// be written they stand as they are.
#[test]
fn names_in_sentences_stand_in_backticks() {
    let dam = |name: &str| {
        let lines = format!(
            "piece wall concrete up to 0 mm\npiece pan sill-pan as pan up -100 mm to 40 mm slope 1:16\n\
             piece {name} aluminum-flashing as back-dam up 40 mm to 70 mm"
        );
        reported("dry-end-dam", &lines).0
    };
    assert!(dam("back").starts_with("`back` is a dam that nothing joins"), "{}", dam("back"));
    assert!(dam("dam").starts_with("`dam` is a dam that nothing joins"), "{}", dam("dam"));
    let roof = "include \"stock.detail\"\nassembly R roof { slope 2 %; outside; layer tpo-membrane controls water, air; layer \
                polyurethane-board 150 mm controls thermal; layer plywood 18 mm; inside }\ndetail seam course joins R {\n\
                piece deck plywood of R\npiece board polyurethane-board of R\npiece left tpo-membrane of R up to 150 mm\n\
                piece right tpo-membrane of R up from 0 mm bonds left\n}\n";
    let findings = review_text(roof).findings;
    let seam = findings.iter().find(|finding| &*finding.rule == "seam-not-welded").expect("it is found");
    assert_eq!(seam.fix.as_deref(), Some("Weld `right` to `left`, and write `bonds left welded`."));
}

#[test]
fn a_lap_below_the_code_is_lowered_by_what_the_code_lacks_first() {
    let lines = "piece deck plywood\npiece low wrap-open up to 1/2 in\npiece high wrap-open up from 0 in";
    let (message, fix) = reported("head-lap-below-code", lines);
    assert_eq!(message, "`high` laps `low` by 1/2 in; the code requires 2 in (50 mm)");
    assert!(
        fix.ends_with("by 1-1/2 in to meet the code, or by 5-1/2 in for the 6 in (150 mm) of good practice."),
        "{fix}"
    );
}

#[test]
fn a_coping_is_measured_on_the_outermost_face_under_it() {
    let text = "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\n\
                detail d parapet joins C {\npiece ply plywood up to -1/2 in\npiece sheet wrap-open up to 0 in\n\
                piece brick brick-veneer up to 0 in\npiece coping aluminum-flashing up -1-1/4 in to 6 in with drip\n}\n";
    let findings = review_text(text).findings;
    let found: Vec<_> = findings.iter().filter(|finding| &*finding.rule == "short-coping-leg").collect();
    let [one] = &found[..] else { panic!("{found:?}") };
    assert!(one.message.starts_with("`coping` comes down over `brick` by 1-1/4 in,"), "{}", one.message);
}

#[test]
fn a_pan_called_pan_is_named_once() {
    for (name, noun) in [("pan", "the pan is"), ("sill-pan", "the pan `sill-pan` is"), ("Pan", "the pan is")] {
        let lines = format!("piece wall concrete\npiece {name} sill-pan up 0 mm to 50 mm as pan");
        let (message, fix) = reported("level-sill", &lines);
        assert!(message.starts_with(noun), "{message}");
        assert!(fix.contains(&format!("Slope `{name}` to the outside")), "{fix}");
    }
}

/// The steel lies behind the flashing, which catches the water.
#[test]
fn weeps_are_missed_above_the_flashing_and_not_above_the_steel_behind_it() {
    let lines = "piece wall concrete\npiece angle galvanized-flashing up 2090 mm to 2190 mm\n\
                 piece lintel rubber-flashing up 2080 mm to 2300 mm with drip\n\
                 piece veneer brick-veneer up from 2095 mm";
    let (message, fix) = reported("missing-weeps", lines);
    assert!(message.contains("`veneer` has no weeps right above `lintel`:"), "{message}");
    assert!(fix.contains("the course right above `lintel`"), "{fix}");
}

#[test]
fn one_low_ground_is_reported_once_with_all_that_stands_too_low() {
    let text = "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\n\
                detail d base-of-wall joins C {\ngrade up -100 mm\npiece stem concrete up to 0 mm\n\
                piece deck plywood up from 0 mm\npiece boards cedar-boards up from -20 mm\nWAIVE\n}\n";
    let found = |waive: &str| {
        let report = review_text(&text.replace("WAIVE", waive));
        report.findings.into_iter().filter(|finding| &*finding.rule == "clearance-to-grade").collect::<Vec<_>>()
    };
    let [one] = &found("")[..] else { panic!("{:?}", found("")) };
    assert_eq!(one.message, "`deck` ends 100 mm above grade; it must stay 150 mm or more above");
    assert!(one.related.iter().any(|r| r.message.starts_with("`boards` ends 80 mm above")), "{one:?}");
    assert_eq!(one.subject, ["deck".into(), "boards".into()]);
    // What is accepted for one of them leaves the other as it is.
    let two = found("waive clearance-to-grade on boards because \"paved\"");
    let reported: Vec<_> = two.iter().map(|finding| (&*finding.subject[0], finding.waived.is_some())).collect();
    assert_eq!(reported, [("deck", false), ("boards", true)]);
}

#[test]
fn a_single_height_is_shown_what_to_write() {
    let lines = "piece wall concrete\npiece wrap wrap-open up from 0 in\n\
                 fasten wrap with cap-staple every 16 in up 4 in";
    let (message, fix) = reported("syntax", lines);
    assert_eq!(message, "`up 4 in` is a single place; expected a range for `fasten`");
    assert_eq!(
        fix,
        "Write `up from 4 in`, `up to 4 in`, or both ends as in `up 0 mm to 150 mm`. \
         A single row is a narrow band: at 100 mm, `up 90 mm to 110 mm`."
    );
    let (message, fix) = reported("syntax", "piece wall concrete along 4 ft 2 in up from 0 in");
    assert_eq!(message, "`along 4 ft 2 in` is a single place; expected a range for `piece`");
    assert_eq!(fix, "Write `along from 4 ft 2 in`, `along to 4 ft 2 in`, or both ends as in `along 0 mm to 150 mm`.");
    let (message, _) = reported("syntax", "piece wall concrete up 0 mm ot 50 mm");
    assert!(message.starts_with("unexpected `ot`"), "{message}");
}

#[test]
fn slips_between_clauses_are_named() {
    let (message, fix) = reported("syntax", "piece wall concrete, up from 0 mm");
    assert_eq!(message, "unexpected comma in `piece`");
    assert_eq!(fix, "Delete it. Commas stand between names, not between clauses.");
    let (message, fix) = reported("syntax", "piece wall concrete from 0 mm to 150 mm");
    assert_eq!(message, "unexpected `from 0 mm to 150 mm` in `piece`");
    assert_eq!(fix, "Write `up` before it for heights, or `along` for places from left to right.");
}

#[test]
fn a_name_that_is_like_no_other_shows_where_to_look() {
    let (_, fix) = reported("unknown-name", "piece wall lumber");
    assert!(fix.starts_with("`headlap materials` lists those that come with headlap"), "{fix}");
    let (_, fix) = reported("unknown-name", "piece wall concrete\nfasten roof with cap-staple every 400 mm");
    assert_eq!(fix, "The pieces of this detail are `wall`.");
    let (_, fix) = reported("unknown-name", "piece wall concrete\nwaive nonsense because \"x\"");
    assert_eq!(fix, "`headlap rules list` lists them all.");
}

/// It lets through what comes down behind the boards.
#[test]
fn an_insect_screen_at_the_foot_of_the_boards_holds_up_no_water() {
    let base = |screen: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm controls water; inside }}\n\
             assembly W existing {{ outside; layer cedar-boards; layer vented-gap; layer wrap-open controls water; inside }}\n\
             detail d base-of-wall joins C to W {{\ngrade up -300 mm\npiece stem concrete of C up to 0 mm\n\
             piece cap aluminum-flashing up -40 mm to 80 mm with drip\npiece wrap wrap-open of W up from 20 mm\n{screen}\n\
             piece boards cedar-boards up from 0 mm\n}}\n"
        );
        review_text(&text).findings
    };
    assert_eq!(base(""), base("piece screen insect-screen up 0 mm to 25 mm"));
}

/// A name is never written otherwise than its author does.
#[test]
fn narrated_sentences_begin_with_a_capital_and_names_stay_as_they_are() {
    let finding = |message: &str| {
        let place = Span::new(FileId::detail(0), 0, 0);
        Finding::new("r", "Title", Level::Error, place, message).about(["wrap".into()])
    };
    let findings = vec![finding("air gets behind wrap"), finding("wrap is open"), finding("`wrap` is open")];
    let report = crate::outputs::of(findings, [], 1);
    let mut out = Vec::new();
    output::text(&report, Look { narrate: true, ..Look::PLAIN }, &mut out).expect("a vector takes all");
    let text = String::from_utf8(out).expect("text is UTF-8");
    for sentence in ["\nAir gets behind wrap.\n", "\nwrap is open.\n", "\n`wrap` is open.\n"] {
        assert!(text.contains(sentence), "{text}");
    }
}

#[test]
fn an_installation_sequence_says_nothing_twice() {
    let facts = crate::vocabulary::detail(
        "piece wall concrete\npiece pan sill-pan up 0 mm to 50 mm as pan\npiece gypsum gypsum up from 60 mm\n\
         seal pan to wall with butyl-bead up 20 mm\nfasten gypsum with staple every 400 mm",
    );
    let steps = output::sequence::sequence(&facts).steps;
    let acts: Vec<&str> = steps.iter().map(|step| step.act.as_str()).collect();
    assert_eq!(
        acts,
        [
            "Install `wall` (Cast concrete), over the whole face.",
            "Install `pan` (Formed metal sill pan), from 0 mm to 50 mm up.",
            "Install `gypsum` (Gypsum board, paper faced), from 60 mm up.",
            "Seal between `pan` and `wall` at 20 mm up, with butyl sealant.",
            "Fasten `gypsum` with one wire staple every 400 mm, over the whole face."
        ]
    );
}

#[test]
fn an_installation_sequence_says_how_each_bond_is_made() {
    let facts = crate::vocabulary::detail(
        "piece wall concrete\npiece field tpo-membrane up to 100 mm\n\
         piece turn tpo-membrane up 0 mm to 200 mm bonds field welded bonds wall clamped\n\
         piece tape flash-tape up 180 mm to 300 mm bonds wall primed\n\
         piece ply modified-bitumen up 0 mm to 50 mm bonds wall welded",
    );
    let steps = output::sequence::sequence(&facts).steps;
    let how = |step: usize, start: &str| steps[step].how.iter().any(|line| line.starts_with(start));
    assert!(how(2, "Weld it to `field` with hot air"), "{:?}", steps[2].how);
    assert!(how(2, "Clamp it to `wall`"), "{:?}", steps[2].how);
    assert!(how(3, "Prime first, then adhere it to `wall`"), "{:?}", steps[3].how);
    // Bitumen is torched or welded with hot air, and either is hot work.
    assert!(how(4, "Weld it to `wall` with a torch or hot air"), "{:?}", steps[4].how);
    assert!(steps[4].cautions.iter().any(|line| line.starts_with("Hot work")), "{:?}", steps[4].cautions);
    assert!(!steps[2].cautions.iter().any(|line| line.starts_with("Hot work")), "{:?}", steps[2].cautions);
}

/// The tape of the left jamb ends at 40 in, and the head is taped from 48 in.
#[test]
fn the_open_stretch_of_a_flange_is_named_where_it_has_two_ends() {
    let text = |up: [&str; 3], tapes: &str| {
        format!(
            "include \"stock.detail\"\nassembly W existing {{ outside; layer wrap-open controls air; inside }}\n\
             assembly O opening {{ outside; layer window-vinyl controls air; inside }}\ndetail D jamb joins W to O {{\n\
             piece wrap wrap-open of W\ncut wrap {} along 0 in to 36 in\n\
             piece unit window-vinyl of O {} along -1 in to 37 in\n\
             piece right flash-tape {} along 35 in to 40 in bonds unit, wrap rolled\n{tapes}\n}}\n",
            up[0], up[1], up[2]
        )
    };
    let said = |text: &str| {
        let report = review_text(text);
        let found: Vec<_> = report.findings.iter().filter(|f| &*f.rule == "unsealed-flange").collect();
        assert_eq!(found.len(), 1, "{:?}", report.findings);
        found[0].message.clone()
    };
    let tapes = "piece left flash-tape up -2 in to 40 in along -4 in to 1/2 in bonds unit, wrap rolled\n\
                 piece top flash-tape up 48 in to 52 in along -5 in to 41 in bonds unit, wrap rolled";
    let short = said(&text(["up 0 in to 48 in", "up -1 in to 49 in", "up -2 in to 51 in"], tapes));
    assert!(
        short.contains("left edge of `unit`, at -1 in, open along that edge from 40 in to 48 in: water"),
        "{short}"
    );
    let whole = said(&text(["", "", ""], ""));
    assert_eq!(whole, "nothing seals the flange at the left edge of `unit`, at -1 in: water and air get in behind it");
}

/// A unit is not slit: it goes behind the wrap, or the wrap is slit.
#[test]
fn an_order_that_cannot_be_built_says_both_sides_and_a_cure_that_can() {
    let sheets = "piece flap wrap-open up from 0 mm over cap\npiece apron felt-15 up 20 mm to 300 mm\n\
                  piece cap aluminum-flashing up -50 mm to 250 mm with drip";
    let (message, fix) = reported("impossible-stack", sheets);
    assert!(message.ends_with("both sides of `flap`: over it above 250 mm, and behind it below"), "{message}");
    assert!(
        fix.starts_with("Slit `flap` at 250 mm,") && fix.contains("name `flap` in the `behind` of `apron`"),
        "{fix}"
    );
    let flange = "piece wrap wrap-open up from 0 mm\npiece unit window-wood up to 30 mm\n\
                  piece cap aluminum-flashing up 20 mm to 120 mm with drip behind wrap over unit";
    let (message, fix) = reported("impossible-stack", flange);
    assert!(
        message.ends_with("`cap` is to lie over `unit` and behind `wrap`, but `unit` lies over `wrap`"),
        "{message}"
    );
    assert_eq!(fix, "Put `unit` behind `wrap`. Or slit `wrap`, and draw the flap as a separate piece.");
}

/// A slab and a flashing are no flue; what goes through a wall may be one.
#[test]
fn only_what_goes_through_a_wall_may_be_a_flue() {
    let fix = |kind: &str, piece: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\n\
             detail d {kind} joins C {{\npiece wall concrete\n{piece} slope -2 %\n}}\n"
        );
        let findings = review_text(&text).findings;
        let found = findings.iter().find(|finding| &*finding.rule == "falls-to-wall").expect("it falls to the wall");
        found.fix.clone().unwrap_or_default()
    };
    let pipe = fix("penetration", "piece pipe metal-pipe up -50 mm to 50 mm along -50 mm to 50 mm");
    assert!(pipe.contains("If `pipe` is a flue"), "{pipe}");
    let others = [
        ("base-of-wall", "piece stoop reinforced-concrete up -200 mm to 0 mm"),
        ("penetration", "piece stoop reinforced-concrete up -200 mm to 0 mm"),
        ("head", "piece cap aluminum-flashing up 0 mm to 100 mm"),
    ];
    for (kind, piece) in others {
        let fix = fix(kind, piece);
        assert!(fix.ends_with("by about 1/4 in per foot (2 %)."), "{fix}");
    }
}

/// The plate under the joint of two lengths of coping is no length of it: what is wrong with the lengths is said of these alone.
#[test]
fn a_splice_plate_is_no_coping() {
    let coping = |leg: &str, drip: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly W wall {{ outside; layer fiber-cement 8 mm; layer vented-gap 25 mm; layer wrap-adhered \
             controls water, air; layer glass-mat-sheathing 16 mm; inside }}\ndetail c parapet joins W {{\nfold up 0 mm sill\n\
             piece board glass-mat-sheathing of W up to 0 mm\npiece nailer treated-wood up 0 mm to 300 mm\n\
             piece wrap wrap-adhered of W up to 0 mm bonds board primed rolled\n\
             piece over butyl-flashing up from -150 mm bonds wrap, nailer primed rolled\npiece panel fiber-cement of W up to -5 mm\n\
             piece splice stainless-flashing up from {leg} along -100 mm to 100 mm slope -3 deg\n\
             piece left stainless-flashing as coping up from {leg} along to -3 mm slope -3 deg {drip}\n\
             piece right stainless-flashing as coping up from {leg} along from 3 mm slope -3 deg {drip}\n\
             seal left to splice with silicone-sealant along -50 mm\nseal right to splice with silicone-sealant along 50 mm\n}}\n"
        );
        let about = |finding: &Finding| (finding.rule.to_string(), finding.subject.first().map(ToString::to_string));
        review_text(&text).findings.iter().map(about).collect::<Vec<_>>()
    };
    let of = |rule: &str, piece: &str| (rule.to_owned(), Some(piece.to_owned()));
    assert_eq!(coping("-100 mm", ""), ["left", "right"].map(|piece| of("coping-without-drip", piece)));
    assert_eq!(coping("-25 mm", "with drip"), ["left", "right"].map(|piece| of("short-coping-leg", piece)));
}

/// The findings of a detail, as rule and first words of the message.
fn findings_of(text: &str) -> Vec<(String, String)> {
    review_text(text).findings.iter().map(|finding| (finding.rule.to_string(), finding.message.clone())).collect()
}

/// A guard wall of the same sheet on both sides, with boards in lengths over what is given.
fn guard_wall(over: &str) -> Vec<(String, String)> {
    findings_of(&format!(
        "include \"stock.detail\"\nassembly W wall {{ outside; layer fiber-cement 8 mm; layer vented-gap 19 mm; layer wrap-open controls \
         water, air; layer plywood 12 mm; inside }}\ndetail g parapet joins W {{\nfold up 0 mm sill\nfold up 150 mm outside-corner\n\
         slope -3 deg up 0 mm to 150 mm\npiece ply-o plywood of W up to 0 mm\npiece ply-i plywood of W up from 150 mm\n\
         piece nailer spruce up 0 mm to 150 mm\npiece wrap-o wrap-open of W up to 0 mm\npiece wrap-i wrap-open of W up from 150 mm\n\
         {over}\npiece boards-o fiber-cement of W up to -25 mm\npiece boards-i fiber-cement of W up from 175 mm\n\
         piece cap-l cedar-boards as coping up -50 mm to 200 mm along to 0 mm with drip\n\
         piece cap-r cedar-boards as coping up -50 mm to 200 mm along from 3 mm with drip\n}}\n"
    ))
}

/// The sheet of the other face begins at its corner: it is no membrane that should turn down the outer face. Boards cap a parapet, and are
/// not set in sealant as stone and metal are.
#[test]
fn a_guard_wall_is_judged_by_what_caps_it() {
    assert_eq!(
        guard_wall("piece over ice-barrier up -150 mm to 300 mm bonds wrap-o, nailer, wrap-i primed rolled"),
        []
    );
    for over in ["", "piece over ice-barrier up 75 mm to 300 mm bonds nailer, wrap-i primed rolled"] {
        let found = guard_wall(over);
        let rules: Vec<&str> = found.iter().map(|(rule, _)| &**rule).collect();
        assert!(rules.contains(&"bare-substrate"), "{found:?}");
        assert!(!rules.contains(&"top-membrane-short") && !rules.contains(&"missing-flashing"), "{found:?}");
    }
    let short = guard_wall("piece over ice-barrier up 0 mm to 300 mm bonds nailer, wrap-i primed rolled");
    assert!(
        short.iter().all(|(rule, message)| rule != "top-membrane-short" || message.starts_with("`over`")),
        "{short:?}"
    );
}

/// A block for a hose bib, taped in; `order` says what is installed when.
fn block(order: [&str; 4]) -> Vec<(String, String)> {
    let line = |name: &&str| match *name {
        "low" => "piece low wrap-open of W up to 250 mm\ncut low up -50 mm to 50 mm along -50 mm to 50 mm",
        "block" => "piece block bib up -100 mm to 100 mm along -100 mm to 100 mm\nseal block to low with butyl-bead",
        "strips" => {
            "piece left flash-tape up -130 mm to 130 mm along -180 mm to -60 mm bonds block, low rolled\n\
             piece right flash-tape up -130 mm to 130 mm along 60 mm to 180 mm bonds block, low rolled\n\
             piece top flash-tape up 60 mm to 180 mm along -200 mm to 200 mm bonds block, left, right, low rolled"
        }
        _ => "piece high wrap-open of W up from 80 mm",
    };
    findings_of(&format!(
        "include \"stock.detail\"\nmaterial bib unit {{ holds water, air; surface vinyl }}\nassembly W wall {{ outside; layer cedar-boards \
         19 mm; layer vented-gap 19 mm; layer wrap-open controls water, air; layer plywood 12 mm; inside }}\ndetail t penetration joins W {{\n\
         piece ply plywood of W\ncut ply up -50 mm to 50 mm along -50 mm to 50 mm\n{}\nseal high to low with butyl-bead up 230 mm\n}}\n",
        order.iter().map(line).collect::<Vec<_>>().join("\n")
    ))
}

/// One sheet that comes too early or too late is one mistake, whatever stands on it or sticks to it.
#[test]
fn one_piece_out_of_order_is_reported_once() {
    assert_eq!(block(["low", "block", "strips", "high"]), []);
    let early = block(["low", "high", "block", "strips"]);
    let behind: Vec<_> = early.iter().filter(|(rule, _)| rule == "reverse-lap").collect();
    assert!(behind.len() == 1 && behind[0].1.starts_with("the top edge of `block` is outboard of `high`"), "{early:?}");
    // A strip that alone comes too late is found all the same.
    let late = findings_of(&EARLY_STRIP.replace("ORDER", "piece block"));
    assert!(late.iter().any(|(rule, message)| rule == "reverse-lap" && message.contains("`top`")), "{late:?}");
    let late = block(["block", "strips", "low", "high"]);
    let dry: Vec<_> = late.iter().filter(|(rule, _)| rule == "bond-without-contact").collect();
    assert_eq!(dry.len(), 1, "three strips, and one sheet that comes too late: {late:?}");
}

/// The head strip goes on over the upper sheet, and the block below it is right.
const EARLY_STRIP: &str = "include \"stock.detail\"
material bib unit { holds water, air; surface vinyl }
assembly W wall { outside; layer cedar-boards 19 mm; layer vented-gap 19 mm; layer wrap-open controls water, air; layer plywood 12 mm; inside }
detail t penetration joins W {
  piece ply plywood of W
  cut ply up -50 mm to 50 mm along -50 mm to 50 mm
  piece low wrap-open of W up to 250 mm
  cut low up -50 mm to 50 mm along -50 mm to 50 mm
  ORDER bib up -100 mm to 100 mm along -100 mm to 100 mm
  seal block to low with butyl-bead
  piece high wrap-open of W up from 60 mm
  seal high to low with butyl-bead up 230 mm
  piece top aluminum-flashing up 50 mm to 180 mm along -200 mm to 200 mm
}
";

/// Beads on several sides say which of them is meant.
#[test]
fn beads_are_told_apart_by_their_places() {
    let text = "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\ndetail d penetration joins C {\n\
                piece wall concrete\npiece sheet epdm-membrane up -300 mm to 300 mm along -300 mm to 300 mm\n\
                seal sheet to wall with bitumen-mastic up -290 mm\nseal sheet to wall with bitumen-mastic along 290 mm\n}\n";
    let found = findings_of(text);
    let places: Vec<&str> = found
        .iter()
        .filter(|(rule, _)| rule == "incompatible-seal")
        .filter_map(|(_, message)| message.split(" does not suit").next())
        .collect();
    assert_eq!(places, ["`bitumen-mastic` at -290 mm", "`bitumen-mastic` at 290 mm"], "{found:?}");
}

/// A cure speaks of what is there: of metal where a piece is of metal, and of bringing down what can be brought down.
#[test]
fn cures_speak_of_the_piece_that_is_there() {
    let fix = |rule: &str, kind: &str, lines: &str| {
        let text = format!(
            "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\ndetail d {kind} joins C {{\n{lines}\n}}\n"
        );
        let findings = review_text(&text).findings;
        let found = findings.iter().find(|finding| &*finding.rule == rule);
        found.unwrap_or_else(|| panic!("{rule}: {findings:?}")).fix.clone().unwrap_or_default().to_string()
    };
    let coping = |material: &str| {
        let lines = format!("piece wall concrete up to 0 mm\npiece cap {material} as coping up -75 mm to 250 mm");
        fix("coping-without-drip", "parapet", &lines)
    };
    assert_eq!(
        coping("aluminum-flashing"),
        "Give the lower edge of `cap` a drip: bend it out, clear of the wall. Write `with drip`."
    );
    assert_eq!(
        coping("cast-stone"),
        "Give the lower edge of `cap` a drip: cut a throat into its underside. Write `with drip`."
    );
    let joint = |material: &str| {
        let lines = format!(
            "piece wall concrete up to 0 mm\npiece l {material} as coping up -75 mm to 250 mm along to 0 mm with drip\n\
             piece r {material} as coping up -75 mm to 250 mm along from 3 mm with drip"
        );
        fix("open-coping-joint", "parapet", &lines)
    };
    assert!(joint("aluminum-flashing").contains("splice plate") && !joint("aluminum-flashing").contains("backer rod"));
    assert!(joint("cast-stone").contains("backer rod") && !joint("cast-stone").contains("splice plate"));
    assert!(joint("cedar-boards").contains("membrane") && !joint("cedar-boards").contains("silicone"));
    let level =
        |piece: &str| fix("level-slab", "ledger", &format!("piece wall concrete\n{piece} slope level with drip"));
    assert!(level("piece cap aluminum-flashing up 0 mm to 100 mm").ends_with("or more: bend it so."));
    assert!(level("piece slab reinforced-concrete up -200 mm to 0 mm").ends_with("cast it so, or add a screed."));
    let open = |piece: &str| {
        fix(
            "open-joint",
            "course",
            &format!("piece wood plywood\npiece low wrap-open up to 0 mm\n{piece} up from 0 mm"),
        )
    };
    assert!(open("piece high wrap-open").contains("or bring `high` down over `low`."));
    assert!(!open("piece high window-wood").contains("down over"));
}
