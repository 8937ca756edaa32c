//! What a senior architect corrected on drawings, by its class: how things are built has to be seen.

use headlap::facts::DetailFacts;
use headlap::output::drawing::{
    self, Ink, Mark, Paper, Point, Role, Scene, SectionLine, Shape, Subject, Symbol, Title,
};
use headlap::review::Run;

use crate::drawing::{demo, folder, run_folder};

const DETAILS: &str = "include \"stock.detail\"
material fan unit \"Exhaust fan with curb cap\" { holds water, air; surface metal }
material step mass \"Curb cast with its slab\" { holds water, air; surface concrete }
assembly B wall { outside; layer brick-veneer 102 mm; layer drained-gap 40 mm; layer liquid-membrane controls water; layer concrete-block 190 mm; inside }
assembly R roof { slope 2 %; outside; layer tpo-membrane controls water, air; layer polyurethane-board 160 mm controls thermal; layer waterproofing-sheet controls vapor; layer plywood 18 mm; inside }
assembly S roof { slope 2 %; outside; layer tpo-membrane controls water, air; layer step 200 mm; inside }
assembly F foundation { outside; layer xps 100 mm controls thermal; layer waterproofing-sheet controls water, air; layer step 200 mm; inside }
assembly O opening { outside; layer fan controls water, air; inside }
detail COP parapet \"Coping\" joins B to R {
  fold up 0 mm sill
  slope plumb up to 0 mm
  piece block concrete-block of B up to 0 mm
  piece coat liquid-membrane of B up to 0 mm
  piece brick brick-veneer of B up to 0 mm
  piece dpc stainless-flashing as through-wall-flashing up -45 mm to 300 mm with drip
  piece stone cast-stone as coping up from -30 mm slope -4 deg with drip
}
detail CURB curb \"Curb\" joins R to O {
  fold up 0 mm base
  fold up 300 mm sill
  piece deck plywood of R up to 0 mm
  piece curb treated-wood up 0 mm to 300 mm
  piece foam polyurethane-board of R up to 0 mm
  piece field tpo-membrane of R up to 40 mm
  piece wrap-up tpo-membrane of R up -120 mm to 330 mm bonds field welded bonds curb clamped
  piece cap fan of O up from 240 mm
}
detail STEP curb \"Slab turned up\" joins S {
  fold up 0 mm base
  slope plumb up from 0 mm
  piece slab step of S
  piece field tpo-membrane of S
}
detail PIPE penetration \"Pipe\" joins R {
  slope 2 %
  piece deck plywood of R
  cut deck up -40 mm to 40 mm along -40 mm to 40 mm
  piece foam polyurethane-board of R
  cut foam up -40 mm to 40 mm along -40 mm to 40 mm
  piece pipe metal-pipe up -40 mm to 40 mm along -40 mm to 40 mm
  piece sheet tpo-membrane of R
  cut sheet up -45 mm to 45 mm along -45 mm to 45 mm
}
detail HEAD head \"Copper over a lintel\" joins B to O {
  fold up 0 mm head
  piece block concrete-block of B up from 0 mm
  piece coat liquid-membrane of B up from 0 mm
  piece lintel steel-stud up 12 mm to 100 mm
  piece through copper-flashing as head-flashing up 6 mm to 230 mm with drip
  piece high wrap-open up from 75 mm
  piece brick brick-veneer of B up from 12 mm
}
detail DOOR threshold \"Door behind insulation\" joins F to O {
  fold up 0 mm sill
  piece slab step of F up to 0 mm
  piece sheet waterproofing-sheet of F up to 60 mm bonds slab rolled primed
  piece foam xps of F up to 10 mm
  piece pan sill-pan as pan up -60 mm to 50 mm slope 4 deg with drip
  piece back sill-pan as back-dam up 50 mm to 75 mm
  piece door fan of O up from 5 mm
}
detail EDGE roof-edge \"Edge\" joins R {
  fold up 0 mm eave
  piece deck plywood of R up from 0 mm
  piece retarder waterproofing-sheet of R up from 0 mm bonds deck rolled primed
  piece nailer treated-wood up 0 mm to 80 mm
  piece foam polyurethane-board of R up from 80 mm
}
";

/// The section of a detail with nothing marked.
pub fn section(run: &Run, detail: &str) -> (Scene, Vec<String>) {
    let facts = run.checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == detail);
    section_of(facts.expect("the detail"))
}

pub fn section_of(facts: &DetailFacts) -> (Scene, Vec<String>) {
    let subject = Subject::new(facts, &[]);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    (scene, facts.detail.pieces.iter().map(|p| p.name.to_string()).collect())
}

/// Every shape of a piece, in mm of paper.
pub fn shapes((scene, names): &(Scene, Vec<String>), piece: &str) -> Vec<Shape> {
    let index = names.iter().position(|name| name == piece).expect("a piece");
    let mut all = Vec::new();
    for shape in scene.groups(Role::Piece(index)).into_iter().flatten() {
        shape.each(&mut |shape| {
            let mut shape = shape.clone();
            shape.each_place(&mut |p| *p = Point::new(p.x / scene.scale, p.y / scene.scale));
            all.push(shape);
        });
    }
    all
}

/// The outline of a solid piece, the runs of its first filled shape.
pub fn filled(shapes: &[Shape]) -> Vec<Vec<Point>> {
    let white = |shape: &Shape| match shape {
        Shape::Path { runs, closed: true, pen: None, fill: Some(Ink::White) } => Some(runs[0].clone()),
        _ => None,
    };
    shapes.iter().filter_map(white).collect()
}

pub fn span(points: &[Point]) -> [f64; 4] {
    let of = |pick: fn(&Point) -> f64| {
        points.iter().map(pick).fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)))
    };
    let ((left, right), (top, foot)) = (of(|p| p.x), of(|p| p.y));
    [left, right, top, foot]
}

/// Heavy lines of a piece, each as its two ends.
pub fn heavy(shapes: &[Shape]) -> Vec<[Point; 2]> {
    let mut lines = Vec::new();
    for shape in shapes {
        if let Shape::Path { runs, closed: false, pen: Some(pen), .. } = shape
            && pen.ink == Ink::Black
        {
            lines.extend(runs.iter().flat_map(|run| run.windows(2).map(|p| [p[0], p[1]])));
        }
    }
    lines
}

/// A coping lies on its wall: it floats by no more than the membranes are drawn apart, is one stone, and overhangs the brick.
#[test]
fn a_coping_of_stone_lies_on_its_wall_and_overhangs_its_face() {
    let run = folder(DETAILS, "coping");
    let drawn = section(&run, "COP");
    let stone = filled(&shapes(&drawn, "stone"));
    let solid: Vec<&Vec<Point>> = stone.iter().filter(|run| span(run)[1] - span(run)[0] > 3.0).collect();
    assert_eq!(solid.len(), 1, "one stone: {stone:?}");
    let (stone, brick) = (span(solid[0]), span(&filled(&shapes(&drawn, "brick"))[0]));
    let wall = span(&filled(&shapes(&drawn, "block"))[0]);
    assert!(wall[2] - stone[3] < 8.0, "it lies on the wall: {stone:?} over {wall:?}");
    assert!((stone[1] - brick[1] - 30.0 / 5.0).abs() < 1.5, "30 mm beyond the brick: {stone:?} {brick:?}");
}

/// The groove that breaks the drip is drawn where a drip is stated, and nowhere else.
#[test]
fn the_throat_of_a_stone_is_drawn_where_it_drips() {
    let grooves = |text: &str, name: &str| {
        let run = folder(text, name);
        let drawn = shapes(&section(&run, "COP"), "stone");
        let open = |shape: &&Shape| matches!(shape, Shape::Path { runs, closed: false, .. } if runs.len() == 1 && runs[0].len() == 4);
        drawn.iter().filter(open).count()
    };
    assert_eq!(grooves(DETAILS, "throat"), 1);
    assert_eq!(grooves(&DETAILS.replace("slope -4 deg with drip", "slope -4 deg"), "no-throat"), 0);
}

/// A membrane that turns at the foot of a curb and again over its top follows both turns.
#[test]
fn a_membrane_over_two_folds_turns_at_both() {
    let run = folder(DETAILS, "curb");
    let drawn = section(&run, "CURB");
    let index = drawn.1.iter().position(|name| name == "wrap-up").expect("a piece");
    assert!(!drawn.0.groups(Role::Piece(index)).is_empty());
    let line = heavy(&shapes(&drawn, "wrap-up"));
    let [_, right, _, foot] = span(&line.concat());
    let field = span(&heavy(&shapes(&drawn, "field")).concat());
    assert!(right > span(&filled(&shapes(&drawn, "curb"))[0])[1] + 100.0 / 5.0, "it lies on the roof: {line:?}");
    assert!(foot < field[3] + 3.0, "it does not go down behind the foam: {foot} {field:?}");
}

/// Concrete that turns up is one piece: no edge is drawn where its legs meet.
#[test]
fn a_piece_that_goes_on_over_a_fold_has_no_edge_there() {
    let run = folder(DETAILS, "step");
    let aslant = |[a, b]: &[Point; 2]| (a.x - b.x).abs() > 4.0 && (a.y - b.y).abs() > 4.0;
    let lines = heavy(&shapes(&section(&run, "STEP"), "slab"));
    assert!(!lines.is_empty() && !lines.iter().any(aslant), "{lines:?}");
}

/// What passes through a roof passes through all of it.
#[test]
fn a_pipe_passes_through_the_whole_roof() {
    let run = folder(DETAILS, "pipe");
    let drawn = section(&run, "PIPE");
    let box_of = |shape: &Shape| match shape {
        Shape::Path { runs, closed: true, fill: Some(Ink::Pale), .. } => Some(runs[0].clone()),
        _ => None,
    };
    let pipe = span(&shapes(&drawn, "pipe").iter().find_map(box_of).expect("a pipe"));
    let deck = filled(&shapes(&drawn, "deck")).concat();
    assert!(pipe[3] > span(&deck)[3] - 1.0, "{pipe:?} through {deck:?}");
}

/// A vapor retarder lies on its deck, whatever stands on it.
#[test]
fn a_membrane_within_a_roof_lies_on_what_is_below_it() {
    let run = folder(DETAILS, "edge");
    let drawn = section(&run, "EDGE");
    let lines = heavy(&shapes(&drawn, "retarder")).concat();
    let [left, right, top, foot] = span(&lines);
    let deck = span(&filled(&shapes(&drawn, "deck")).concat());
    assert!((right - left - (deck[1] - deck[0])).abs() < 1.0, "it covers the deck: {lines:?} {deck:?}");
    assert!(foot - top < 6.0, "it lies flat, with the fall of the roof: {lines:?}");
}

/// Dark on both sides and dark between them, a slate is a black bar. Metal is black only where it is a sheet.
#[test]
fn nothing_that_is_thick_on_paper_is_filled_with_black() {
    for path in ["tests/details/correct", "examples/millrace"] {
        let run = run_folder(path);
        for facts in run.checked.iter().flat_map(|c| &c.facts.details) {
            let subject = Subject::new(facts, &[]);
            let Some(line) = SectionLine::principal(&subject) else { continue };
            let scene = drawing::section(&subject, &line);
            for piece in 0..facts.detail.pieces.len() {
                for shape in scene.groups(Role::Piece(piece)).into_iter().flatten() {
                    shape.each(&mut |shape| {
                        if let Shape::Path { runs, closed: true, fill: Some(Ink::Dark | Ink::Black), .. } = shape {
                            let area: f64 = runs.iter().map(|run| thickness(run)).fold(0.0, f64::max) / scene.scale;
                            assert!(area < 2.0, "{}: {area} mm of black", facts.detail.name);
                        }
                    });
                }
            }
        }
    }
}

/// The mean thickness of a long area: what it covers for each mm of its longest line.
fn thickness(run: &[Point]) -> f64 {
    let next = |n: usize| run[(n + 1) % run.len()];
    let area: f64 = run.iter().enumerate().map(|(n, p)| p.x * next(n).y - next(n).x * p.y).sum::<f64>().abs() / 2.0;
    let longest = run.iter().flat_map(|p| run.iter().map(|q| (p.x - q.x).hypot(p.y - q.y))).fold(1e-9, f64::max);
    area / longest
}

/// Where the elevation has a ring, water turns in, and an arrow says so; the legend of its sheet explains it.
#[test]
fn water_that_turns_in_has_its_arrow_on_the_elevation() {
    let facts = demo().checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == "O2-W1");
    let facts = facts.expect("O2-W1");
    let found = demo().report.findings.iter().filter(|f| drawing::belongs(&facts.detail, f));
    let marks: Vec<Mark> = found.enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect();
    let subject = Subject::new(facts, &marks);
    let front = drawing::elevation(&subject);
    let count = |symbol: Symbol| front.groups(Role::Symbol(symbol)).len();
    assert!(count(Symbol::Ring) > 0);
    assert_eq!(count(Symbol::TurnsIn), count(Symbol::Ring));
}

/// A window that is drawn shorter is broken across its pane, and its flange begins at its frame.
#[test]
fn a_window_is_broken_across_its_pane_and_has_its_flange() {
    let drawn = section(demo(), "O1-W1");
    let unit = shapes(&drawn, "unit");
    let pane = unit.iter().find_map(|shape| match shape {
        Shape::Path { runs, closed: true, fill: Some(Ink::White), .. } => Some(span(&runs[0])),
        _ => None,
    });
    let pane = pane.expect("a pane");
    let mut broken = false;
    for shape in drawn.0.groups(Role::Break).into_iter().flatten() {
        if let Shape::Path { runs, closed: true, fill: Some(Ink::White), .. } = shape {
            let [left, right, top, foot] = span(&runs[0]).map(|at| at / drawn.0.scale);
            broken |= left < pane[0] && pane[1] < right && pane[2] < top && foot < pane[3];
        }
    }
    assert!(broken, "over the pane {pane:?}");
    let corners = unit.iter().filter_map(|shape| match shape {
        Shape::Path { runs, closed: false, .. } if runs[0].len() == 3 => Some(runs[0].clone()),
        _ => None,
    });
    assert_eq!(corners.count(), 2, "a flange at the head and one at the sill");
}

/// The face of brick is seen as brick.
#[test]
fn brick_has_courses_on_the_elevation_and_concrete_no_boards() {
    let facts = demo().checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == "B2").expect("B2");
    let front = drawing::elevation(&Subject::new(facts, &[]));
    let lines = |name: &str| {
        let piece = facts.detail.pieces.iter().position(|p| &*p.name == name).expect("a piece");
        let (mut level, mut upright) = (0, 0);
        for shape in front.groups(Role::Piece(piece)).into_iter().flatten() {
            if let Shape::Path { runs, closed: false, .. } = shape {
                level += runs.iter().filter(|run| run[0].y == run[1].y).count();
                upright += runs.iter().filter(|run| run[0].x == run[1].x).count();
            }
        }
        (level, upright)
    };
    let (level, upright) = lines("veneer");
    assert!(level > 3 && upright > level / 2, "{level} courses, {upright} joints");
    assert_eq!(lines("stem"), (0, 0));
}

/// Nobody says "lengths in in", and a bar of inches counts inches.
#[test]
fn inches_are_called_so() {
    let facts = demo().checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == "B2").expect("B2");
    let subject = Subject::new(facts, &[]);
    let line = SectionLine::principal(&subject);
    let title = Title { project: "Annex", date: String::new() };
    let sheet = drawing::svg(&drawing::sheet(&subject, line.as_ref(), Paper::A3, &title));
    assert!(sheet.contains(">8 in<") && !sheet.contains(" mm<"), "2 in of paper at 3 in to the foot");
    let section = drawing::svg(&drawing::section(&subject, &line.expect("a line")));
    assert!(section.contains("lengths in inches") && !section.contains("in in "));
}

/// Metal over a lintel goes down its face and out over the ledge: it does not cut through the brick.
#[test]
fn a_flashing_under_a_veneer_does_not_cut_through_it() {
    let run = folder(DETAILS, "lintel");
    let drawn = section(&run, "HEAD");
    let brick = span(&filled(&shapes(&drawn, "brick"))[0]);
    let within = |p: Point| brick[0] + 1.0 < p.x && p.x < brick[1] - 1.0 && brick[2] < p.y && p.y < brick[3] - 1.0;
    let lines = heavy(&shapes(&drawn, "through"));
    for [a, b] in &lines {
        let inside = (1..20)
            .map(|n| n as f64 / 20.0)
            .find(|part| within(Point::new(a.x + part * (b.x - a.x), a.y + part * (b.y - a.y))));
        assert_eq!(inside, None, "{lines:?} through {brick:?}");
    }
}

/// A pan lies on the edge of its opening, whatever stands outboard of the wall, and its dam lies behind the door.
#[test]
fn a_pan_lies_on_the_sill_and_its_dam_behind_what_stands_on_it() {
    let run = folder(DETAILS, "pan");
    let drawn = section(&run, "DOOR");
    let [pan, back] = ["pan", "back"].map(|name| span(&heavy(&shapes(&drawn, name)).concat()));
    let slab = span(&filled(&shapes(&drawn, "slab"))[0]);
    assert!(slab[2] - pan[2] < 8.0, "it does not rise before the door: {pan:?} over {slab:?}");
    assert!(back[1] < slab[1], "behind the face of the wall: {back:?} {slab:?}");
}
