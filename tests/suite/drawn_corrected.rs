//! What an architect's red pencil corrected: where a section looks, how water comes over a counterflashing and off an angle, roofs that
//! fall along their wall, and what lies on a parapet.

use headlap::facts::DetailFacts;
use headlap::facts::bend::Bend;
use headlap::model::Axis;
use headlap::output::drawing::{self, Area, Ink, Paper, Point, Role, Scene, SectionLine, Shape, Subject, Title};
use headlap::review::Run;

use crate::drawing::{demo, run_folder, water_of};
use crate::drawn_as_built::section;
use crate::drawn_at_folds::{bodies, close, lines, room};
use crate::drawn_to_sign::{area, words};

fn of<'a>(run: &'a Run, name: &str) -> &'a DetailFacts {
    let facts = run.checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == name);
    facts.expect("the detail")
}

/// The full blue lines of a view, mm of paper.
fn blue(scene: &Scene) -> Vec<Vec<Point>> {
    let mut found = Vec::new();
    for shape in scene.groups(Role::Drop).into_iter().flatten() {
        if let Shape::Path { runs, pen: Some(pen), closed: false, .. } = shape
            && pen.ink == Ink::Water
            && (pen.width - 0.7 * scene.scale).abs() < 1e-9
        {
            let scaled = |run: &Vec<Point>| {
                run.iter().map(|p| Point::new(p.x / scene.scale, p.y / scene.scale)).collect::<Vec<Point>>()
            };
            found.extend(runs.iter().map(scaled));
        }
    }
    found
}

/// Who faces the wall, and has its outside on the right in the section, looks to the right.
#[test]
fn the_flags_of_a_section_point_to_the_right() {
    let run = run_folder("tests/trials/44/metals.detail");
    let scene = drawing::elevation(&Subject::new(of(&run, "GB"), &[]));
    let mut flags = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Group { words, shapes, .. } = shape
            && words == "cut of the section"
        {
            flags.extend(shapes.clone());
        }
    });
    let heads = flags.iter().filter_map(|shape| match shape {
        Shape::Path { runs, closed: true, .. } => Some(runs[0].clone()),
        _ => None,
    });
    let line = flags.iter().find_map(|shape| match shape {
        Shape::Path { runs, closed: false, .. } => Some(runs[0][0].x),
        _ => None,
    });
    let line = line.expect("the line of the cut");
    let mut count = 0;
    for head in heads {
        count += 1;
        assert!(head.iter().all(|p| p.x > line - 1e-6) && head.iter().any(|p| p.x > line + 1.0), "{head:?} {line}");
    }
    assert_eq!(count, 2);
}

/// Two lines cross in their middle.
fn cross(a: &[Point], b: &[Point]) -> bool {
    let side = |p: Point, q: Point, r: Point| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    side(a[0], a[1], b[0]) * side(a[0], a[1], b[1]) < -1e-6 && side(b[0], b[1], a[0]) * side(b[0], b[1], a[1]) < -1e-6
}

/// Its leg lies in the joint that is drawn, its sealant on it, and water runs out over it and down its face in one line.
#[test]
fn water_comes_over_a_counterflashing() {
    let other = |path: &str| run_folder(&format!("tests/trials/{path}.detail"));
    let [copper, tower] = ["44/metals", "45/under-roof-membrane"].map(other);
    for (run, detail, top) in [
        (demo(), "RW2", "brick-top"),
        (demo(), "CH1", "brick-top"),
        (&copper, "GB", "gable-top"),
        (&tower, "tower", "wall-top"),
    ] {
        let drawn = section(run, detail);
        let wall = room(&drawn, top);
        let counter = lines(&drawn, "counter").swap_remove(0);
        let legs: Vec<&[Point]> = counter.windows(2).filter(|pair| (pair[0].y - pair[1].y).abs() < 1e-6).collect();
        assert!(legs.iter().any(|leg| close(leg[0].y, wall.bottom, 0.1)), "{detail}: {legs:?} {wall:?}");
        let water = blue(&drawn.0);
        let crossed = water.iter().flat_map(|run| run.windows(2)).find(|w| counter.windows(2).any(|c| cross(w, c)));
        assert_eq!(crossed, None, "{detail}: water through its counterflashing");
        let over = |run: &&Vec<Point>| {
            run.iter().any(|p| p.y < wall.bottom - 5.0) && run.iter().any(|p| p.y > wall.bottom + 5.0)
        };
        assert!(water.iter().any(|run| over(&run)), "{detail}: {water:?}");
        let (scene, _) = &drawn;
        let mut beads = Vec::new();
        scene.each(&mut |shape| {
            if let Shape::Group { role: Role::Bead, words, shapes } = shape
                && words.ends_with(&format!("between counter and {top}"))
            {
                beads.extend(Area::around(shapes));
            }
        });
        let bead = beads.first().expect("the bead").center();
        let bead = Point::new(bead.x / scene.scale, bead.y / scene.scale);
        assert!((0.0..2.0).contains(&(wall.bottom - bead.y)), "{detail}: {bead:?} {wall:?}");
        assert!((bead.x - wall.left).abs().min((bead.x - wall.right).abs()) < 1.0, "{detail}: {bead:?} {wall:?}");
    }
}

/// What laps a through-wall flashing leads its water onto it, also where steel stands behind that, and not behind the steel.
#[test]
fn water_leaves_a_wall_over_its_shelf_angle() {
    let run = run_folder("tests/trials/46/flush-brick.detail");
    let face = room(&section(&run, "SA"), "brick-u");
    // Below the flashing water comes in through the open joint; that has no other way.
    let water = water_of(&run, "SA");
    let above: Vec<&Vec<Point>> = water.iter().filter(|way| way[0].y < face.bottom - 5.0).collect();
    assert!(!above.is_empty());
    for way in above {
        assert!(way[way.len() - 1].x > face.right - 1.0, "behind the steel: {way:?} {face:?}");
    }
}

/// Where flashing steps down along a wall, the roof falls along it, and a section across is level; under a head wall it falls away.
#[test]
fn a_roof_is_level_across_its_side_wall() {
    let headings = |path: &str, detail: &str| {
        let run = run_folder(&format!("tests/trials/{path}.detail"));
        Bend::new(of(&run, detail), Axis::Up).legs.iter().map(|leg| leg.heading).collect::<Vec<f64>>()
    };
    assert_eq!(headings("44/step-legs", "DC"), [180.0, 90.0]);
    assert_eq!(headings("45/step-legs", "porch"), [180.0, 90.0]);
    let head = headings("44/metals", "GB");
    assert!(close(head[0], 180.0 - 0.5_f64.atan().to_degrees(), 1e-6) && head[1] == 90.0, "{head:?}");
}

/// On such a roof water runs along the wall, to the kick-out, and in the section it ends in the corner.
#[test]
fn water_runs_along_a_side_wall() {
    let run = run_folder("tests/trials/44/step-legs.detail");
    let subject = Subject::new(of(&run, "DC"), &[]);
    let ways = blue(&drawing::elevation(&subject));
    let ways: Vec<&Vec<Point>> = ways.iter().filter(|way| way.len() > 3 || way[0].x == way[1].x).collect();
    assert!(!ways.is_empty());
    for way in ways.iter().filter(|way| way.len() > 2) {
        let [before, end] = [way[way.len() - 2], way[way.len() - 1]];
        assert!(close(before.y, end.y, 1e-6) && end.x < before.x - 5.0, "{way:?}");
    }
    let drawn = section(&run, "DC");
    let deck = room(&drawn, "deck");
    for way in blue(&drawn.0) {
        assert!(way.iter().all(|p| p.x < deck.left + 15.0), "across the fall: {way:?} {deck:?}");
    }
}

/// A roof of slates that is drawn level says why.
#[test]
fn a_level_roof_of_slates_says_why() {
    let said = |name: &str| {
        let subject = Subject::new(of(demo(), name), &[]);
        let title = Title { project: "Annex", date: String::new() };
        let sheet = drawing::sheet(&subject, SectionLine::principal(&subject).as_ref(), Paper::A3, &title);
        let [level, along] = ["slope not given, drawn level", "roof falls along the wall"];
        let words = words(&sheet);
        [level, along].map(|wanted| words.iter().any(|(words, _)| words == wanted))
    };
    for (name, wanted) in [("V1", [true, false]), ("RW1", [false, true]), ("RW2", [false, true]), ("CH1", [false; 2])] {
        assert_eq!(said(name), wanted, "{name}");
    }
}

/// What lies on a parapet and runs off the detail is cut off where that ends which carries it.
#[test]
fn a_coping_goes_as_far_as_its_parapet() {
    let drawn = section(&run_folder("tests/trials/46/coping-as-cladding.detail"), "PC");
    let [block, top, cap] = ["block", "top", "cap"].map(|piece| area(&bodies(&drawn, piece).concat()));
    assert!(close(top.left, block.left, 3.0) && close(cap.left, block.left, 3.0), "{block:?} {top:?} {cap:?}");
    let drawn = section(&run_folder("tests/trials/43/coping.detail"), "CP");
    let nailer = room(&drawn, "nailer");
    for piece in ["over", "cap-l"] {
        let sheet = area(&lines(&drawn, piece).concat());
        assert!(close(sheet.left, nailer.left, 3.0), "{piece}: {sheet:?} {nailer:?}");
    }
}

/// A board lies on its bed as a stone does: of what only overhangs, nothing says that it comes down over the wall.
#[test]
fn a_board_does_not_come_down_over_a_wall() {
    let run = run_folder("tests/trials/40/guard-wall.detail");
    let rules: Vec<&str> = run.report.findings.iter().map(|finding| &*finding.rule).collect();
    assert!(!rules.contains(&"short-coping-leg"), "{rules:?}");
}
