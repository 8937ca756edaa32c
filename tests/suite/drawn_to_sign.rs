//! What a red pencil found on drawings that were to be signed, by its class.

use headlap::facts::DetailFacts;
use headlap::output::drawing::{
    self, Area, Mark, Paper, Point, Role, Scales, Scene, SectionLine, Shape, Subject, Title,
};
use headlap::review::Run;

use crate::drawing::{demo, folder};

const DETAILS: &str = "include \"stock.detail\"
climate town \"Mixed\" { zone 5A }
assembly V wall { climate town; outside; layer brick-veneer 3-5/8 in; layer drained-gap 2 in; layer mineral-wool-board 2 in controls thermal; layer wrap-adhered controls water, air; layer glass-mat-sheathing 1/2 in; layer mineral-wool 5-1/2 in between spruce 1-1/2 in at 16 in; layer gypsum 1/2 in; inside }
assembly S wall { climate town; outside; layer fiber-cement 5/16 in; layer vented-gap 3/4 in; layer wrap-open controls water, air; layer osb 1/2 in; layer mineral-wool 5-1/2 in controls thermal between spruce 1-1/2 in at 16 in; layer gypsum 1/2 in; inside }
assembly F foundation { outside; layer bitumen-coat controls water; layer reinforced-concrete 8 in controls air; inside }
assembly R roof { climate town; slope 12:12; outside; layer shingles; layer roof-underlayment controls water; layer plywood 5/8 in; inside }
assembly O opening { outside; layer window-vinyl controls water, air, thermal; inside }
detail PLATE base-of-wall \"Plate\" joins F to S {
  piece slab reinforced-concrete of F up to 0 in
  piece plate treated-wood up 0 in to 1-1/2 in
  piece deck osb of S up from -1 in
  piece wrap wrap-open of S up from -1 in
  piece batts mineral-wool of S up from 1-1/2 in inside
}
detail LAP base-of-wall \"Lap behind wool and brick\" joins V {
  piece board glass-mat-sheathing of V
  piece low wrap-adhered of V up to 4 in bonds board
  piece high wrap-adhered of V up from 0 in bonds board, low
  piece wool mineral-wool-board of V
  piece brick brick-veneer of V
}
detail TOP parapet \"Parapet\" joins S to R {
  fold up 0 in outside-corner
  fold up 8 in outside-corner
  piece deck osb of S up to 0 in
  piece top plywood up 0 in to 8 in
  piece inner osb up from 8 in
  piece over wrap-adhered up -4 in to 20 in bonds deck, top, inner primed
  piece coping metal-coping as coping up -5 in to 12 in with drip
}
detail PIPE penetration \"Pipe in a boot\" joins S {
  piece deck osb of S
  cut deck up 0 in to 4 in along 0 in to 4 in
  piece wrap wrap-open of S
  cut wrap up 0 in to 4 in along 0 in to 4 in
  piece pipe metal-pipe up 0 in to 4 in along 0 in to 4 in
  piece boot pipe-boot up -3 in to 7 in along -3 in to 7 in
}
detail ROWLOCK sill \"Bricks on edge\" joins V to O {
  fold up 0 in sill
  piece board glass-mat-sheathing of V up to 0 in
  piece skin wrap-adhered of V up to -2 in bonds board
  piece wool mineral-wool-board of V up to -4 in
  piece brick brick-veneer of V up to -4 in
  piece tray stainless-flashing as pan up -5 in to 1-1/2 in with drip
  piece sill brick-veneer of V up -4 in to -1/2 in slope 1:8
  piece unit window-vinyl of O up from -1/4 in
}
detail STONE sill \"Stone\" joins V to O {
  fold up 0 in sill
  piece board glass-mat-sheathing of V up to 0 in
  piece skin wrap-adhered of V up to -2 in bonds board
  piece wool mineral-wool-board of V up to -4 in
  piece brick brick-veneer of V up to -4 in
  piece tray stainless-flashing as pan up -5 in to 1-1/2 in with drip
  piece sill cast-stone up -4 in to -1/2 in slope 1:8 with drip
  piece unit window-vinyl of O up from -1/4 in
}
detail CORNER corner \"Boards at a corner\" joins S {
  fold along 0 in outside-corner
  piece deck-l osb of S along to 0 in
  piece deck-r osb of S along from 0 in
  piece wrap wrap-open of S
  piece boards-l fiber-cement of S along to -1/8 in
  piece boards-r fiber-cement of S along from 1/8 in
}
detail GRADE base-of-wall \"Insulated below grade\" joins F to S {
  grade up -8 in
  piece wall reinforced-concrete of F up to 0 in
  piece tank waterproofing-sheet up to -2 in bonds wall primed
  piece strip flash-tape up -4 in to 4 in bonds wall, tank primed
  piece foam xps up to -2 in
  piece deck osb of S up from 0 in
}
material toe frame \"Galvanized angle\" { thickness 8 mm; conductivity 50 W/m.K; surface metal }
detail SHELF shelf-angle \"Angle\" joins V {
  piece board glass-mat-sheathing of V
  piece low wrap-adhered of V up to 12 in bonds board
  piece angle toe up 0 in to 6 in
  piece through copper-flashing up -1/2 in to 10 in with drip
  piece high wrap-adhered of V up from 4 in bonds through, low
  piece wool-l mineral-wool-board of V up to 0 in
  piece wool-h mineral-wool-board of V up from 0 in
  piece brick-l brick-veneer of V up to -3/8 in
  piece brick-h brick-veneer of V up from 0 in
}
detail VALLEY valley \"Across\" joins R {
  valley along 0 in
  piece deck plywood of R
  piece liner ice-barrier along -18 in to 18 in bonds deck rolled
}
detail RIDGE ridge \"Cap\" joins R {
  fold up 0 in outside-corner
  slope 12:12 up to 0 in
  slope -12:12 up from 0 in
  piece low plywood of R up to -1 in
  piece high plywood of R up from 1 in
  piece cap shingles as ridge-cap up -6 in to 6 in
}
";

fn run() -> &'static Run {
    static RUN: std::sync::LazyLock<Run> = std::sync::LazyLock::new(|| folder(DETAILS, "to-sign"));
    &RUN
}

pub fn subject<'a>(run: &'a Run, name: &str, marks: &'a [Mark<'a>]) -> Subject<'a> {
    let facts = run.checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == name);
    Subject::new(facts.expect("the detail"), marks)
}

fn section(name: &str) -> Scene {
    let subject = subject(run(), name, &[]);
    drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"))
}

/// Every place of a piece, in mm of the building.
fn places(scene: &Scene, detail: &str, piece: &str) -> Vec<Point> {
    let subject = subject(run(), detail, &[]);
    let index = subject.detail.pieces.iter().position(|p| &*p.name == piece).expect("a piece");
    let mut all = Vec::new();
    for shape in scene.groups(Role::Piece(index)).into_iter().flatten() {
        shape.each(&mut |shape| {
            if let Shape::Path { runs, .. } = shape {
                all.extend(runs.iter().flatten().copied());
            }
        });
    }
    all
}

pub fn area(points: &[Point]) -> Area {
    let point = |p: &Point| Area::new(p.x, p.y, p.x, p.y);
    points.iter().map(point).reduce(Area::with).expect("places")
}

pub fn words(scene: &Scene) -> Vec<(String, Area)> {
    let mut all = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Text { words, .. } = shape {
            all.push((words.clone(), shape.room().expect("room")));
        }
    });
    all
}

/// The line of each drawn length, and its words.
fn lengths(scene: &Scene) -> Vec<(String, [Point; 2])> {
    let reported = |shapes: &[Shape]| {
        let Some(Shape::Path { runs, .. }) = shapes.first() else { panic!("lines") };
        let words = shapes.iter().find_map(|shape| match shape {
            Shape::Text { words, .. } => Some(words.clone()),
            _ => None,
        });
        let line = runs.last().expect("its line");
        (words.expect("words"), [line[0], line[1]])
    };
    scene.groups(Role::Length).into_iter().map(reported).collect()
}

/// An office that counts in inches draws at so many inches to the foot, and a length measured with its scale is the length that is written.
#[test]
fn sheets_of_inches_have_the_scales_of_their_office_and_are_true_to_them() {
    for paper in [Paper::A3, Paper::AnsiB] {
        let subject = subject(demo(), "B2", &[]);
        let title = Title { project: "Annex", date: String::new() };
        let sheet = drawing::sheet(&subject, SectionLine::principal(&subject).as_ref(), paper, &title);
        let named = words(&sheet).into_iter().find_map(|(w, _)| w.strip_prefix("SECTION   ").map(str::to_owned));
        let named = named.expect("the title of the section");
        let foot = named.strip_suffix("\" = 1'-0\"").unwrap_or_else(|| panic!("{named}"));
        let inches = match foot {
            "3" => 3.0,
            "1-1/2" => 1.5,
            other => panic!("no scale of a detail: {other}"),
        };
        // 4 in of the building at 3 in to the foot is 1 in of paper.
        let wanted = 4.0 * inches / 12.0 * 25.4;
        let (_, [p, q]) = lengths(&sheet).into_iter().find(|(w, _)| w == "4").expect("a lap of 4 in");
        let drawn = (q.x - p.x).hypot(q.y - p.y);
        assert!((drawn - wanted).abs() < 1e-6, "{drawn} mm, not {wanted} at {named}");
        let bar = format!("{} in", 2.0 * 12.0 / inches);
        assert!(words(&sheet).iter().any(|(w, _)| *w == bar), "a bar of 2 in measures {bar}");
        // The file is as large as the paper, so that the same holds in print.
        let svg = drawing::svg(&sheet);
        let [wide, high] = paper.size();
        assert!(svg.contains(&format!("width=\"{wide}mm\" height=\"{high}mm\" viewBox=\"0 0 {wide} {high}\"")));
        let (pdf, points) = (drawing::pdf(&[("B2".to_owned(), sheet)], "Annex"), wide / 25.4 * 72.0);
        let pdf = String::from_utf8_lossy(&pdf).into_owned();
        let size = pdf.split_once("/MediaBox [").expect("a page").1.split_once(']').expect("its size").0.to_owned();
        let sides: Vec<f64> = size.split_whitespace().map(|n| n.parse().expect("a number")).collect();
        assert!((sides[2] - points).abs() < 0.01, "{size}");
    }
}

/// Millimeters stay at one to a round number, but on a sheet of inches.
#[test]
fn sheets_of_millimeters_are_one_to_a_round_number() {
    let title = Title { project: "Annex", date: String::new() };
    let subject = subject(demo(), "B1", &[]);
    let named = |paper| {
        let sheet = drawing::sheet(&subject, SectionLine::principal(&subject).as_ref(), paper, &title);
        words(&sheet).into_iter().find_map(|(w, _)| w.strip_prefix("SECTION   ").map(str::to_owned))
    };
    assert_eq!(named(Paper::A3).as_deref(), Some("1:5"));
    assert!(named(Paper::AnsiB).is_some_and(|scale| scale.ends_with("\" = 1'-0\"")));
    assert_eq!(Scales::of("mm").written(10.0), "1:10");
}

/// A plate of 38 mm that is drawn as 1-1/2 in is as deep as its bay.
#[test]
fn a_plate_of_inches_is_as_deep_as_the_bay() {
    let scene = section("PLATE");
    let [plate, batts] = ["plate", "batts"].map(|piece| area(&places(&scene, "PLATE", piece)));
    assert!((plate.left - batts.left).abs() < 0.1 && (plate.width() - 139.7).abs() < 0.1, "{plate:?} {batts:?}");
}

/// A dimension stands outside of the wall, however thick that is, and not in the hatch of its brick.
#[test]
fn a_length_stands_clear_of_what_it_is_measured_in() {
    let scene = section("LAP");
    let brick = area(&places(&scene, "LAP", "brick"));
    let (_, [p, _]) = lengths(&scene).into_iter().find(|(w, _)| w == "4").expect("the lap");
    assert!(p.x > brick.right + 1.0, "{p:?} {brick:?}");
}

/// A fold that is no edge of an opening is no sill.
#[test]
fn the_top_of_a_parapet_is_called_so() {
    let subject = subject(demo(), "P4", &[]);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let reported: Vec<String> = words(&scene).into_iter().map(|(w, _)| w).collect();
    assert!(reported.iter().any(|w| w == "top 0") && !reported.iter().any(|w| w == "sill 0"), "{reported:?}");
}

/// Over a parapet it is the roof that lies beyond, and its top is called so.
#[test]
fn a_parapet_has_no_inside() {
    let reported: Vec<String> = words(&section("TOP")).into_iter().map(|(w, _)| w).collect();
    let has = |w: &str| reported.iter().any(|t| t == w);
    assert!(has("roof") && has("outside") && has("top 0") && !has("inside"), "{reported:?}");
}

/// The stair window of the demo library on a sheet, with its findings.
pub fn stair_window() -> (&'static DetailFacts, Scene) {
    let facts =
        demo().checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == "O2-W1").expect("O2-W1");
    let found = demo().report.findings.iter().filter(|f| drawing::belongs(&facts.detail, f));
    let marks: Vec<Mark> = found.enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect();
    let subject = Subject::new(facts, &marks);
    let title = Title { project: "Annex", date: String::new() };
    let sheet = drawing::sheet(&subject, SectionLine::principal(&subject).as_ref(), Paper::A3, &title);
    (facts, sheet)
}

/// The letter of an enlargement is read on white paper if there is any beside its circle.
#[test]
fn the_letter_of_an_enlargement_is_not_written_on_lines() {
    let (facts, sheet) = stair_window();
    let (_, room) = words(&sheet).into_iter().find(|(w, _)| w == "A").expect("the letter");
    let mut on = 0;
    for piece in 0..facts.detail.pieces.len() {
        for shape in sheet.groups(Role::Piece(piece)).into_iter().flatten() {
            shape.each(&mut |shape| {
                if let Shape::Path { runs, pen: Some(_), .. } = shape {
                    on +=
                        runs.iter().flat_map(|run| run.windows(2)).filter(|pair| room.meets(pair[0], pair[1])).count();
                }
            });
        }
    }
    assert_eq!(on, 0, "lines run through {room:?}");
}

/// A pipe comes out of its boot.
#[test]
fn a_pipe_stands_out_of_its_boot() {
    let scene = section("PIPE");
    let [pipe, boot] = ["pipe", "boot"].map(|piece| area(&places(&scene, "PIPE", piece)));
    assert!(pipe.right > boot.right + 10.0, "{pipe:?} {boot:?}");
    // Nothing of the boot is drawn across it: the pipe comes later.
    let subject = subject(run(), "PIPE", &[]);
    let order = |name: &str| {
        let index = subject.detail.pieces.iter().position(|p| &*p.name == name).expect("a piece");
        let is = |shape: &Shape| matches!(shape, Shape::Group { role: Role::Piece(n), .. } if *n == index);
        scene.shapes.iter().position(is).expect("its group")
    };
    assert!(order("boot") < order("pipe"));
}

/// A sill in a veneer begins at the window and stands out of the face of the bricks by an inch; water has a fall to run down.
#[test]
fn a_sill_in_a_veneer_reaches_from_the_window_over_the_bricks() {
    for name in ["ROWLOCK", "STONE"] {
        let scene = section(name);
        let [sill, brick, board] = ["sill", "brick", "board"].map(|piece| area(&places(&scene, name, piece)));
        assert!((sill.right - brick.right - 25.0).abs() < 2.0, "{name} {sill:?} {brick:?}");
        let tray = area(&places(&scene, name, "tray"));
        assert!(tray.right < brick.right + 6.0 * scene.scale, "{name}: the tray ends at the bricks below: {tray:?}");
        // No more than two membranes, drawn 1.5 apart on paper, lie between.
        assert!(sill.left - board.right <= 3.1 * scene.scale, "{name} {sill:?} {board:?}");
        let corners = places(&scene, name, "sill");
        let top = |x: f64| {
            let near = corners.iter().filter(|p| (p.x - x).abs() < 1e-6);
            near.map(|p| p.y).fold(f64::MAX, f64::min)
        };
        let fall = top(sill.right) - top(sill.left);
        assert!((fall - sill.width() / 8.0).abs() < 0.1, "{name} falls {fall} of {}", sill.width());
    }
    // Bricks on edge lie in mortar and are one brick long.
    let subject = subject(run(), "ROWLOCK", &[]);
    let index = subject.detail.pieces.iter().position(|p| &*p.name == "sill").expect("the sill");
    let mut hatches = Vec::new();
    for shape in section("ROWLOCK").groups(Role::Piece(index)).into_iter().flatten() {
        shape.each(&mut |shape| {
            if let Shape::Group { role: Role::Hatch(hatch), .. } = shape {
                hatches.push(format!("{hatch:?}"));
            }
        });
    }
    assert_eq!(hatches, ["Brick", "Render"]);
}

/// An angle reaches out under the veneer that it carries, half an inch short of its face, and the flashing runs out over it.
#[test]
fn a_shelf_angle_carries_its_veneer() {
    let scene = section("SHELF");
    let [angle, brick, through] = ["angle", "brick-h", "through"].map(|piece| area(&places(&scene, "SHELF", piece)));
    assert!((brick.right - angle.right - 13.0).abs() < 0.5, "{angle:?} {brick:?}");
    let gap = (angle.bottom - brick.bottom) / scene.scale;
    assert!((0.0..6.0).contains(&gap), "{gap} mm of paper between");
    assert!(through.right > brick.right, "the flashing drips clear of the face: {through:?} {brick:?}");
    assert!(!words(&scene).iter().any(|(w, _)| w.contains("support not given")));
}

/// Two roofs of 12:12 that meet at a right angle fall to their valley by 12 in 12 times the root of two.
#[test]
fn a_section_across_a_valley_falls_to_it() {
    let scene = section("VALLEY");
    let deck = places(&scene, "VALLEY", "deck");
    let box_of = area(&deck);
    let middle = (box_of.left + box_of.right) / 2.0;
    let lowest = deck.iter().max_by(|a, b| a.y.total_cmp(&b.y)).expect("a place");
    assert!((lowest.x - middle).abs() < 0.02 * box_of.width(), "{lowest:?} in {box_of:?}");
    let fall = box_of.height() / (box_of.width() / 2.0);
    assert!((0.70..0.85).contains(&fall), "{fall}");
}

/// The cap of a ridge is whole at its top: both halves meet in one line.
#[test]
fn the_halves_of_a_ridge_cap_meet() {
    let scene = section("RIDGE");
    let cap = places(&scene, "RIDGE", "cap");
    let box_of = area(&cap);
    let middle = (box_of.left + box_of.right) / 2.0;
    let top = cap.iter().filter(|p| p.y < box_of.top + 0.5);
    assert!(top.clone().all(|p| (p.x - middle).abs() < 0.5) && top.count() >= 2, "{cap:?}");
}

/// Boards stand off the wall, and still meet at its corner: one runs through, the other butts against it with its joint.
#[test]
fn boards_meet_at_an_outside_corner() {
    let scene = section("CORNER");
    let [left, right] = ["boards-l", "boards-r"].map(|piece| area(&places(&scene, "CORNER", piece)));
    let joint = 25.4 / 8.0;
    assert!((right.right - left.right - joint).abs() < 0.1, "one runs through: {left:?} {right:?}");
    assert!((left.top - right.bottom - joint).abs() < 0.1, "the other butts: {left:?} {right:?}");
}

/// The line of the ground begins at the outermost thing in it.
#[test]
fn ground_begins_outside_of_what_stands_in_it() {
    let scene = section("GRADE");
    let foam = area(&places(&scene, "GRADE", "foam"));
    let mut ground = Vec::new();
    for shape in scene.groups(Role::Ground).into_iter().flatten() {
        shape.each(&mut |shape| {
            if let Shape::Path { runs, .. } = shape {
                ground.extend(runs.iter().flatten().copied());
            }
        });
    }
    assert!(area(&ground).left >= foam.right - 1e-6, "{:?} {foam:?}", area(&ground));
}

/// A height of the section lies beside the same height of the elevation.
#[test]
fn section_and_elevation_stand_side_by_side() {
    let subject = subject(demo(), "B1", &[]);
    let title = Title { project: "Annex", date: String::new() };
    let sheet = drawing::sheet(&subject, SectionLine::principal(&subject).as_ref(), Paper::A3, &title);
    let index = subject.detail.pieces.iter().position(|p| &*p.name == "strip").expect("the strip");
    let mut lowest: Vec<f64> = Vec::new();
    for group in sheet.groups(Role::Piece(index)) {
        let mut all = Vec::new();
        for shape in group {
            shape.each(&mut |shape| {
                if let Shape::Path { runs, .. } = shape {
                    all.extend(runs.iter().flatten().copied());
                }
            });
        }
        lowest.push(area(&all).bottom);
    }
    assert_eq!(lowest.len(), 2, "a piece in each view");
    assert!((lowest[0] - lowest[1]).abs() < 1e-6, "{lowest:?}");
}
