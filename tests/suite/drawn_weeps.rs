//! Weeps as they are seen from outside.

use headlap::output::drawing::{self, Area, Role, Shape, Subject};
use headlap::review::Run;

use crate::drawing::folder;

const WALL: &str = "include \"stock.detail\"
assembly W wall { outside; layer brick-veneer 90 mm; layer drained-gap 50 mm; layer wrap-open controls water, air; layer plywood 18 mm; inside }
detail D base-of-wall joins W {
  piece deck    plywood             of W  up from 0 mm
  piece through stainless-flashing  as through-wall-flashing  up -20 mm to 200 mm  along 0 mm to 1200 mm  with drip
  piece wrap    wrap-open           of W  up from 50 mm
  piece veneer  brick-veneer        of W  up from 0 mm
  weeps every 300 mm WHERE
}
";

/// The signs of weeps on the elevation, from left to right.
fn weeps(run: &Run) -> Vec<Area> {
    let facts = run.checked.iter().flat_map(|c| &c.facts.details).next().expect("a detail");
    let scene = drawing::elevation(&Subject::new(facts, &[]));
    let signs = scene.groups(Role::Weep).into_iter().flatten();
    let around = |sign: &Shape| Area::around(std::slice::from_ref(sign)).expect("a sign is drawn");
    let mut areas: Vec<Area> = signs.map(around).collect();
    areas.sort_by(|a, b| a.left.total_cmp(&b.left));
    areas
}

/// 1,200 mm of flashing hold four weeps that are 300 mm apart, half of that from its ends: none where there is no flashing.
#[test]
fn weeps_stand_at_their_spacing_over_the_flashing() {
    let run = folder(&WALL.replace("WHERE", "up 0 mm"), "weeps");
    let weeps = weeps(&run);
    assert_eq!(weeps.len(), 4, "{weeps:?}");
    let apart: Vec<f64> = weeps.windows(2).map(|pair| pair[1].left - pair[0].left).collect();
    assert!(apart.iter().all(|own| (own - apart[0]).abs() < 1e-6), "{apart:?}");
    assert!(weeps.iter().all(|own| (own.bottom - weeps[0].bottom).abs() < 1e-6 && own.height() > own.width()));
}

#[test]
fn weeps_without_a_height_have_no_place() {
    assert!(weeps(&folder(&WALL.replace("WHERE", ""), "weeps-nowhere")).is_empty());
}
