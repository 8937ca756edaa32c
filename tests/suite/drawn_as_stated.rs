//! What a third architect marked: a drawing says no more than the text and its facts, and no less.

use headlap::output::drawing::{self, Ink, Point, Role, Shape, Subject};
use headlap::review::Run;

use crate::drawing::{folder, water_of};
use crate::drawn_as_built::section;
use crate::drawn_at_folds::room;

const DETAILS: &str = "include \"stock.detail\"
assembly W wall { outside; layer fiber-cement 8 mm; layer vented-gap 20 mm; layer wrap-open controls water, air; layer plywood 12 mm; inside }
assembly B floor { slope 2 %; outside; layer liquid-membrane controls water; layer concrete 200 mm; inside }
detail LEDGER ledger joins W {
  piece deck plywood of W
  piece low wrap-open of W up to 150 mm
  piece backer butyl-flashing up -350 mm to 100 mm bonds low rolled
  piece ledger treated-wood up -250 mm to 0 mm
  piece cap stainless-flashing as head-flashing up -40 mm to 125 mm with drip
  piece high wrap-open of W up from 25 mm
  seal high to low with butyl-bead up 140 mm
  piece siding-low fiber-cement of W up to -275 mm
  piece siding-high fiber-cement of W up from 75 mm
}
detail BALCONY balcony joins B to W {
  fold up 0 mm base
  piece slab concrete of B up to 0 mm
  piece deck plywood of W up from 0 mm
  piece coat liquid-membrane of B up to 200 mm bonds slab, deck
  piece kick xps up 0 mm to 150 mm
  piece apron stainless-flashing as through-wall-flashing up 60 mm to 220 mm with drip
  piece wrap wrap-open of W up from 170 mm
  piece siding fiber-cement of W up from 180 mm
}
";

fn blue_of_elevation(run: &Run, name: &str) -> Vec<Vec<Point>> {
    let facts = run.checked[0].facts.details.iter().find(|f| &*f.detail.name == name).expect("the detail");
    let scene = drawing::elevation(&Subject::new(facts, &[]));
    let mut found = Vec::new();
    for shape in scene.groups(Role::Drop).into_iter().flatten() {
        if let Shape::Path { runs, pen: Some(pen), closed: false, .. } = shape
            && [Ink::Water, Ink::Light].contains(&pen.ink)
        {
            found.extend(runs.iter().filter(|run| run.len() == 2 || run[0].y != run[run.len() - 1].y).cloned());
        }
    }
    found
}

/// Where rain has dripped off the wall, no second drop comes out of nothing behind what covers the wall below.
#[test]
fn water_does_not_begin_anew_behind_what_lies_below_a_drip() {
    let run = folder(DETAILS, "begins");
    let water = water_of(&run, "LEDGER");
    let ledger = room(&section(&run, "LEDGER"), "ledger");
    let low: Vec<_> = water.iter().filter(|way| way[0].y > ledger.top + 5.0).collect();
    assert!(!water.is_empty() && low.is_empty(), "behind the ledger: {low:?}");
    let ways = blue_of_elevation(&run, "LEDGER");
    let facts = run.checked[0].facts.details.iter().find(|f| &*f.detail.name == "LEDGER").expect("the detail");
    assert!(facts.face.drops.events.iter().all(|event| event.ends.len() == 1), "the facts know one drop");
    assert_eq!(ways.iter().filter(|way| way.len() > 1).count(), 1, "{ways:?}");
}

/// Below a drip water is drawn again where rain falls on the open face of what stands out, from there on.
#[test]
fn rain_on_what_stands_out_below_a_drip_is_drawn_in_the_open() {
    let run = folder(DETAILS, "stands-out");
    let drawn = section(&run, "BALCONY");
    let kick = room(&drawn, "kick");
    let water = water_of(&run, "BALCONY");
    let on_slab: Vec<_> = water.iter().filter(|way| way[0].y > kick.bottom - 3.0).collect();
    assert_eq!(on_slab.len(), 1, "{water:?}");
    assert!(on_slab[0].iter().all(|p| p.x > kick.right - 0.1), "{:?}, the kick ends at {}", on_slab[0], kick.right);
    let behind =
        |way: &&Vec<Point>| way.iter().any(|p| p.x < kick.right - 1.0 && kick.top + 2.0 < p.y && p.y < kick.bottom);
    assert!(!water.iter().any(|way| behind(&way)), "behind the kick: {water:?}");
}
