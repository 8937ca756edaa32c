//! What is drawn as a line lies on bodies and between them, and not in them.

use std::collections::BTreeSet;

use headlap::model::{MaterialKind, Piece};
use headlap::output::drawing::{Area, Point, Role, Shape};

use crate::drawn_as_built::{section_of, shapes};
use crate::drawn_at_folds::{Drawn, bodies, drawn, lines, room};
use crate::drawn_at_the_foot::{ALL, inside_of};
use crate::drawn_to_sign::area;

/// What is tucked into a joint of masonry is no longer than this, mm of paper.
const TUCKED: f64 = 15.0;

/// Lines in bodies that are not mended yet: the detail, the line, the body.
const KNOWN: [[&str; 3]; 19] = [
    // Joints of roofs and pipes in them.
    ["A607-1", "vapor-a", "side-b"],
    ["A607-1", "vapor-b", "side-a"],
    ["EJ1", "avb-l", "nail-r"],
    ["EJ1", "avb-r", "nail-r"],
    ["EJ1", "loop", "nail-l"],
    // Copings and ridges.
    ["C1", "cope-l", "block"],
    ["C1", "in", "cell-r"],
    ["C1", "in", "osb-r"],
    ["C1", "splice", "block"],
    ["C1", "under", "block"],
    ["H5", "retarder", "wool"],
    ["top", "damp", "left"],
    ["top-2", "damp", "left"],
    // Edges that end within what they come out under.
    ["BA1", "apron", "ins"],
    ["GW", "counter", "wool"],
    ["UE1", "edge", "fascia"],
    // Plans of joints between two walls.
    ["NE1", "bar-l", "wool"],
    ["WE1", "bellows", "ins"],
    // Wool that its author takes past the angle.
    ["SA", "flash", "wool"],
];

/// Stone, bricks and concrete have joints and reglets.
fn has_joints(piece: &Piece) -> bool {
    let surface = piece.material.surface.as_deref();
    matches!(piece.material.kind, Some(MaterialKind::Mass)) || matches!(surface, Some("masonry" | "concrete"))
}

#[test]
fn nothing_thin_runs_through_a_body() {
    use MaterialKind::{Coat, Flashing, Sheet, Tape};
    let (mut count, mut wrong, mut still, mut seen) = (0, Vec::new(), BTreeSet::new(), BTreeSet::new());
    for facts in ALL.iter().flat_map(|run| &run.checked).flat_map(|c| &c.facts.details) {
        let detail = &facts.detail;
        // Many files hold the same detail with one mistake in it.
        if !seen.insert((&detail.name, &detail.title)) {
            continue;
        }
        let drawn: Drawn = section_of(facts);
        let thin = |piece: &&Piece| matches!(piece.material.kind, Some(Sheet | Tape | Coat | Flashing));
        let of = |piece: &Piece| (bodies(&drawn, &piece.name), lines(&drawn, &piece.name));
        let all: Vec<_> = detail.pieces.iter().map(of).collect();
        let pairs = || detail.pieces.iter().zip(&all);
        for (thin, (_, lines)) in pairs().filter(|(piece, (bodies, _))| thin(piece) && bodies.is_empty()) {
            for (body, (outlines, _)) in pairs().filter(|(_, (bodies, _))| !bodies.is_empty()) {
                count += 1;
                let names = [&*detail.name, &*thin.name, &*body.name];
                let long = inside_of(lines, outlines);
                let fine = long <= if has_joints(body) { TUCKED } else { 1.5 };
                match KNOWN.iter().find(|known| **known == names) {
                    Some(known) if !fine => _ = still.insert(known),
                    None if !fine => wrong.push(format!("{names:?}, {long:.1} mm")),
                    _ => {}
                }
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    assert!(count > 10_000, "{count}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let mended: Vec<_> = KNOWN.iter().filter(|known| !still.contains(known)).collect();
    assert!(mended.is_empty(), "take these off the list: {mended:?}");
}

/// Insulation in front of a wall ends under the roof that goes on over it, and so do the boards in front of that.
#[test]
fn what_stands_in_front_of_a_wall_ends_under_its_roof() {
    let drawn = drawn("trials/30/retrofit-top", "AA1");
    let wool = bodies(&drawn, "wool").concat();
    let room = area(&wool);
    let top = |right: bool| {
        let on = wool.iter().filter(|p| (p.x - if right { room.right } else { room.left }).abs() < 0.1);
        on.map(|p| p.y).fold(f64::MAX, f64::min)
    };
    // 8:12 over 100 mm, at 1:5.
    assert!((top(true) - top(false) - 20.0 * 8.0 / 12.0).abs() < 0.5, "{wool:?}");
}

/// A slope that is stated from the sill on is that of the sill: the door stands on it.
#[test]
fn a_door_stands_on_a_sill_with_a_slope() {
    let drawn = drawn("details/correct/offices/terrace-door", "TD");
    let places = shapes(&drawn, "leaf").into_iter().filter_map(|shape| match shape {
        Shape::Path { runs, .. } => Some(runs.concat()),
        _ => None,
    });
    let door: Area = area(&places.flatten().collect::<Vec<Point>>());
    let slab = room(&drawn, "slab");
    // Its frame is as deep as the dam behind it.
    assert!(door.height() > door.width() && door.bottom < slab.top, "{door:?} {slab:?}");
}

/// A membrane over thick insulation lies on the top of that, and does not rise from its face.
#[test]
fn a_membrane_lies_on_the_top_of_insulation_at_a_sill() {
    let drawn = drawn("trials/28/deep-window", "H1");
    let (fiber, under) = (room(&drawn, "fiber"), area(&lines(&drawn, "under").concat()));
    assert!(under.top > fiber.top - 4.0 && under.left < fiber.left, "{under:?} {fiber:?}");
}

/// Nothing is bonded to what stands free in its opening.
#[test]
fn no_stroke_of_a_bond_hangs_in_the_air() {
    let drawn = drawn("trials/23/sill-recessed", "C2");
    let buck = room(&drawn, "buck");
    let mut highest = f64::MAX;
    for shape in drawn.0.groups(Role::Bond).into_iter().flatten() {
        shape.clone().each_place(&mut |p| highest = highest.min(p.y / drawn.0.scale));
    }
    assert!(highest > buck.top - 5.0 && highest < f64::MAX, "{highest} {buck:?}");
}
