//! How beads, dams, frames, stoops and the names of rooms show in a section or a plan.

use headlap::model::{AssemblyKind, MaterialKind, Piece};
use headlap::output::drawing::{self, Area, Ink, Mark, Role, SectionLine, Shape, Subject};

use crate::drawing::{folder, run_folder};
use crate::drawn_as_built::{section, section_of, shapes};
use crate::drawn_at_folds::{Drawn, close, drawn, lines, room};
use crate::drawn_at_the_foot::ALL;
use crate::drawn_to_sign::{area, words};

/// Disks and filled figures of each bead, mm of paper.
fn beads(drawn: &Drawn) -> Vec<(usize, Vec<Area>)> {
    let scale = drawn.0.scale;
    let mut all = Vec::new();
    for shapes in drawn.0.groups(Role::Bead) {
        let (mut disks, mut figures) = (0, Vec::new());
        for shape in shapes {
            shape.each(&mut |shape| match shape {
                Shape::Circle { .. } => disks += 1,
                Shape::Path { closed: true, .. } => figures.extend(Area::around(std::slice::from_ref(shape))),
                _ => {}
            });
        }
        let on_paper = |a: Area| Area::new(a.left / scale, a.top / scale, a.right / scale, a.bottom / scale);
        all.push((disks, figures.into_iter().map(on_paper).collect()));
    }
    all
}

/// A bead that is cut across is as small as a bead is; one that runs along the section is no row of disks.
#[test]
fn no_bead_is_cut_along_its_length() {
    let mut count = 0;
    for facts in ALL.iter().flat_map(|run| &run.checked).flat_map(|c| &c.facts.details) {
        let widths = facts.detail.seals.iter().flat_map(|seal| [seal.width, seal.depth]).flatten();
        let widest = widths.map(|width| width.si * 1000.0).fold(60.0, f64::max);
        let drawn = section_of(facts);
        for (disks, figures) in beads(&drawn) {
            count += 1;
            assert!(disks <= 8, "{}: {disks} disks", facts.detail.name);
            for figure in figures {
                let long = figure.width().max(figure.height()) * drawn.0.scale;
                assert!(long < widest + 8.0 * drawn.0.scale, "{}: {figure:?}", facts.detail.name);
            }
        }
    }
    assert!(count > 1_000, "{count}");
}

/// Two lengths of a flashing lap sideways: their bead runs up the section.
#[test]
fn a_bead_between_two_lengths_is_seen_along() {
    let drawn = drawn("trials/42/vertical-butt", "lengths");
    assert!(beads(&drawn).iter().all(|(disks, _)| *disks == 0), "{:?}", beads(&drawn));
}

/// A window or a door has a frame and a pane wherever it is cut.
#[test]
fn what_fills_an_opening_has_a_frame_and_a_pane() {
    let mut count = 0;
    for facts in ALL.iter().flat_map(|run| &run.checked).flat_map(|c| &c.facts.details) {
        let detail = &facts.detail;
        if !matches!(&*detail.kind, "head" | "sill" | "jamb" | "threshold") {
            continue;
        }
        let drawn = section_of(facts);
        let of_opening = |piece: &&Piece| {
            let at = piece.layer.map(|at| detail.joins[at.join].assembly.kind);
            piece.material.kind == Some(MaterialKind::Unit) && at == Some(AssemblyKind::Opening)
        };
        for unit in detail.pieces.iter().filter(of_opening) {
            let (mut pale, mut white) = (0, 0);
            for shape in shapes(&drawn, &unit.name) {
                if let Shape::Path { closed: true, fill, .. } = shape {
                    pale += usize::from(fill == Some(Ink::Pale));
                    white += usize::from(fill == Some(Ink::White));
                }
            }
            if pale + white > 0 {
                count += 1;
                assert!(white >= 3, "{} {}: {pale} pale, {white} white", detail.name, unit.name);
            }
        }
    }
    assert!(count > 150, "{count}");
}

/// A dam of bent metal stands at the back of its pan, as high as it is said to be, and behind the frame.
#[test]
fn a_dam_of_metal_stands_up() {
    for (file, detail, dam, frame, high) in [
        ("trials/23/sill-recessed", "C2", "dam", "window", 25.4),
        ("trials/35/door-35", "WD", "back", "door", 25.0),
        ("trials/27/04-window-sill", "WS1", "dam", "window", 30.0),
    ] {
        let drawn = drawn(file, detail);
        let line = area(&lines(&drawn, dam).concat());
        let frame = shapes(&drawn, frame).into_iter().filter_map(|shape| match shape {
            Shape::Path { runs, closed: true, fill: Some(Ink::Pale), .. } => Some(area(&runs.concat())),
            _ => None,
        });
        let scale = drawn.0.scale;
        assert!(line.width() < 0.1 && close(line.height() * scale, high, 1.0), "{detail}: {line:?} at {scale}");
        assert!(frame.into_iter().all(|frame| line.right < frame.left), "{detail}: {line:?}");
    }
}

const STOOP: &str = "include \"stock.detail\"
assembly F foundation { outside; layer concrete 200 mm controls water, air; inside }
detail ST base-of-wall \"Stoop\" joins F {
  grade up -350 mm
  piece stem concrete of F up to 0 mm
  piece stoop reinforced-concrete up -350 mm to -200 mm slope FALL
}
";

/// Earth lies under a stoop as it does beside it. On one that falls outward water runs out; one that falls inward leads it into its joint.
#[test]
fn a_stoop_stands_on_the_ground_and_sheds_water() {
    for (fall, outward) in [("2 %", true), ("-2 %", false)] {
        let run = folder(&STOOP.replace("FALL", fall), if outward { "stoop-out" } else { "stoop-in" });
        let facts = &run.checked[0].facts.details[0];
        let found = run.report.findings.iter().enumerate();
        let marks: Vec<_> = found.map(|(n, finding)| Mark::new(n + 1, finding)).collect();
        let subject = Subject::new(facts, &marks);
        let line = SectionLine::principal(&subject).expect("a line");
        let scene = drawing::section(&subject, &line);
        let names = facts.detail.pieces.iter().map(|piece| piece.name.to_string()).collect();
        let drawn: Drawn = (scene, names);
        let (stem, stoop) = (room(&drawn, "stem"), room(&drawn, "stoop"));
        let of = |role: Role, ink: Option<Ink>| {
            let mut places = Vec::new();
            for shape in drawn.0.groups(role).into_iter().flatten() {
                shape.each(&mut |shape| {
                    if let Shape::Path { runs, pen: Some(pen), .. } = shape
                        && ink.is_none_or(|ink| pen.ink == ink)
                    {
                        places.extend(runs.iter().flatten().map(|p| (p.x / drawn.0.scale, p.y / drawn.0.scale)));
                    }
                });
            }
            places
        };
        let earth = of(Role::Ground, None).into_iter().map(|(x, _)| x).fold(f64::MAX, f64::min);
        assert!(earth < stem.right + 2.0 && earth > stem.right - 0.1, "{earth} {stem:?} {stoop:?}");
        let clean = of(Role::Drop, Some(Ink::Water));
        let runs_out = clean.iter().any(|(x, y)| *x > stoop.right - 3.0 && *y < stoop.top + 2.0);
        let wrong = !of(Role::Drop, Some(Ink::Warm)).is_empty();
        assert_eq!((runs_out, wrong), (outward, !outward), "{fall}: {clean:?} {stoop:?}");
    }
}

/// An addition beside an old wall, and the wings at an inside corner, have rooms on two sides: both are named.
#[test]
fn a_plan_names_each_of_its_rooms() {
    for (file, detail, rooms) in [
        ("trials/28/inside-corner", "IC1", 2),
        ("trials/40/stone-barn", "WE", 2),
        ("trials/25/old-new", "ON", 2),
        ("trials/22/corner", "K1", 1),
    ] {
        let (scene, _) = section(&run_folder(&format!("tests/{file}.detail")), detail);
        let named = words(&scene).into_iter().filter(|(words, _)| words == "inside").count();
        assert_eq!(named, rooms, "{detail}");
    }
}
