//! Edits that clear their finding and harm the building: none of them is offered.

use headlap::mend::apply;
use headlap::review::review_text;

use crate::command::{run, scratch, write};
use crate::mend::cures_of;
use crate::review::{TODAY, pack};

const PARTS: &str = include_str!("parts.detail");

/// No cure of any finding leaves one of these lines in the text.
fn never(detail: &str, harmful: &[&str]) {
    let text = format!("{PARTS}{detail}");
    let mut found = review_text(pack(), &text, TODAY);
    found.retain(|finding| finding.open());
    assert!(!found.is_empty(), "something is wrong with\n{detail}");
    for cure in found.iter().flat_map(|finding| cures_of(&text, &finding.rule)) {
        let new = apply(&text, &cure.edits).expect("the edits fit");
        let bad = harmful.iter().find(|line| new.contains(**line));
        assert_eq!(bad, None, "{}", cure.title);
    }
}

/// When something is installed and how long it stays uncovered is given, whatever edit a firm's table names.
#[test]
fn what_is_given_stays() {
    let folder = scratch("harm/given");
    let own = "[[table]]\nname = 'cures'\nreplaces = true\ntitle = 'Edits'\nkeys = ['rule']\nrows = [\n  ['uv-overrun', 'limit'],\n]\n\n[[table.basis]]\nsource = 'practice'\nsays = 'so'\nknown = 'practice'\n";
    let text = "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\ndetail D course joins C {\n  piece deck  plywood\n  piece wrap  wrap-open\n  exposed 200 days\n}\n";
    write(&folder, "headlap.toml", "rules = [\"own.toml\"]\n");
    write(&folder, "own.toml", own);
    write(&folder, "a.detail", text);
    let (status, reported, _) = run(&folder, &["review", "a.detail", "--edits"]);
    assert_eq!(status, 1, "{reported}");
    assert!(reported.contains("uv-overrun") && !reported.contains("  Edit "), "{reported}");
}

/// A sheet over the drip of a head flashing holds what should run out there.
#[test]
fn nothing_is_carried_down_over_a_drip() {
    never(include_str!("sheet-at-head.detail"), &["up from -60 mm"]);
    never(include_str!("wool-at-head.detail"), &["board   of W1  up from -10 mm"]);
}

/// No tape and no bead ties a head flashing to the unit below it.
#[test]
fn nothing_is_stuck_to_an_outlet() {
    never(include_str!("no-strip-at-head.detail"), &["bonds cap, window", "seal cap to window", "seal window to cap"]);
}

/// A window on a pan drains onto it.
#[test]
fn nothing_is_sealed_along_the_foot_of_a_unit() {
    never(include_str!("short-pan.detail"), &["seal wrap to window", "seal window to wrap"]);
}

/// The upper leg of a flashing goes behind the sheet.
#[test]
fn nothing_is_added_outboard_of_insulation() {
    never(
        include_str!("no-head-flashing.detail"),
        &[
            "up from 5 mm\n  piece head-flashing",
            "up from 40 mm  bonds strip, board  primed rolled\n  piece head-flashing",
        ],
    );
    never(
        include_str!("no-through-wall-flashing.detail"),
        &["mineral-wool-board  of W2  up to -10 mm\n  piece through-wall"],
    );
}

/// A lap of two millimetres holds no bead.
#[test]
fn nothing_is_bedded_where_two_hardly_touch() {
    never(include_str!("brick-at-jamb.detail"), &["seal brick to strip"]);
    never(include_str!("membrane-at-parapet.detail"), &["seal upstand to mem"]);
}

/// A slab under the insulation is sealed to nothing on its face.
#[test]
fn nothing_is_sealed_through_a_board() {
    never(include_str!("upturn-at-wall.detail"), &["seal slab to upturn"]);
    never(include_str!("terrace-sheet.detail"), &["seal ply to vapor"]);
}

/// What is fixed to the face of the cladding moves with it.
#[test]
fn nothing_is_sealed_to_trim() {
    never(include_str!("trim-at-corner.detail"), &["seal wrap to cover"]);
}

/// A coat ends at the wall.
#[test]
fn nothing_is_painted_over_a_frame() {
    never(include_str!("coat-at-jamb.detail"), &["liquid-membrane     of W2  along to 62 mm"]);
}

/// An end dam is no pan, a cleat no coping.
#[test]
fn nothing_is_stretched() {
    never(include_str!("narrow-pan.detail"), &["along 0 mm to 50 mm"]);
    never(include_str!("no-coping.detail"), &["up -80 mm to 360 mm"]);
}
