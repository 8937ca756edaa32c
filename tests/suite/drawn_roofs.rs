//! What a red pencil found on roofs: chimneys, tiles, valleys, parapets, and how their sheets are filled and explained.

use headlap::output::drawing::{self, Area, Paper, Point, Role, Scene, SectionLine, Shape, Subject, Title};
use headlap::review::Run;

use crate::drawing::{demo, run_folder};
use crate::drawn_to_sign::{area, subject, words};

/// A detail of a run by itself: its section, in mm of paper.
fn section(run: &Run, detail: &str) -> Scene {
    let subject = subject(run, detail, &[]);
    let scene = drawing::bare_section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let by = 1.0 / scene.scale;
    scene.at_scale(by)
}

fn sheet_of(subject: &Subject) -> Scene {
    let title = Title { project: "Annex", date: String::new() };
    drawing::sheet(subject, SectionLine::principal(subject).as_ref(), Paper::A3, &title)
}

fn sheet(run: &Run, detail: &str) -> Scene {
    sheet_of(&subject(run, detail, &[]))
}

fn index(run: &Run, detail: &str, piece: &str) -> usize {
    let subject = subject(run, detail, &[]);
    subject.detail.pieces.iter().position(|p| &*p.name == piece).expect("a piece")
}

/// The runs of all lines and outlines in shapes.
fn runs(shapes: &[&[Shape]]) -> Vec<Vec<Point>> {
    let mut all = Vec::new();
    for shape in shapes.iter().copied().flatten() {
        shape.each(&mut |shape| {
            if let Shape::Path { runs, .. } = shape {
                all.extend(runs.iter().cloned());
            }
        });
    }
    all
}

fn room(scene: &Scene, piece: usize) -> Area {
    area(&runs(&scene.groups(Role::Piece(piece))).concat())
}

fn named(scene: &Scene, wanted: &str) -> Vec<Vec<Vec<Point>>> {
    let mut found = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Group { words, shapes, .. } = shape
            && &**words == wanted
        {
            found.push(runs(&[shapes]));
        }
    });
    found
}

fn has(scene: &Scene, wanted: &str) -> bool {
    words(scene).iter().any(|(w, _)| w == wanted)
}

/// A broken line has a kink; it runs level here.
fn is_broken(run: &[Point]) -> bool {
    run.len() >= 6 && (run[0].y - run[run.len() - 1].y).abs() < 1e-6
}

/// A chimney goes on below the roof that meets it, to a break line, however far wood stays clear of it; and how far that is can be read.
#[test]
fn a_chimney_goes_through_its_roof() {
    let (front, back) =
        (run_folder("tests/trials/28/chimney-front.detail"), run_folder("tests/trials/28/chimney-back.detail"));
    for (run, detail, clear) in [(&front, "CH1", "2"), (&back, "CH2", "2"), (demo(), "CH1", "50")] {
        let scene = section(run, detail);
        let brick = index(run, detail, "brick");
        let (brick, all) = (room(&scene, brick), runs(&scene.groups(Role::Piece(brick))));
        let foot = all.iter().filter(|run| is_broken(run)).any(|run| (run[0].y - brick.bottom).abs() < 1.5);
        assert!(foot, "{detail}: a break line at {}", brick.bottom);
        let deck = runs(&scene.groups(Role::Piece(index(run, detail, "deck")))).concat();
        let near = deck.iter().map(|p| (p.x - brick.left).abs().min((p.x - brick.right).abs()));
        let near = near.fold(f64::MAX, f64::min);
        assert!(near > 3.0, "{detail}: wood stays clear of the brick by {near} mm");
        assert!(has(&scene, clear), "{detail}: {clear} clear");
    }
}

/// Tiles over a gap lie on battens and counter battens that nobody drew: they touch what carries them and the tiles.
#[test]
fn tiles_lie_on_battens() {
    let run = run_folder("tests/trials/24/e09-eave-tiles.detail");
    let scene = section(&run, "E1");
    let battens = named(&scene, "battens, not given").concat();
    let crossed = battens.iter().filter(|run| run.len() == 2).count() / 2;
    assert!(crossed >= 2, "{crossed} battens are cut");
    // Across a roof of 38 degrees that falls to the right.
    let (sin, cos) = 38f64.to_radians().sin_cos();
    let out = |p: &Point| p.x * sin - p.y * cos;
    let of = |piece: &str| runs(&scene.groups(Role::Piece(index(&run, "E1", piece)))).concat();
    let reach =
        |points: &[Point]| points.iter().map(out).fold([f64::MAX, f64::MIN], |[l, h], at| [l.min(at), h.max(at)]);
    let ([low, high], [tiles, _], [_, under]) = (reach(&battens.concat()), reach(&of("tiles")), reach(&of("underlay")));
    assert!((tiles - high).abs() < 0.3, "they carry the tiles: {high} {tiles}");
    assert!(low - under < 2.5, "and lie on the underlay: {low} {under}");
}
