//! Faces that are far larger than any drawing.

use headlap::facts::face::*;
use headlap::model::{Control, Controls, MaterialKind};

fn sheet(up: Extent, along: Extent) -> Piece {
    let holds = Controls::NONE.with(Control::Water);
    Piece { rect: Rect { up, along }, holds, kind: Some(MaterialKind::Sheet), ..Piece::default() }
}

fn course(n: usize) -> Extent {
    Extent { low: n as Coordinate * 1000, high: n as Coordinate * 1000 + 1100 }
}

/// Ten thousand courses, lowest first, shed; the same number of laps as there are joints.
#[test]
fn ten_thousand_courses() {
    let pieces = (0..10_000).map(|n| sheet(course(n), Extent::OPEN)).collect();
    let facts = derive(&Face { pieces, ..crate::face::build::empty() }).expect("within the bounds");
    assert_eq!(facts.laps.len(), 9_999);
    assert!(facts.laps.iter().all(|l| l.shingled && l.length == 100));
    assert_eq!(facts.drops.events.iter().map(|e| e.event).collect::<Vec<_>>(), [Event::Drains]);
}

/// The same from the top down: each is passed behind.
#[test]
fn ten_thousand_courses_the_wrong_way_round() {
    let pieces = (0..10_000).rev().map(|n| sheet(course(n), Extent::OPEN)).collect();
    let facts = derive(&Face { pieces, ..crate::face::build::empty() }).expect("within the bounds");
    assert!(facts.laps.iter().all(|l| !l.shingled));
    let reverse = facts.drops.events.iter().filter(|e| e.event == Event::Reverse);
    assert_eq!(reverse.filter(|e| e.damages()).count(), 9_999);
}

#[test]
fn too_many_pieces_cells_or_steps_are_refused() {
    let excess =
        |pieces: Vec<Piece>| derive(&Face { pieces, ..crate::face::build::empty() }).expect_err("too much").what;
    assert_eq!(excess(vec![Piece::default(); 20_000]), Excess::Pieces);
    let steps = (0..3_000).map(|n| sheet(course(n), course(n))).collect();
    assert_eq!(excess(steps), Excess::Cells);
    let nested = (0..6_000).map(|n| sheet(Extent { low: -n - 1, high: n + 1 }, Extent::OPEN)).collect();
    assert_eq!(excess(nested), Excess::Stacked);
    // Every drop runs behind all lower courses, down to the foot of a sheet that goes all the way.
    let mut behind: Vec<Piece> = vec![sheet(Extent::OPEN, Extent::OPEN)];
    behind.extend((0..8_000).rev().map(|n| sheet(course(n), Extent::OPEN)));
    assert_eq!(excess(behind), Excess::Steps);
}

/// Heights at the ends of the range neither overflow nor pass for open.
#[test]
fn extreme_heights() {
    let low = Extent { low: OPEN_LOW + 1, high: OPEN_HIGH - 2 };
    let high = Extent { low: OPEN_LOW + 2, high: OPEN_HIGH - 1 };
    let mut pieces = vec![sheet(low, low), sheet(high, high)];
    pieces[1].bonds = vec![0.into()];
    let seals = vec![Seal { first: 0, second: 1, at: Some((headlap::model::Axis::Up, OPEN_LOW + 1)), width: 0 }];
    let facts = derive(&Face { pieces, seals, ..crate::face::build::empty() }).expect("a small face");
    assert!(facts.laps.iter().all(|l| l.length == OPEN_HIGH));
}
