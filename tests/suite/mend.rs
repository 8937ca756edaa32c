//! Cures as edits: what each makes of a text, and that nothing is offered that was not proved.

use std::fs;
use std::sync::Arc;

use headlap::mend::{Context, Cure, ReviewedCopy, apply, cures, waiver};
use headlap::model::{Material, SourceMap};
use headlap::review::{review_alone, review_text};
use headlap::rules::{Literal, whole_text};
use headlap::syntax;
use headlap::text::{FileId, Source};
use rayon::prelude::*;

use crate::command::{run, scratch, write};
use crate::review::{TODAY, pack};

fn materials(text: &str) -> Vec<Arc<Material>> {
    let fetch = |path: &str| Err(format!("there is no {path}"));
    let source = Arc::new(Source::new(FileId::detail(0), "a.detail", text));
    SourceMap::new(&fetch, &pack().words).read(source).library.all_materials().into_iter().cloned().collect()
}

/// Calls a function with the context of the first finding of a rule.
fn with<T>(text: &str, rule: &str, work: impl FnOnce(&Context<'_>) -> T) -> T {
    let reviewed = review_alone(pack(), text, TODAY, true);
    let checked = &reviewed.checked[0];
    let finding = checked.findings.iter().find(|finding| &*finding.rule == rule && finding.open());
    let finding = finding.unwrap_or_else(|| panic!("{rule} is found in\n{text}"));
    let (document, _) = syntax::read(&checked.source);
    let facts = checked.facts.details.iter().find(|facts| finding.item.as_ref() == Some(&facts.detail.name));
    let materials = materials(text);
    work(&Context { source: &checked.source, document: &document, facts, materials: &materials, pack: pack(), finding })
}

fn trial(text: &str) -> ReviewedCopy {
    let run = review_alone(pack(), text, TODAY, true);
    let details = run.checked.into_iter().flat_map(|own| own.facts.details).collect();
    ReviewedCopy { findings: run.report.findings, details }
}

pub fn cures_of(text: &str, rule: &str) -> Vec<Cure> {
    with(text, rule, |case| cures(case, &trial))
}

/// A wall with these lines in its detail.
fn wall(lines: &str) -> String {
    format!(
        "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\n\
         detail D course joins C {{\n{lines}}}\n"
    )
}

/// The first cure of a finding, and the lines that it leaves of the detail.
fn first(lines: &str, rule: &str) -> (String, String) {
    let text = wall(lines);
    let cure = cures_of(&text, rule).into_iter().next().unwrap_or_else(|| panic!("{rule} has a cure in\n{text}"));
    let new = apply(&text, &cure.edits).expect("the edits fit");
    let body = new.split_once("joins C {\n").expect("a detail").1;
    (cure.title, body.trim_end().trim_end_matches('}').to_owned())
}

#[test]
fn a_step_is_moved() {
    let lines = "  piece deck  plywood\n  piece high  wrap-open  up from 0 mm  # first\n  piece low   wrap-open  up to 150 mm\n";
    let (title, text) = first(lines, "reverse-lap");
    assert_eq!(title, "Install `low` before `high`");
    let moved = "  piece deck  plywood\n  piece low   wrap-open  up to 150 mm\n  piece high  wrap-open  up from 0 mm  # first\n";
    assert_eq!(text, moved);
}

#[test]
fn an_edge_is_carried_on_to_the_limit() {
    let lines = "  piece deck  plywood\n  piece low   wrap-open  up to 100 mm\n  piece high  wrap-open  up from 0 mm\n";
    let (title, text) = first(lines, "short-head-lap");
    assert_eq!(title, "Extend the top of `low` to 150 mm", "as the cure of the rule says");
    assert!(text.contains("piece low   wrap-open  up to 150 mm\n"), "{text}");
}

#[test]
fn a_word_is_added() {
    let lines = "  piece deck  plywood\n  piece strip  acrylic-tape  up 0 mm to 100 mm  bonds deck\n";
    let (title, text) = first(lines, "not-rolled");
    assert_eq!(title, "Add `rolled` to `strip`");
    assert!(text.contains("bonds deck rolled\n"), "{text}");
    let block = "  piece deck  plywood\n  piece strip  acrylic-tape {\n    up 0 mm to 100 mm; bonds deck\n  }\n";
    let (_, text) = first(block, "not-rolled");
    assert!(text.contains("bonds deck; rolled\n  }"), "{text}");
}

#[test]
fn a_spacing_is_drawn_closer() {
    let lines = "  piece deck  plywood\n  piece wrap  wrap-open\n  fasten wrap with cap-staple every 900 mm\n";
    let (title, text) = first(lines, "fastener-spacing");
    assert_eq!(title, "Space them 400 mm apart");
    assert!(text.contains("every 400 mm"), "{text}");
}

#[test]
fn fasteners_are_kept_clear_of_a_tape() {
    let lines = "  piece deck   plywood\n  piece left   wrap-open     along to 160 mm\n  piece right  wrap-open     along from 0 mm\n  fasten right with cap-staple every 400 mm along from 20 mm\n  piece band   acrylic-tape  along -40 mm to 40 mm  bonds left, right  rolled\n";
    let (title, text) = first(lines, "tape-over-fastener");
    assert_eq!(title, "Start the fasteners of `right` at 65 mm");
    assert!(text.contains("every 400 mm along from 65 mm"), "{text}");
}

#[test]
fn a_limit_is_kept() {
    let text = "include \"stock.detail\"\nassembly W wall {\n  outside\n  layer cedar-boards 19 mm\n  layer vented-gap 9 mm\n  layer wrap-open controls water, air\n  layer plywood 12 mm\n  inside\n}\n";
    let (title, new) = mended(text, "narrow-vent");
    assert_eq!(title, "Change `layer vented-gap 9 mm` to 10 mm");
    assert!(new.contains("layer vented-gap 10 mm\n"), "{new}");
}

#[test]
fn a_sheet_that_stops_short_is_brought_to_lap() {
    let lines =
        "  piece deck  plywood\n  piece low   wrap-open  up to 150 mm\n  piece high  wrap-open  up from 190 mm\n";
    let (title, text) = first(lines, "bare-substrate");
    assert_eq!(title, "Extend the top of `low` to 340 mm");
    assert!(text.contains("piece low   wrap-open  up to 340 mm\n"), "{text}");
}

#[test]
fn a_control_is_given_to_a_layer_that_can_provide_it() {
    let text =
        "include \"stock.detail\"\nassembly A wall { outside; layer felt-15; layer plywood controls air; inside }\n";
    let titles: Vec<String> = cures_of(text, "control-undeclared").into_iter().map(|cure| cure.title).collect();
    assert_eq!(titles, ["Assign water control to `felt-15`"]);
}

/// What is made for linings does not keep rain out.
#[test]
fn a_bead_outside_holds_water() {
    let text = "include \"stock.detail\"\n\
        assembly F existing { outside; layer concrete 200 mm controls air; inside }\n\
        assembly W existing { outside; layer wrap-open controls air; inside }\n\
        detail side wall-to-existing joins W to F {\n\
        piece old     concrete           of F  along to 0 mm\n\
        piece corner  aluminum-flashing        along -100 mm to 100 mm\n\
        seal  corner to old with silicone-sealant along -80 mm\n\
        piece wrap    wrap-open          of W  along from -60 mm\n}\n";
    let titles: Vec<String> = cures_of(text, "unsealed-transition").into_iter().map(|cure| cure.title).collect();
    assert_eq!(titles.first().map(String::as_str), Some("Seal `wrap` to `corner` with butyl-bead"), "{titles:?}");
    assert!(titles.iter().all(|title| !title.contains("acrylic-sealant")), "{titles:?}");
}

/// A wall is built before what is fixed to it, and a tape is no wider than tapes are sold.
#[test]
fn nothing_is_offered_that_nobody_can_do() {
    let lines = "  piece wrap   wrap-open  up from 0 mm\n  piece stone  concrete   up to 150 mm\n  piece low    wrap-open  up to 150 mm\n";
    let text = wall(lines);
    let reviewed = review_text(pack(), &text, TODAY);
    for finding in reviewed.iter().filter(|finding| finding.open()) {
        let cures = with(&text, &finding.rule, |case| cures(case, &trial));
        assert!(cures.iter().all(|cure| !cure.title.ends_with("before stone")), "{cures:?}");
    }
}

/// A retarder that passes no vapor gives way to one that does in summer; what the file draws of it follows, and what belongs to another
/// assembly stays.
#[test]
fn another_material_is_used_for_a_layer() {
    let wall = |name: &str, retarder: &str| {
        format!(
            "assembly {name} wall {{\n  climate here\n  outside\n  layer fiber-cement 8 mm\n  layer wrap-open  controls water, air\n  \
             layer plywood 12 mm\n  layer mineral-wool 140 mm  controls thermal  between spruce 38 mm at 400 mm\n  \
             layer {retarder}  controls vapor\n  layer gypsum 12.5 mm\n  inside\n}}\n"
        )
    };
    let text = format!(
        "include \"stock.detail\"\nclimate here {{ zone 4A }}\n{}{}detail D course joins W {{\n  piece film  poly-6mil of W  inside\n  piece film-2  poly-6mil of V  inside\n}}\n",
        wall("W", "poly-6mil"),
        wall("V", "poly-6mil"),
    );
    let (title, new) = mended(&text, "retarder-class-disputed");
    assert_eq!(title, "Use `responsive-retarder` in place of `poly-6mil`");
    assert!(new.contains("piece film  responsive-retarder of W"), "{new}");
    assert!(new.contains("piece film-2  poly-6mil of V"), "{new}");
    assert_eq!(new.matches("layer poly-6mil").count(), 1, "{new}");
}

/// Right inboard of the insulation, whichever way the assembly is written.
#[test]
fn a_retarder_and_a_cavity_are_added_where_they_belong() {
    let layers = [
        "outside",
        "layer brick-veneer 90 mm",
        "layer wrap-open  controls water, air",
        "layer plywood 12 mm",
        "layer mineral-wool 140 mm  controls thermal  between spruce 38 mm at 400 mm",
        "layer gypsum 12.5 mm",
        "inside",
    ];
    let written =
        |lines: &[&str]| format!("include \"stock.detail\"\nassembly W wall {{\n  {}\n}}\n", lines.join("\n  "));
    let turned: Vec<&str> = layers.iter().rev().copied().collect();
    let us = written(&layers[..2])
        .replace("90 mm", "3-1/2 in")
        .replace("\n}", "\n  layer drained-gap 3/4 in\n  layer plywood 1/2 in controls water, air\n  inside\n}");
    assert_eq!(mended(&us, "narrow-cavity").0, "Make `drained-gap` 1 in wide", "{us}");
    for (lines, wanted) in [
        (&layers[..], "  layer brick-veneer 90 mm\n  layer drained-gap 25 mm\n"),
        (&turned[..], "  layer drained-gap 25 mm\n  layer brick-veneer 90 mm\n"),
    ] {
        let (title, new) = mended(&written(lines), "narrow-cavity");
        assert_eq!(title, "Add `drained-gap` inboard of `brick-veneer`");
        assert!(new.contains(wanted), "{new}");
    }
}

/// A strip that sticks to the frame alone is stuck to the sheet too, and no second one is laid over it.
#[test]
fn a_strip_is_stuck_to_the_other_side_too() {
    let hood = "include \"stock.detail\"\nassembly W existing { outside; layer wrap-open controls water, air; inside }\n\
        detail vent penetration joins W {\n\
        piece low     wrap-open of W\n\
        cut   low     up -50 mm to 50 mm along -50 mm to 50 mm\n\
        piece hood    vent-hood     up -80 mm to 80 mm    along -80 mm to 80 mm\n\
        piece side-l  flash-tape    up -110 mm to 145 mm  along -130 mm to -50 mm  bonds hood, low  rolled\n\
        piece side-r  flash-tape    up -110 mm to 145 mm  along 50 mm to 130 mm    bonds hood       rolled\n\
        piece top     flash-tape    up 30 mm to 130 mm    along -130 mm to 130 mm  bonds hood, low  rolled\n}\n";
    let cures = cures_of(hood, "unsealed-flange");
    assert!(cures.iter().any(|cure| cure.title == "Adhere `side-r` to `low`"), "{cures:?}");
}

#[test]
fn whoever_tests_rules_learns_of_an_edit_that_is_none() {
    let folder = scratch("mend/unknown");
    let table = |word: &str| {
        format!(
            "[[table]]\nname = 'cures'\nreplaces = true\ntitle = 'Edits'\nkeys = ['rule']\nrows = [\n  ['reverse-lap', '{word}'],\n]\n\n[[table.basis]]\nsource = 'practice'\nsays = 'so'\nknown = 'practice'\n"
        )
    };
    write(&folder, "headlap.toml", "rules = [\"own.toml\"]\n");
    write(&folder, "a.detail", "include \"stock.detail\"\n");
    write(&folder, "own.toml", &table("moev"));
    let (status, reported, _) = run(&folder, &["rules", "test", "own.toml"]);
    assert_eq!(status, 1, "{reported}");
    assert!(reported.contains("`moev` is not an edit; expected move, behind"), "{reported}");
    assert_eq!(run(&folder, &["review", "a.detail"]).0, 0, "a review goes on");
    write(&folder, "own.toml", &table("move"));
    let (status, reported, said) = run(&folder, &["rules", "test", "own.toml"]);
    assert_eq!(status, 0, "{reported}{said}");
}

/// The nearest name. What the text means once it is read may be wrong in other ways, which were there before.
#[test]
fn a_name_is_mended() {
    let (title, text) = first("  piece deck  plywod\n", "unknown-name");
    assert_eq!((title.as_str(), text.as_str()), ("Change plywod to plywood", "  piece deck  plywood\n"));
}

#[test]
fn a_waiver_asks_for_its_reason() {
    let text =
        wall("  piece deck  plywood\n  piece high  wrap-open  up from 0 mm\n  piece low   wrap-open  up to 150 mm\n");
    let cure = with(&text, "reverse-lap", waiver).expect("rules can be waived");
    let new = apply(&text, &cure.edits).expect("the edits fit");
    assert!(new.contains("up to 150 mm\n  waive reverse-lap on low because \"state the reason\"\n}"), "{new}");
    assert!(review_text(pack(), &new, TODAY).iter().all(|f| &*f.rule != "reverse-lap" || f.waived.is_some()));
    let unread = wall("  piece deck  plywod\n");
    assert_eq!(with(&unread, "unknown-name", waiver), None, "what cannot be read is not accepted");
}

/// A flashing is drawn whole where one is missing; one that only ends too soon is carried on, so that no two lie there.
#[test]
fn a_flashing_is_drawn_whole() {
    let lines = "  piece deck    plywood\n  piece low     wrap-open     up to 250 mm\n  piece ledger  treated-wood  up -235 mm to 0 mm\n  piece high    wrap-open     up from 50 mm\n  seal high to low with butyl-bead up 200 mm\n";
    let ledger = |lines: &str| wall(lines).replace("detail D course", "detail D ledger");
    let done = |lines: &str, rule: &str| {
        let text = ledger(lines);
        let cure = cures_of(&text, rule).into_iter().next().unwrap_or_else(|| panic!("{rule} has a cure in\n{text}"));
        (cure.title, apply(&text, &cure.edits).expect("the edits fit"))
    };
    let (title, text) = done(lines, "missing-flashing");
    assert_eq!(title, "Draw a cap at the top of `ledger`");
    let drawn = "0 mm\n  piece cap galvanized-flashing up -40 mm to 150 mm with drip\n  piece high";
    assert!(text.contains(drawn), "behind the sheet above: {text}");
    let short = lines
        .replace("  piece high", "  piece lid     galvanized-flashing  up 10 mm to 150 mm  with drip\n  piece high");
    let (title, text) = done(&short, "uncapped-ledger");
    assert_eq!(title, "Extend the foot of `lid` to -40 mm");
    assert_eq!(text.matches("galvanized-flashing").count(), 1, "{text}");
}

/// Across the edge of a hood it runs no farther than past the hood.
#[test]
fn a_tape_ends_with_what_it_seals() {
    let hood = "include \"stock.detail\"\nassembly W existing { outside; layer wrap-open controls water, air; inside }\n\
        detail vent penetration joins W {\n\
        piece low     wrap-open of W  up to 250 mm\n\
        cut   low     up -50 mm to 50 mm along -50 mm to 50 mm\n\
        piece apron   flash-tape      up -130 mm to -40 mm  along -130 mm to 130 mm  bonds low        rolled\n\
        piece hood    vent-hood       up -80 mm to 80 mm    along -80 mm to 80 mm\n\
        piece side-l  flash-tape      up -110 mm to 145 mm  along -130 mm to -50 mm  bonds hood, low  rolled\n\
        piece side-r  flash-tape      up -110 mm to 145 mm  along 50 mm to 130 mm    bonds hood, low  rolled\n\
        piece high    wrap-open of W  up from 90 mm\n\
        seal  high to low with butyl-bead up 200 mm\n}\n";
    let cures = cures_of(hood, "unsealed-flange");
    let tape = "piece tape flash-tape up 30 mm to 130 mm along -130 mm to 130 mm bonds hood, low rolled\n";
    let taped = cures.iter().find(|cure| cure.edits[0].text == tape).unwrap_or_else(|| panic!("{cures:?}"));
    let text = apply(hood, &taped.edits).expect("the edits fit");
    assert!(
        text.contains(&format!("{tape}piece high")),
        "over the strips at the jambs, which were there first: {text}"
    );
}

/// A detail between these assemblies with these lines.
fn joint(kind: &str, lines: &str) -> String {
    format!(
        "include \"stock.detail\"\n\
         assembly F foundation {{ outside; layer concrete 200 mm controls water, air; inside }}\n\
         assembly W wall {{ outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }}\n\
         detail D {kind} joins F to W {{\n{lines}}}\n"
    )
}

fn mended(text: &str, rule: &str) -> (String, String) {
    let cure = cures_of(text, rule).into_iter().next().unwrap_or_else(|| panic!("{rule} has a cure in\n{text}"));
    let new = apply(text, &cure.edits).expect("the edits fit");
    (cure.title, new)
}

/// A strip on the face of the sheet goes behind it, onto what is there; the bead between the two stays.
#[test]
fn a_strip_is_installed_before_the_sheet_that_has_to_lap_it() {
    let text = joint(
        "base-of-wall",
        "  piece stem   concrete    of F  up to 0 mm\n  piece deck   plywood     of W  up from 0 mm\n  piece wrap   wrap-open   of W  up from -25 mm\n  piece strip  flash-tape        up -75 mm to 100 mm  bonds stem, wrap  rolled primed\n  seal wrap to strip with butyl-bead up -10 mm\n",
    );
    let (title, new) = mended(&text, "lap-relies-on-seal");
    assert_eq!(title, "Install `strip` before `wrap`, bonded to `deck`");
    let strip = "piece strip  flash-tape        up -75 mm to 100 mm  bonds stem, deck  rolled primed\n  piece wrap ";
    assert!(new.contains(strip), "{new}");
}

/// Carried down over the strip, the sheet is open to air where it meets the strip: the second edit seals it there.
#[test]
fn what_the_first_edit_brings_the_second_cures() {
    let text = joint(
        "base-of-wall",
        "  piece stem   concrete    of F  up to 0 mm\n  piece deck   plywood     of W  up from 0 mm\n  piece strip  flash-tape        up -75 mm to 100 mm  bonds stem, deck  rolled primed\n  piece wrap   wrap-open   of W  up from 120 mm\n",
    );
    let (title, new) = mended(&text, "bare-substrate");
    assert_eq!(title, "Extend the foot of `wrap` to -50 mm, and seal `wrap` to `strip` with butyl-bead");
    assert!(new.contains("up from -50 mm\n") && new.contains("seal wrap to strip with butyl-bead\n"), "{new}");
}

/// An edge ends at a round length, a little farther on than it has to.
#[test]
fn edges_are_carried_to_round_lengths() {
    let lines = "  piece deck  plywood\n  piece low   wrap-open  up to 1 in\n  piece high  wrap-open  up from 1/4 in\n";
    let (title, _) = mended(&wall(lines), "head-lap-below-code");
    assert!(title.ends_with(" in") && !title.contains('.'), "{title}");
}

#[test]
fn plastic_sheets_are_welded() {
    let text = "include \"stock.detail\"\n\
        assembly R roof { slope 2 %; outside; layer tpo-membrane controls water, air; layer plywood 18 mm; inside }\n\
        detail S course joins R {\n\
        piece deck plywood      of R\n\
        piece low  tpo-membrane of R  up to 100 mm\n\
        piece high tpo-membrane of R  up from 0 mm\n}\n";
    let (title, new) = mended(text, "unsealed-roof-seam");
    assert_eq!(title, "Weld `high` to `low`");
    assert!(new.contains("up from 0 mm bonds low welded\n"), "{new}");
}

#[test]
fn a_bead_is_tooled_against_a_rod_and_half_as_deep_as_wide() {
    let text = joint(
        "base-of-wall",
        "  piece stem   concrete  of F  up to 0 mm\n  piece deck   plywood   of W  up from 0 mm\n  piece wrap   wrap-open of W  up from -50 mm\n  seal wrap to stem with silicone-sealant up -20 mm width 12 mm depth 20 mm\n",
    );
    let (title, new) = mended(&text, "deep-joint");
    assert_eq!(title, "Make the bead 6 mm deep, against backer-rod");
    assert!(new.contains("width 12 mm depth 6 mm on backer-rod\n"), "{new}");
}

/// Metal is fixed to what is built: a head flashing goes on after the sheathing.
#[test]
fn a_flashing_is_not_installed_before_the_wall() {
    let text = "include \"stock.detail\"\n\
        assembly W wall { outside; layer fiber-cement 8 mm; layer vented-gap 19 mm; layer wrap-open controls water, air; layer plywood 12 mm; inside }\n\
        assembly O opening { outside; layer window-vinyl controls water, air; inside }\n\
        detail H head joins W to O {\n\
        fold up 0 mm head\n\
        piece deck   plywood      of W  up from 0 mm\n\
        piece low    wrap-open    of W  up 0 mm to 400 mm\n\
        piece unit   window-vinyl of O  up to 30 mm  along 0 mm to 900 mm\n\
        piece tape   flash-tape         up 0 mm to 100 mm  along -100 mm to 1000 mm  bonds unit, low  rolled\n\
        piece flap   wrap-open    of W  up from 50 mm\n\
        seal flap to low with butyl-bead up 350 mm\n\
        piece siding fiber-cement of W  up from 40 mm\n}\n";
    let cures = cures_of(text, "missing-head-drip");
    assert!(cures.iter().any(|cure| cure.title.starts_with("Draw a head flashing")), "{cures:?}");
    for cure in cures {
        let new = apply(text, &cure.edits).expect("the edits fit");
        let drawn = new.find(" as head-flashing");
        assert!(drawn.is_none_or(|at| at > new.find("piece unit").expect("it stays")), "{new}");
    }
}

/// Rules whose examples need more edits than two, with the reason. What they mend is tested by itself.
const MENDED_ELSEWHERE: &[(&str, &str)] = &[
    (
        "missing-flashing",
        "one sheet goes behind the ledger: a cap comes behind a sheet that laps it, which is to be drawn first",
    ),
    ("missing-step-flashing", "step flashing along a side wall wants a kick-out too, and the example has neither"),
    ("sealed-to-cladding", "the box of the example goes on after the cladding, and touches nothing behind it"),
    (
        "unsealed-unit",
        "the unit of the example is sealed at one side, and a second bead to the same piece cannot be drawn",
    ),
    (
        "retarder-short-of-drain",
        "the retarder of the example stops short of the drain, and has to be carried there first",
    ),
    ("unvented-roof", "the roofs of the examples have no closed gap to be vented, as a roof of slates has"),
];

#[test]
fn what_examples_do_not_show_is_mended() {
    let penetration = "include \"stock.detail\"\n\
        assembly V wall { outside; layer fiber-cement 8 mm; layer wrap-open controls water, air; layer plywood 12 mm; inside }\n\
        detail P penetration joins V {\n\
        piece deck   plywood      of V\n\
        piece wrap   wrap-open    of V\n\
        piece box    vent-hood          up -50 mm to 50 mm  along -50 mm to 50 mm\n\
        piece boards fiber-cement of V\n\
        cut   boards up -50 mm to 50 mm along -50 mm to 50 mm\n\
        seal  box to boards with polyurethane-sealant\n}\n";
    let (title, _) = mended(penetration, "sealed-to-cladding");
    assert!(title.starts_with("Seal `box` to `wrap` with "), "{title}");
}

/// Each rule that has edits mends one of its own examples, and what it leaves has no finding that was not there.
#[test]
fn rules_mend_their_own_examples() {
    let table = pack().tables.iter().find(|table| &*table.name == "cures").expect("the table is there");
    let mut rules: Vec<String> = table
        .rows
        .iter()
        .filter_map(|row| match &row.keys[0] {
            Some(Literal::Word(rule)) => Some(rule.to_string()),
            _ => None,
        })
        .collect();
    rules.dedup();
    rules.sort();
    rules.dedup();
    let idle: Vec<String> = rules
        .into_par_iter()
        .filter(|id| !MENDED_ELSEWHERE.iter().any(|(elsewhere, _)| elsewhere == id))
        .filter(|id| {
            let rule = pack().rule(id).unwrap_or_else(|| panic!("{id} is a rule"));
            let fails = pack().examples(rule).into_iter().filter(|example| example.fails);
            !fails.into_iter().any(|example| mends(&whole_text(&example.text), id))
        })
        .collect();
    assert_eq!(idle, [""; 0], "{} rules mend none of their examples", idle.len());
}

fn mends(text: &str, rule: &str) -> bool {
    let before = review_text(pack(), text, TODAY);
    let found = cures_of(text, rule);
    for cure in &found {
        let after = review_text(pack(), &apply(text, &cure.edits).expect("the edits fit"), TODAY);
        let same = |a: &headlap::finding::Finding, b: &headlap::finding::Finding| a.rule == b.rule && a.item == b.item;
        let new = after.iter().filter(|f| f.open()).find(|f| !before.iter().any(|b| same(b, f)));
        assert!(new.is_none(), "{rule}: {} brings {:?} to\n{text}", cure.title, new.map(|f| &f.message));
        let own = |list: &[headlap::finding::Finding]| list.iter().filter(|f| &*f.rule == rule).count();
        assert!(own(&after) < own(&before), "{rule}: {} clears nothing", cure.title);
    }
    !found.is_empty()
}

/// From the shell: a diff that writes nothing, then the files.
#[test]
fn the_shell_mends_files() {
    let folder = scratch("mend/shell");
    let text =
        wall("  piece deck  plywood\n  piece high  wrap-open  up from 0 mm\n  piece low   wrap-open  up to 150 mm\n");
    let path = write(&folder, "a.detail", &text);
    let (status, diff, said) = run(&folder, &["review", "a.detail", "--fix", "--dry-run"]);
    assert_eq!((status, said.as_str()), (1, ""), "{diff}");
    assert!(diff.contains("--- a.detail\n+++ a.detail\n"), "{diff}");
    assert!(diff.contains("\n-  piece low   wrap-open  up to 150 mm\n"), "{diff}");
    assert_eq!(fs::read_to_string(&path).expect("it is there"), text, "nothing was written");
    let (status, reported, said) = run(&folder, &["review", "a.detail", "--fix"]);
    assert_eq!((status, said.as_str()), (0, ""), "{reported}");
    assert!(reported.starts_with("a.detail:6: reverse-lap: Install `low` before `high`\n"), "{reported}");
    let mended = fs::read_to_string(&path).expect("it is there");
    assert!(mended.find("piece low") < mended.find("piece high"), "{mended}");
    let (status, diff, _) = run(&folder, &["review", "a.detail", "--fix", "--dry-run"]);
    assert_eq!((status, diff.as_str()), (0, ""), "once is enough");
    assert_eq!(run(&folder, &["review", "-", "--fix"]).0, 2);
    assert_eq!(run(&folder, &["review", "a.detail", "--dry-run"]).0, 2, "--dry-run belongs to --fix");
}

/// The report shows what would be done, and only what was proved.
#[test]
fn the_report_shows_proved_edits() {
    let folder = scratch("mend/edits");
    let text =
        wall("  piece deck  plywood\n  piece high  wrap-open  up from 0 mm\n  piece low   wrap-open  up to 150 mm\n");
    write(&folder, "a.detail", &text);
    let (status, reported, _) = run(&folder, &["review", "a.detail", "--edits"]);
    assert_eq!(status, 1);
    let after = reported.split_once("  To do ").expect("something is to be done").1;
    assert!(after.contains("  Edit      Install `low` before `high`. It was tried"), "{reported}");
    assert!(after.contains("            - piece low   wrap-open  up to 150 mm\n"), "{reported}");
    assert!(after.contains("            + piece low   wrap-open  up to 150 mm\n"), "{reported}");
    let plain = run(&folder, &["review", "a.detail"]).1;
    let edits = ["  Edit ", "            - piece", "            + piece", "            this finding"];
    let without: Vec<&str> = reported.lines().filter(|line| !edits.iter().any(|edit| line.starts_with(edit))).collect();
    assert_eq!(without, plain.lines().collect::<Vec<_>>(), "nothing else is told");
    let spoken = run(&folder, &["review", "a.detail", "--edits", "--narrate"]).1;
    assert!(spoken.contains("Install `low` before `high`."), "{spoken}");
    let json = |more: &[&str]| run(&folder, &[&["review", "a.detail", "--format", "json"], more].concat()).1;
    assert_eq!(json(&["--edits"]), json(&[]), "outputs for programs stay");
}
