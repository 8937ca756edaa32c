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

/// Beyond a roof a place on the face is no height; and a mark ends at its wall, not a brick before it.
#[test]
fn level_marks_name_heights_and_end_at_their_wall() {
    let scene = section(demo(), "CH1");
    assert!(!words(&scene).iter().any(|(w, _)| w.starts_with("corner")), "{:?}", words(&scene));
    let back = run_folder("tests/trials/28/chimney-back.detail");
    let scene = section(&back, "CH2");
    let brick = room(&scene, index(&back, "CH2", "brick"));
    let levels = named(&scene, "levels").concat().concat();
    assert!(has(&scene, "corner 0") && (area(&levels).right - brick.left).abs() < 8.0, "{:?} {brick:?}", area(&levels));
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

/// Of an open valley: how wide it is open, the laps over its metal, and how wide that is; the plan stands under the section, and is no stamp.
#[test]
fn an_open_valley_has_its_widths() {
    let run = run_folder("tests/trials/24/e11-slate-valley.detail");
    let sheet = sheet(&run, "V1");
    let count = |wanted: &str| words(&sheet).iter().filter(|(w, _)| w == wanted).count();
    // 300 less 80 on either side, in section and plan; two times 80; two times 300.
    assert_eq!([count("220"), count("160"), count("600")], [4, 1, 1]);
    // The laps of the underlayment over the lining, 450 less 200, are still there.
    assert_eq!(count("250"), 2);
    // Both slopes are laid flat in it, so that its lengths are those of the metal.
    assert!(has(&sheet, "PLAN, UNFOLDED   1:10") && has(&sheet, "SECTION   1:10"), "{:?}", words(&sheet));
    let metal =
        sheet.groups(Role::Piece(index(&run, "V1", "metal"))).into_iter().map(|shapes| area(&runs(&[shapes]).concat()));
    let [section, plan] = metal.collect::<Vec<Area>>()[..] else { panic!("it is in both views") };
    assert!((section.center().x - plan.center().x).abs() < 0.1 && plan.top > section.bottom, "{section:?} {plan:?}");
}

/// A number of a chain stands between its ticks.
#[test]
fn numbers_of_chains_stand_between_their_ticks() {
    let sets: Vec<Run> = ["22", "24", "35"].map(|set| run_folder(&format!("tests/trials/{set}"))).into();
    for run in sets.iter().chain([demo()]) {
        for facts in run.checked.iter().flat_map(|c| &c.facts.details) {
            let sheet = sheet_of(&Subject::new(facts, &[]));
            sheet.each(&mut |shape| {
                let Shape::Group { role: Role::Dimension, words: name, shapes } = shape else { return };
                if &**name != "lengths along the face" {
                    return;
                }
                let lines: Vec<Vec<Point>> = runs(&[shapes]);
                for text in shapes.iter().filter(|shape| matches!(shape, Shape::Text { .. })) {
                    let room = text.room().expect("room");
                    let struck = lines.iter().flat_map(|run| run.windows(2)).any(|pair| room.meets(pair[0], pair[1]));
                    assert!(!struck, "{}: {text:?}", facts.detail.name);
                }
            });
        }
    }
}

/// A coping lies on something over the whole of its width, and the word for the outside stands outside.
#[test]
fn a_coping_is_carried_and_the_outside_is_named_outside() {
    let single_ply = run_folder("tests/trials/29/parapet.detail");
    for (run, detail, blocks) in [(demo(), "P4", 1), (&single_ply, "A601-1", 2)] {
        let scene = section(run, detail);
        let coping = room(&scene, index(run, detail, "coping"));
        let blocking: Vec<Area> =
            named(&scene, "blocking, not given").iter().map(|runs| area(&runs.concat())).collect();
        assert_eq!(blocking.len(), blocks, "{detail}");
        assert!(blocking.iter().all(|block| block.left > coping.left && block.right < coping.right), "{blocking:?}");
        assert!(
            blocking.iter().any(|block| coping.right - block.right < 6.0),
            "to the leg of the coping: {blocking:?}"
        );
        let room = |wanted: &str| words(&scene).into_iter().find(|(w, _)| w == wanted).expect(wanted).1;
        assert!(room("outside").left > coping.right, "{detail}: {:?} {coping:?}", room("outside"));
        assert!(room("roof").left < coping.center().x, "{detail}: {:?} {coping:?}", room("roof"));
    }
    // Thin boards close to the wall carry their coping themselves.
    let thin = run_folder("tests/trials/23/parapet.detail");
    assert!(named(&section(&thin, "G2"), "blocking, not given").is_empty());
}

/// A thick old wall is no reason to leave half of the sheet white, nor is a long flat section.
#[test]
fn sheets_have_the_largest_scale_that_fits() {
    for (detail, section) in
        [("RW2", "SECTION   1:5"), ("RW3", "SECTION   1:5"), ("S1", "PLAN   1:2"), ("X1", "PLAN   1:5")]
    {
        let sheet = sheet(demo(), detail);
        assert!(has(&sheet, section), "{detail}: {:?}", words(&sheet));
    }
}

/// Whoever reads a sheet alone learns what an unfolded elevation is, and from where a length below zero counts.
#[test]
fn sheets_explain_what_is_unfolded_and_where_zero_is() {
    let (mut unfolded, mut below, mut sills) = (0, 0, 0);
    for facts in demo().checked.iter().flat_map(|c| &c.facts.details) {
        let sheet = sheet_of(&Subject::new(facts, &[]));
        let all: Vec<String> = words(&sheet).into_iter().map(|(w, _)| w).collect();
        let text = all.join(" ");
        assert_eq!(text.contains("UNFOLDED   "), text.contains("laid flat in one plane"), "{}", facts.detail.name);
        unfolded += usize::from(text.contains("UNFOLDED   "));
        let flat = text.contains("SILL LAID FLAT   ");
        assert_eq!(
            flat,
            text.contains("(the sill)") && text.contains("from its outer edge"),
            "{}: {text}",
            facts.detail.name
        );
        sills += usize::from(flat);
        let negative = facts.detail.pieces.iter().any(|piece| {
            let ends = [piece.up.low, piece.up.high, piece.along.low, piece.along.high];
            ends.into_iter().flatten().any(|end| end.si < 0.0)
        });
        if negative {
            assert!(text.contains("minus is"), "{}: {text}", facts.detail.name);
            assert!(all.iter().filter(|w| *w == "0").count() > 1, "{}: zero is marked", facts.detail.name);
            below += 1;
        }
        assert!(!all.iter().any(|w| w == "lies" || w == "stands"), "{}", facts.detail.name);
    }
    assert!(unfolded > 6 && below > 10 && sills > 0, "{unfolded} {below} {sills}");
}
