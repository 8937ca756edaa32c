//! How wide a section through an opening is: what it shows, and that nothing beyond is judged.

use std::sync::atomic::{AtomicUsize, Ordering};

use headlap::facts::face::{Extent, MILLIMETRE};

use crate::drawing::folder;
use crate::review::review_text;

const HEAD: &str = "include \"stock.detail\"\n\
    assembly W wall { outside; layer fiber-cement 8 mm; layer vented-gap 19 mm; layer wrap-open controls water, air; layer plywood 12 mm; inside }\n\
    assembly O opening { outside; layer door-unit controls water, air, thermal; inside }\n";

/// A threshold with a pan and a door of these widths, its dams at the ends of the pan, and one more line.
fn threshold(pan: &str, door: &str, more: &str) -> String {
    format!(
        "{HEAD}detail T threshold joins W to O {{\n  fold up 0 mm sill\n{more}  piece ply plywood of W up to 0 mm\n  piece wrap wrap-open of W up to 0 mm\n\
         piece back sill-pan as back-dam up 125 mm to 150 mm {pan}\n  piece pan sill-pan as pan up -75 mm to 130 mm {pan} slope 4 deg with drip\n\
         seal pan to wrap with butyl-bead up -45 mm\n  seal back to pan with butyl-bead up 128 mm\n\
         piece left butyl-flashing as end-dam up -75 mm to 150 mm along -75 mm to 40 mm bonds pan, wrap rolled\n\
         piece right butyl-flashing as end-dam up -75 mm to 150 mm along 910 mm to 1025 mm bonds pan, wrap rolled\n\
         piece door door-unit of O up from 0 mm {door}\n  seal door to back with silicone-sealant up 135 mm\n}}\n"
    )
}

fn shown(text: &str) -> Extent {
    static COUNT: AtomicUsize = AtomicUsize::new(0);
    let run = folder(text, &format!("shown-{}", COUNT.fetch_add(1, Ordering::Relaxed)));
    run.checked[0].facts.details[0].shape().shown
}

fn ids(text: &str) -> Vec<String> {
    review_text(text).findings.iter().map(|finding| finding.rule.to_string()).collect()
}

fn mm(low: i64, high: i64) -> Extent {
    Extent { low: low * MILLIMETRE, high: high * MILLIMETRE }
}

#[test]
fn a_section_is_as_wide_as_its_unit_or_else_as_its_pan() {
    assert_eq!(shown(&threshold("along 0 mm to 950 mm", "along 10 mm to 940 mm", "")), mm(10, 940));
    assert_eq!(shown(&threshold("along 0 mm to 950 mm", "", "")), mm(0, 950));
    assert_eq!(shown(&threshold("", "", "")), Extent::OPEN);
    // A pan of 295 mm might be a corner piece.
    assert_eq!(shown(&threshold("along 0 mm to 295 mm", "", "")), Extent::OPEN);
    // A jamb that is drawn, and a wall that goes on beside the door, make an elevation of it.
    assert_eq!(shown(&threshold("along 0 mm to 950 mm", "", "  fold along 0 mm jamb\n")), Extent::OPEN);
    let beside = threshold("along 0 mm to 950 mm", "along 10 mm to 940 mm", "")
        .replace("plywood of W up to 0 mm", "plywood of W");
    assert_eq!(shown(&beside), Extent::OPEN);
}

#[test]
fn nothing_is_said_of_the_wall_beside_the_opening() {
    let text = threshold("along 0 mm to 950 mm", "", "");
    assert_eq!(ids(&text), Vec::<String>::new());
    // Within the opening all is judged as ever.
    let open = text.replace("seal pan to wrap with butyl-bead up -45 mm\n", "");
    assert!(ids(&open).contains(&"unsealed-edge".to_owned()), "{:?}", ids(&open));
}
