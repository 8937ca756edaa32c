//! What holds and seals the pieces, as it is seen from outside and in section.

use headlap::output::drawing::{self, Role, Scene, SectionLine, Shape, Subject};
use headlap::review::Run;

use crate::drawing::folder;

const DETAILS: &str = "include \"stock.detail\"
assembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; layer mineral-wool 140 mm; layer smart-retarder; inside }
assembly E existing { outside; layer brick-old 200 mm; inside }
detail SEALS course joins W {
  piece deck plywood of W
  piece low wrap-open of W up to 100 mm
  piece high wrap-open of W up from 0 mm
  piece flap metal-flashing up 200 mm to 300 mm
  piece film smart-retarder of W up to 70 mm inside
  piece film-2 smart-retarder of W up from 0 mm inside
  seal low to high with butyl-bead up 50 mm
  seal flap to high with silicone-sealant up 200 mm
  seal film to film-2 with acoustic-sealant up 25 mm
}
detail SCREWS ledger joins W {
  piece deck plywood of W along 0 mm to 1200 mm
  piece wrap wrap-open of W
  piece beam treated-wood up -200 mm to 0 mm
  fasten beam with ledger-screw every 400 mm up -160 mm to -40 mm
  piece strip treated-wood up 100 mm to 160 mm
  fasten strip with ledger-screw every 400 mm up 115 mm to 145 mm
}
detail CORNER wall-to-existing joins W to E {
  fold along 0 mm inside-corner
  piece brick brick-old of E along to 0 mm
  piece deck plywood of W along from 0 mm
}
detail REVEAL jamb joins W {
  fold along 0 mm jamb
  piece deck plywood of W along to 0 mm
  piece wrap liquid-flashing along -100 mm to 150 mm
  piece window window-vinyl along from 50 mm
}
";

fn run() -> &'static Run {
    static RUN: std::sync::LazyLock<Run> = std::sync::LazyLock::new(|| folder(DETAILS, "beads"));
    &RUN
}

fn subject(name: &str) -> Subject<'static> {
    let details = &run().checked[0].facts.details;
    Subject::new(details.iter().find(|facts| &*facts.detail.name == name).expect("the detail"), &[])
}

/// Their words, in the order in which they are drawn.
fn words(scene: &Scene, role: Role) -> Vec<String> {
    let mut found = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Group { role: is, words, .. } = shape
            && *is == role
        {
            found.push(words.clone());
        }
    });
    found
}

/// Under a lap nobody sees the bead, on an edge everybody does, and of what seals the inside nothing shows outside.
#[test]
fn a_bead_is_seen_on_an_edge_dashed_in_a_lap_and_not_at_all_inside() {
    let face = drawing::elevation(&subject("SEALS"));
    assert_eq!(words(&face, Role::Bead), ["Silicone sealant between flap and high"]);
    let covered = words(&face, Role::Covered);
    let beads: Vec<&String> = covered.iter().filter(|words| words.contains(" between ")).collect();
    assert_eq!(beads, ["Butyl sealant between low and high, covered"]);
    // Nor does a chain of lengths stop where something on the inside does: at 25 and 70.
    let mut lengths = Vec::new();
    for shape in face.groups(Role::Dimension).into_iter().flatten() {
        shape.each(&mut |shape| {
            if let Shape::Text { words, .. } = shape {
                lengths.push(words.clone());
            }
        });
    }
    lengths.sort();
    assert_eq!(lengths, ["100", "100", "50", "50"]);
}

/// Two rows that stand in turn in a strip that has room for them, and one row in the middle of another.
#[test]
fn fasteners_of_a_strip_stand_at_both_edges_of_a_wide_one_and_in_the_middle_of_another() {
    let subject = subject("SCREWS");
    let face = drawing::elevation(&subject);
    let rows = |piece: &str| {
        let mut rows: Vec<(f64, Vec<f64>)> = Vec::new();
        let mut add = |x: f64, y: f64| match rows.iter_mut().find(|row| (row.0 - y).abs() < 0.1) {
            Some(row) => row.1.push(x),
            None => rows.push((y, vec![x])),
        };
        face.each(&mut |shape| {
            if let Shape::Group { role: Role::Fastening, words, shapes } = shape
                && words.ends_with(piece)
            {
                let level = |run: &&Vec<drawing::Point>| (run[0].y - run[1].y).abs() < 1e-6;
                shapes[0].each(&mut |shape| {
                    if let Shape::Path { runs, .. } = shape {
                        runs.iter().filter(level).for_each(|run| add((run[0].x + run[1].x) / 2.0, run[0].y));
                    }
                });
            }
        });
        rows
    };
    let beam = rows("through beam");
    let [(one, lower), (other, upper)] = &beam[..] else { panic!("{beam:?}") };
    assert!(
        ((one - other) - 120.0).abs() < 0.1,
        "a row at either stated edge, on a scene in mm of the building: {beam:?}"
    );
    let step = lower[1] - lower[0];
    assert!(
        upper.len() + 1 == lower.len() && upper.iter().zip(lower).all(|(x, y)| (x - y - step / 2.0).abs() < 0.1),
        "{beam:?}"
    );
    assert_eq!(rows("through strip").len(), 1);
}

/// Water runs around the head of a screw, which would otherwise read as driven from inside.
#[test]
fn heads_of_fasteners_lie_over_the_water() {
    let subject = subject("SCREWS");
    let section = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let mut order = Vec::new();
    section.each(&mut |shape| match shape {
        Shape::Group { role: Role::Fastening, .. } => order.push('f'),
        Shape::Group { role: Role::Drop, .. } => order.push('w'),
        _ => {}
    });
    let drawn: String = order.into_iter().collect();
    assert!(drawn.starts_with("ff") && drawn.ends_with("ff") && drawn.contains('w'), "{drawn}");
}

#[test]
fn what_turns_along_the_wall_is_unfolded_and_what_lines_a_reveal_lies_flat() {
    let name =
        |detail: &str| drawing::elevation(&subject(detail)).title.split(" of ").next().expect("a name").to_owned();
    assert_eq!(name("CORNER"), "Elevation, unfolded");
    assert_eq!(name("REVEAL"), "Elevation, jamb laid flat");
    assert_eq!(name("SEALS"), "Elevation");
}
