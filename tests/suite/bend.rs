//! How the face stands in the building: what is stated of folds and assemblies, and what follows from it.

use std::sync::atomic::{AtomicUsize, Ordering};

use headlap::facts::bend::Bend;
use headlap::model::Axis;

use crate::drawing::folder;

fn headings(body: &str, axis: Axis) -> Vec<f64> {
    let text = format!(
        "include \"stock.detail\"\n\
         assembly W wall {{ outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }}\n\
         assembly R roof {{ outside; layer breather-membrane controls water, air; layer plywood 18 mm; inside }}\n\
         detail D course joins W to R {{\n{body}\n}}\n"
    );
    static COUNT: AtomicUsize = AtomicUsize::new(0);
    let run = folder(&text, &format!("bend-{}", COUNT.fetch_add(1, Ordering::Relaxed)));
    let facts = &run.checked[0].facts.details[0];
    Bend::new(facts, axis).legs.iter().map(|leg| leg.heading).collect()
}

#[test]
fn a_wall_stands_and_a_roof_lies() {
    assert_eq!(headings("piece a plywood of W", Axis::Up), [90.0]);
    assert_eq!(headings("piece a plywood of R up from 0 mm", Axis::Up), [180.0]);
}

#[test]
fn the_face_turns_at_its_folds() {
    assert_eq!(headings("fold up 0 mm eave\npiece a plywood of W", Axis::Up), [90.0, 180.0]);
    assert_eq!(headings("fold up 0 mm base\npiece a plywood of W", Axis::Up), [180.0, 90.0]);
    assert_eq!(headings("fold along 0 mm outside-corner\npiece a plywood of W", Axis::Along), [0.0, 90.0]);
    assert_eq!(headings("fold along 0 mm inside-corner\npiece a plywood of W", Axis::Along), [0.0, -90.0]);
    // A sill without anything that fills an opening is the top of a parapet; the edges of an opening are no bend of the wall.
    assert_eq!(headings("fold up 0 mm sill\npiece a plywood of W", Axis::Up), [90.0, 180.0]);
    assert_eq!(headings("fold up 0 mm sill\nfold up 900 mm head\npiece a plywood of W", Axis::Up), [90.0]);
}

#[test]
fn where_a_wall_meets_a_roof_there_is_a_fold() {
    let eave = "piece a plywood of W up to 0 mm\npiece b plywood of R up from 0 mm";
    assert_eq!(headings(eave, Axis::Up), [90.0, 180.0]);
    let base = "piece b plywood of R up to 0 mm\npiece a plywood of W up from 0 mm";
    assert_eq!(headings(base, Axis::Up), [180.0, 90.0]);
    let edge = "piece b plywood of R up from 0 mm\npiece m drip-edge up -15 mm to 100 mm";
    assert_eq!(headings(edge, Axis::Up), [90.0, 180.0]);
    // The slope of the roof says nothing of the board at its edge: 1 in 1 is 45 degrees.
    assert_eq!(headings(&format!("slope 100 %\n{edge}"), Axis::Up), [90.0, 135.0]);
    let rake = "piece b plywood of R along to 0 mm\npiece m drip-edge along -80 mm to 15 mm";
    assert_eq!(headings(rake, Axis::Along), [0.0, 90.0]);
}
