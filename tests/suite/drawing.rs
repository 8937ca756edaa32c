//! Drawings: that they can be drawn by others, that they are true to scale, that marks lie where they should.

use std::path::PathBuf;
use std::sync::LazyLock;

use headlap::finding::{Finding, Level};
use headlap::output::drawing::{
    self, Anchor, Area, Ink, Mark, Paper, Point, Role, Scene, SectionLine, Shape, Subject, Title, lettering, pieces,
};
use headlap::project;
use headlap::review::Run;

/// The demo library, reviewed with the built-in rules.
pub fn demo() -> &'static Run {
    static RUN: LazyLock<Run> = LazyLock::new(|| run_folder("examples/millrace"));
    &RUN
}

/// A folder or file below the package, reviewed with the built-in rules.
pub fn run_folder(path: &str) -> Run {
    let working = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let walked = project::walk(&[working.join(path)], &working);
    let project = project::open(&working, &working).unwrap_or_else(|_| panic!("the stock rules load"));
    let today = crate::review::TODAY;
    let review = project::ReviewTask {
        project: &project,
        walked: &walked,
        working: &working,
        today: today.into(),
        keep: true,
        texts: true,
        cache: None,
        memory: None,
        progress: &|_| {},
    };
    project::review(&review)
}

/// Every drawing of a run with its name; `marks` stands in for the findings of a detail when it is given.
fn drawings(run: &Run) -> Vec<(String, Scene)> {
    let mut scenes = Vec::new();
    for facts in run.checked.iter().flat_map(|c| &c.facts.details) {
        let found = run.report.findings.iter().filter(|f| drawing::belongs(&facts.detail, f));
        let marks: Vec<Mark> = found.enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect();
        let subject = Subject::new(facts, &marks);
        for line in SectionLine::all(&facts.face.cells, drawing::axis(&facts.detail)) {
            scenes.push((format!("section of {}", facts.detail.name), drawing::section(&subject, &line)));
        }
        scenes.push((format!("face of {}", facts.detail.name), drawing::elevation(&subject)));
        let (title, line) = (Title { project: "Annex", date: String::new() }, SectionLine::principal(&subject));
        scenes.push((
            format!("sheet of {}", facts.detail.name),
            drawing::sheet(&subject, line.as_ref(), Paper::A3, &title),
        ));
    }
    for facts in run.checked.iter().flat_map(|c| &c.facts.assemblies) {
        scenes.push((format!("assembly {}", facts.assembly.name), drawing::assembly(facts)));
        let mut layers = vec![0, facts.layers.len().saturating_sub(1)];
        layers.dedup();
        scenes.push((format!("layers of {}", facts.assembly.name), drawing::layers(facts, &layers, 1)));
    }
    scenes
}

#[test]
fn every_drawing_of_the_demo_library_parses_and_rasterizes() {
    let scenes = drawings(demo());
    assert!(scenes.len() > 60, "{}", scenes.len());
    for (name, scene) in scenes {
        let svg = drawing::svg(&scene);
        let tree = resvg::usvg::Tree::from_str(&svg, &resvg::usvg::Options::default());
        let tree = tree.unwrap_or_else(|error| panic!("{name}: {error}"));
        // At half its size, which takes a quarter of the time. Thin lines are no longer dark there.
        let size = tree.size().to_int_size();
        let mut pixels =
            resvg::tiny_skia::Pixmap::new(size.width() / 2, size.height() / 2).expect("a drawing has a size");
        resvg::render(&tree, resvg::tiny_skia::Transform::from_scale(0.5, 0.5), &mut pixels.as_mut());
        let dark = pixels.pixels().iter().filter(|p| p.red() < 200).count();
        assert!(dark > 200, "{name} is blank: {dark} dark pixels");
    }
}

#[test]
fn no_two_words_overlap_and_no_leaders_cross() {
    for (name, scene) in drawings(demo()) {
        keeps_clear(&name, &scene);
    }
}

#[test]
fn the_details_of_offices_keep_clear_too() {
    let run = run_folder("tests/details/correct");
    let scenes = drawings(&run);
    let troubles: Vec<String> = scenes.iter().filter_map(|(name, scene)| trouble(name, scene)).collect();
    assert!(troubles.is_empty(), "{} of {}: {:#?}", troubles.len(), scenes.len(), &troubles[..troubles.len().min(12)]);
    assert!(scenes.len() > 500, "{}", scenes.len());
}

/// No two words overlap, no leader crosses another or a mark, and nothing leaves the sheet.
fn keeps_clear(name: &str, scene: &Scene) {
    assert_eq!(trouble(name, scene), None);
}

/// The test of all drawings sees each of these when it is there.
#[test]
fn trouble_is_seen() {
    let words = |x: f64, y: f64| Shape::text(Point::new(x, y), 3.0, "words");
    let leader = |n: usize, from: [f64; 2], to: [f64; 2]| {
        let pen = drawing::Pen::solid(0.18, Ink::Dark);
        let run = [from, to].map(|[x, y]| Point::new(x, y)).to_vec();
        Shape::group(Role::Label(n), "", vec![Shape::line(run, pen)])
    };
    let mark = |x: f64, y: f64| {
        let rim = Shape::Circle { center: Point::new(x, y), radius: 2.0, pen: None, fill: Some(Ink::Black) };
        Shape::group(Role::Mark(9), "", vec![rim])
    };
    let said = |shapes: Vec<Shape>| trouble("T", &Scene { width: 100.0, height: 100.0, shapes, ..Scene::empty() });
    let (a, b) = (leader(0, [10.0, 10.0], [40.0, 40.0]), leader(1, [10.0, 40.0], [40.0, 10.0]));
    assert_eq!(said(vec![words(10.0, 10.0), words(10.0, 20.0), a.clone(), mark(60.0, 60.0)]), None);
    for (shapes, wanted) in [
        (vec![words(10.0, 10.0), words(12.0, 11.0)], "overlap"),
        (vec![a.clone(), b], "cross"),
        (vec![a, mark(25.0, 25.0)], "crosses mark 9"),
        (vec![words(95.0, 10.0)], "leaves the sheet"),
        (vec![mark(99.0, 50.0)], "leaves the sheet"),
        (vec![leader(0, [10.0, 10.0], [10.0, 101.0])], "leaves the sheet"),
    ] {
        let said = said(shapes);
        assert!(said.as_ref().is_some_and(|words| words.contains(wanted)), "{wanted}: {said:?}");
    }
}

/// Where the marks of findings stand, each with its number.
fn marks(scene: &Scene) -> Vec<(usize, Area)> {
    let mut marks = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Group { role: Role::Mark(n), shapes, .. } = shape
            && let Some(area) = Area::around(shapes)
        {
            marks.push((*n, area));
        }
    });
    marks
}

/// Drafting keeps so much between dimension lines that run beside each other, mm of paper.
const DIMENSIONS: f64 = 7.0;

/// How far apart the two closest dimension lines are that run beside each other.
fn closest_dimensions(scene: &Scene) -> Option<f64> {
    let mut lines: Vec<[Point; 2]> = Vec::new();
    for group in scene.groups(Role::Length) {
        let mut own = None;
        group.iter().for_each(|shape| {
            shape.each(&mut |shape| {
                // Two lines lead to it, and it is the third.
                if let (Shape::Path { runs, closed: false, .. }, None) = (shape, own) {
                    own = runs.get(2).map(|run| [run[0], run[1]]);
                }
            });
        });
        lines.extend(own);
    }
    let mut closest = None;
    for (n, [a, b]) in lines.iter().enumerate() {
        let long = (b.x - a.x).hypot(b.y - a.y);
        let d = Point::new((b.x - a.x) / long, (b.y - a.y) / long);
        for other in &lines[n + 1..] {
            let local = other.map(|p| ((p.x - a.x) * d.x + (p.y - a.y) * d.y, (p.y - a.y) * d.x - (p.x - a.x) * d.y));
            let beside = local[0].0.min(local[1].0) < long - 1e-6 && local[0].0.max(local[1].0) > 1e-6;
            if beside && (local[0].1 - local[1].1).abs() < 1e-6 {
                let apart = local[0].1.abs() / scene.scale;
                closest = Some(closest.map_or(apart, |least: f64| least.min(apart)));
            }
        }
    }
    closest
}

pub fn trouble(name: &str, scene: &Scene) -> Option<String> {
    let texts = texts(scene);

    for (n, (area, words)) in texts.iter().enumerate() {
        if area.left < 0.0 || area.right > scene.width + 1e-6 {
            return Some(format!("{name}: {words} leaves the sheet"));
        }
        if area.top < 0.0 || area.bottom > scene.height + 1e-6 {
            return Some(format!("{name}: {words} leaves the sheet"));
        }
        for (other, others) in &texts[n + 1..] {
            if area.overlaps(*other) {
                return Some(format!("{name}: {words} and {others} overlap"));
            }
        }
    }
    if let Some(apart) = closest_dimensions(scene).filter(|apart| *apart < DIMENSIONS - 1e-6) {
        return Some(format!("{name}: two dimension lines are {apart:.1} mm apart"));
    }
    let leaders = leaders(scene);
    for (n, (a, of)) in leaders.iter().enumerate() {
        for (b, other) in leaders[n + 1..].iter() {
            let crosses = a.windows(2).any(|p| b.windows(2).any(|q| drawing::cross([p[0], p[1]], [q[0], q[1]])));
            if crosses {
                return Some(format!("{name}: the leaders of {of} and {other} cross"));
            }
        }
    }
    for (n, area) in marks(scene) {
        let own = format!("{:?}", Role::Anchor(n));
        let crosses = |path: &[Point]| path.windows(2).any(|p| area.meets(p[0], p[1]));
        if let Some((_, of)) = leaders.iter().find(|(path, of)| *of != own && crosses(path)) {
            return Some(format!("{name}: the leader of {of} crosses mark {n}"));
        }
    }
    let whole = Area::around(&scene.shapes)?;
    let leaves = whole.left < -1e-6
        || whole.top < -1e-6
        || whole.right > scene.width + 1e-6
        || whole.bottom > scene.height + 1e-6;
    leaves.then(|| format!("{name}: a line leaves the sheet: {whole:?} of {} x {}", scene.width, scene.height))
}

/// The lines from names and marks to their places, each with what it belongs to.
fn leaders(scene: &Scene) -> Vec<(Vec<Point>, String)> {
    let mut found = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Group { role: role @ (Role::Label(_) | Role::Anchor(_)), shapes, .. } = shape
            && let Some(Shape::Path { runs, .. }) = shapes.first()
        {
            found.push((runs[0].clone(), format!("{role:?}")));
        }
    });
    found
}

/// Room that words take, from the line they stand on up.
fn texts(scene: &Scene) -> Vec<(Area, String)> {
    let mut texts = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Text { at, height, anchor, words, .. } = shape {
            let width = lettering::width(words, *height);
            let left = match anchor {
                Anchor::Start => at.x,
                Anchor::Middle => at.x - width / 2.0,
                Anchor::End => at.x - width,
            };
            texts.push((Area::new(left, at.y - height, left + width, at.y), words.clone()));
        }
    });
    texts
}

#[test]
fn every_mark_of_a_section_lies_on_its_piece() {
    let mut count = 0;
    for facts in demo().checked.iter().flat_map(|c| &c.facts.details) {
        // Findings about each piece and each lap, whatever the rules think of them.
        let named = |names: &[usize]| {
            let mut finding = Finding::new("test", "Test", Level::Warning, facts.detail.span, "test");
            finding.subject = names.iter().map(|n| facts.detail.pieces[*n].name.clone()).collect();
            finding
        };
        let alone = (0..facts.detail.pieces.len()).map(|piece| named(&[piece]));
        let laps = facts.face.laps.iter().map(|lap| named(&[lap.over, lap.under]));
        let findings: Vec<Finding> = alone.chain(laps).collect();
        let marks: Vec<Mark> = findings.iter().enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect();
        let subject = Subject::new(facts, &marks);
        let line = SectionLine::principal(&subject).expect("every detail has a line");
        let scene = drawing::section(&subject, &line);
        for mark in &marks {
            let about = pieces(&facts.detail, mark.finding);
            let Some(piece) = about.into_iter().find(|p| line.has(*p)) else { continue };
            let [anchor] = scene.groups(Role::Anchor(mark.number))[..] else { continue };
            let Some(Shape::Circle { center, .. }) = anchor.last() else { panic!("a pointer ends in a dot") };
            let [body] = scene.groups(Role::Piece(piece))[..] else { panic!("the piece is drawn once") };
            let near = body.iter().map(|shape| distance(shape, *center)).fold(f64::MAX, f64::min);
            assert!(near < 0.01 * scene.scale, "{}: mark {} is {near} mm off", facts.detail.name, mark.number);
            count += 1;
        }
    }
    assert!(count > 100, "{count}");
}

/// How far a point is from a shape: 0 in an area, else the distance to its lines.
fn distance(shape: &Shape, at: Point) -> f64 {
    let Shape::Path { runs, closed, fill, .. } = shape else {
        let Shape::Group { shapes, .. } = shape else { return f64::MAX };
        return shapes.iter().map(|shape| distance(shape, at)).fold(f64::MAX, f64::min);
    };
    if *closed && fill.is_some() {
        let inside = |run: &Vec<Point>| {
            let (xs, ys) = (run.iter().map(|p| p.x), run.iter().map(|p| p.y));
            let low = Point::new(xs.clone().fold(f64::MAX, f64::min), ys.clone().fold(f64::MAX, f64::min));
            let high = Point::new(xs.fold(f64::MIN, f64::max), ys.fold(f64::MIN, f64::max));
            Area::new(low.x, low.y, high.x, high.y).contains(at)
        };
        if runs.iter().any(inside) {
            return 0.0;
        }
    }
    let to_line = |pair: &[Point]| {
        let (a, b) = (pair[0], pair[1]);
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let part = (((at.x - a.x) * dx + (at.y - a.y) * dy) / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
        ((a.x + part * dx - at.x).powi(2) + (a.y + part * dy - at.y).powi(2)).sqrt()
    };
    runs.iter().flat_map(|run| run.windows(2)).map(to_line).fold(f64::MAX, f64::min)
}

pub fn folder(text: &str, name: &str) -> Run {
    let folder = std::env::temp_dir().join(format!("headlap-drawing-{}-{name}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder for the test");
    std::fs::write(folder.join("a.detail"), text).expect("a file for the test");
    let run = run_folder(folder.to_str().expect("a plain path"));
    std::fs::remove_dir_all(&folder).expect("the folder goes");
    run
}

/// Smallest and largest x and y of what a group draws.
fn bounds(shapes: &[Shape]) -> Area {
    let mut area = Area::new(f64::MAX, f64::MAX, f64::MIN, f64::MIN);
    for shape in shapes {
        shape.each(&mut |shape| {
            if let Shape::Path { runs, .. } = shape {
                for p in runs.iter().flatten() {
                    area = Area::new(area.left.min(p.x), area.top.min(p.y), area.right.max(p.x), area.bottom.max(p.y));
                }
            }
        });
    }
    area
}

const LAP: &str = "include \"stock.detail\"
assembly W1 wall \"Wall\" {
  outside
  layer wrap-open       controls water, air
  layer plywood 12 mm
  layer mineral-wool 140 mm controls thermal
  layer poly-6mil       controls vapor
  inside
}
detail C1 course \"A <script>alert(1)</script> & \u{202E}title\" joins W1 {
  piece deck  plywood    of W1
  piece low   wrap-open  of W1  up to 100 mm
  piece high  wrap-open  of W1  up from 0 mm
  piece patch acrylic-tape      up 20 mm to 60 mm  along 0 mm to 150 mm  bonds high
}
";

#[test]
fn lengths_are_true_to_scale() {
    let run = folder(LAP, "lap");
    let facts = &run.checked[0].facts.details[0];
    let subject = Subject::new(facts, &[]);
    let section = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let piece = |scene: &Scene, name: &str| {
        let index = facts.detail.pieces.iter().position(|p| &*p.name == name).expect("a piece");
        bounds(scene.groups(Role::Piece(index))[0])
    };
    let lap = piece(&section, "high").bottom - piece(&section, "low").top;
    assert!((lap - 100.0).abs() < 1e-6, "a lap of 100 mm is drawn {lap} mm");
    let face = drawing::elevation(&subject);
    let patch = piece(&face, "patch");
    assert!((patch.width() - 150.0).abs() < 1e-6 && (patch.height() - 40.0).abs() < 1e-6, "{patch:?}");
}

#[test]
fn the_later_membrane_lies_outboard() {
    let run = folder(LAP, "order");
    let facts = &run.checked[0].facts.details[0];
    let subject = Subject::new(facts, &[]);
    let section = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let right = |index: usize| bounds(section.groups(Role::Piece(index))[0]).right;
    assert!(right(0) < right(1) && right(1) < right(2) && right(2) < right(3));
}

#[test]
fn text_from_files_shows_as_text() {
    let run = folder(LAP, "hostile");
    let facts = &run.checked[0].facts.details[0];
    let svg = drawing::svg(&drawing::elevation(&Subject::new(facts, &[])));
    assert!(svg.contains("&lt;script&gt;") && svg.contains("&lt;U+202E&gt;title"), "{}", &svg[..800]);
    assert!(!svg.contains("<script") && !svg.contains('\u{202E}'));
}

#[test]
fn a_mark_is_lit_where_it_stands() {
    let run = demo();
    let facts = run.checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == "O2-W1").expect("O2-W1");
    let finding = run.report.findings.iter().find(|f| drawing::belongs(&facts.detail, f)).expect("a finding");
    let marks = [Mark::new(7, finding)];
    let subject = Subject::new(facts, &marks);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let rings = drawing::highlight(&scene, 7);
    // In the list, on the drawing, and at the place.
    assert_eq!(rings.len(), 3);
    assert!(drawing::highlight(&scene, 8).is_empty());
}

#[test]
fn drawings_of_the_demo_library_look_as_they_did() {
    for (name, view) in [("B1", "section"), ("O2-W1", "elevation"), ("X2", "section")] {
        let facts = demo().checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == name);
        let facts = facts.expect("the detail is in the demo library");
        let found = demo().report.findings.iter().filter(|f| drawing::belongs(&facts.detail, f));
        let marks: Vec<Mark> = found.enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect();
        let subject = Subject::new(facts, &marks);
        let scene = match view {
            "elevation" => drawing::elevation(&subject),
            _ => drawing::section(&subject, &SectionLine::principal(&subject).expect("a line")),
        };
        insta::assert_snapshot!(format!("drawing_{name}_{view}"), drawing::svg(&scene));
    }
}

/// Details that no one would draw: pieces of all kinds anywhere, folds, grade, beads. The same ones each time.
fn random_details(count: usize) -> String {
    let mut state: u64 = 0x9E37_79B9_7F4A_7C15;
    let mut next = move |below: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) % below
    };
    let mut text = LAP.split_once("detail C1").expect("the head of the text").0.to_owned();
    for n in 0..count {
        let plan = next(4) == 0;
        let (axis, folds) = if plan {
            ("along", ["outside-corner", "inside-corner", "jamb"])
        } else {
            ("up", ["eave", "base", "sill"])
        };
        text.push_str(&format!("detail D{n} course \"Detail {n} of many\" joins W1 {{\n"));
        if next(2) == 0 {
            text.push_str(&format!("  fold {axis} 0 mm {}\n", folds[next(3) as usize]));
        }
        if next(3) == 0 && !plan {
            text.push_str("  grade up -300 mm\n");
        }
        let pieces = 2 + next(7);
        for p in 0..pieces {
            let material = [
                "plywood of W1",
                "wrap-open of W1",
                "wrap-open of W1",
                "acrylic-tape",
                "aluminum-flashing",
                "mineral-wool of W1",
                "concrete",
                "liquid-flashing",
                "window-vinyl",
                "brick-veneer",
                "butyl-flashing",
            ][next(11) as usize];
            let place = match next(4) {
                0 => String::new(),
                1 => format!(" {axis} from {} mm", next(40) * 10),
                2 => format!(" {axis} to {} mm", next(40) as i64 * 10 - 200),
                _ => {
                    let low = next(60) as i64 * 10 - 300;
                    format!(" {axis} {low} mm to {} mm", low + 10 + next(50) as i64 * 10)
                }
            };
            let inside = if next(8) == 0 { " inside" } else { "" };
            text.push_str(&format!("  piece p{p} {material}{place}{inside}\n"));
        }
        if next(3) == 0 {
            text.push_str(&format!("  seal p0 to p1 with butyl-bead {axis} {} mm\n", next(30) * 10));
        }
        text.push_str("}\n");
    }
    text
}

#[test]
fn words_and_leaders_of_a_thousand_random_details_keep_clear() {
    let run = folder(&random_details(1000), "random");
    let (mut count, mut troubles) = (0, Vec::new());
    for (n, facts) in run.checked[0].facts.details.iter().enumerate() {
        let numbered = run.report.findings.iter().enumerate().map(|(n, finding)| Mark::new(n + 1, finding));
        let marks: Vec<Mark> = numbered.filter(|m| drawing::belongs(&facts.detail, m.finding)).take(6).collect();
        let subject = Subject::new(facts, &marks);
        let mut scenes: Vec<Scene> =
            SectionLine::principal(&subject).iter().map(|line| drawing::section(&subject, line)).collect();
        scenes.push(drawing::elevation(&subject));
        for scene in scenes {
            let name = format!("{} ({n})", scene.title);
            troubles.extend(trouble(&name, &scene));
            count += 1;
        }
    }
    assert!(troubles.is_empty(), "{} of {count}: {:#?}", troubles.len(), &troubles[..troubles.len().min(12)]);
    assert!(count > 1900, "{count}");
}

const HEAD: &str = "include \"stock.detail\"
assembly W1 wall \"Wall\" {
  outside
  layer wrap-open       controls water, air
  layer plywood 12 mm
  layer mineral-wool 140 mm controls thermal
  inside
}
assembly R1 roof \"Roof\" { outside; layer roof-membrane controls water, air; layer plywood 18 mm; inside }
detail H1 opening \"Head\" joins W1 {
  fold up 0 mm sill
  fold up 900 mm head
  piece deck plywood of W1
  cut   deck up 0 mm to 900 mm
  piece pan  sill-pan as pan up -100 mm to 40 mm slope 6 deg
  piece unit window-vinyl up -25 mm to 925 mm
  piece head aluminum-flashing as head-flashing up 905 mm to 1010 mm with drip
  piece flap wrap-open of W1 up from 930 mm
}
detail P1 parapet \"Parapet\" joins W1 to R1 {
  fold up 0 mm sill
  piece deck   plywood of W1 up to 0 mm
  piece nailer treated-wood up from 0 mm
  piece wrap   wrap-open of W1 up to -10 mm
  piece boards cedar-boards up to -40 mm
  piece coping metal-coping as coping up from -120 mm with drip slope -3 deg
}
detail B1 base-of-wall \"Base\" joins W1 {
  grade up -230 mm
  piece stem  concrete up to 0 mm
  piece plate treated-wood up 0 mm to 38 mm
  piece deck  plywood of W1 up from 0 mm
  piece wrap  wrap-open of W1 up from -25 mm
  piece wool  mineral-wool of W1 up from 0 mm inside
  piece band  acrylic-tape up 300 mm to 400 mm
}
detail L1 ledger \"Ledger\" joins W1 {
  piece deck   plywood of W1
  piece low    wrap-open of W1 up to 250 mm
  piece ledger treated-wood up -235 mm to 0 mm
  piece cap    galvanized-flashing up -40 mm to 150 mm with drip
  piece high   wrap-open of W1 up from 50 mm
}
";

/// The points of a piece's first line in the section of a detail, in mm of paper.
fn line_of(run: &Run, detail: &str, piece: &str) -> Vec<Point> {
    let facts = run.checked[0].facts.details.iter().find(|f| &*f.detail.name == detail).expect("the detail");
    let subject = Subject::new(facts, &[]);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let index = facts.detail.pieces.iter().position(|p| &*p.name == piece).expect("a piece");
    let mut runs: Vec<Vec<Point>> = Vec::new();
    scene.groups(Role::Piece(index))[0].iter().for_each(|shape| {
        shape.each(&mut |shape| {
            if let Shape::Path { runs: own, .. } = shape {
                runs.extend(own.iter().cloned());
            }
        });
    });
    runs[0].iter().map(|p| Point::new(p.x / scene.scale, p.y / scene.scale)).collect()
}

#[test]
fn formed_metal_is_bent_as_an_office_draws_it() {
    let run = folder(HEAD, "metal");
    // Back leg, top that falls outward, face: each farther out and lower than the one before it.
    let head = line_of(&run, "H1", "head");
    assert_eq!(head.len(), 4, "{head:?}");
    let [foot, edge, heel, top] = [head[0], head[1], head[2], head[3]];
    assert!(foot.x == edge.x && heel.x == top.x && edge.x > heel.x + 2.0, "{head:?}");
    assert!(foot.y > edge.y && edge.y > heel.y && heel.y > top.y, "{head:?}");
    // The pan falls outward in the opening and goes straight down the wall.
    let pan = line_of(&run, "H1", "pan");
    let [low, corner, inner] = [pan[0], pan[1], pan[pan.len() - 1]];
    assert!((low.x - corner.x).abs() < 1e-6 && inner.x < corner.x && inner.y < corner.y, "{pan:?}");
    let rise = (corner.y - inner.y) / (corner.x - inner.x);
    assert!((rise - 6.0_f64.to_radians().tan()).abs() < 1e-6, "6 degrees: {rise}");
    // A coping is one plane over the top, and hangs plumb outboard of the cladding.
    let coping = line_of(&run, "P1", "coping");
    assert_eq!(coping.len(), 3, "{coping:?}");
    assert!((coping[0].x - coping[1].x).abs() < 1e-6 && coping[2].x < coping[1].x, "{coping:?}");
    let boards = line_of(&run, "P1", "boards").iter().map(|p| p.x).fold(f64::MIN, f64::max);
    assert!(coping[0].x > boards, "it hangs in front of the boards");
    // Over a ledger it keeps its back leg on the wall, and turns out.
    let cap = line_of(&run, "L1", "cap");
    assert!(cap[0].x > cap[cap.len() - 1].x + 5.0, "{cap:?}");
}

#[test]
fn insulation_stands_on_the_plate_and_the_plate_is_as_deep_as_the_bay() {
    let run = folder(HEAD, "bay");
    let [plate, wool] = ["plate", "wool"].map(|name| line_of(&run, "B1", name));
    let wide = |points: &[Point]| {
        points.iter().map(|p| p.x).fold(f64::MIN, f64::max) - points.iter().map(|p| p.x).fold(f64::MAX, f64::min)
    };
    let scale = 5.0;
    assert!((wide(&plate) - 140.0 / scale).abs() < 1e-6, "{plate:?}");
    assert!((wide(&wool) - 140.0 / scale).abs() < 1e-6, "{wool:?}");
    let lowest = |points: &[Point]| points.iter().map(|p| p.y).fold(f64::MIN, f64::max);
    assert!((lowest(&plate) - lowest(&wool) - 38.0 / scale).abs() < 1e-6, "wool begins above the plate");
}

/// The number in the circle of a note is the number of its step in the installation sequence.
#[test]
fn notes_have_the_numbers_of_the_installation_sequence() {
    let facts = demo().checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == "B1").expect("B1");
    let subject = Subject::new(facts, &[]);
    let steps = headlap::output::sequence::sequence(facts).steps;
    for (piece, step) in facts.detail.pieces.iter().zip(&subject.steps) {
        assert!(steps[step - 1].act.contains(&format!(" `{}` (", piece.name)), "{step}: {}", steps[step - 1].act);
    }
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let wrap = facts.detail.pieces.iter().position(|p| &*p.name == "wrap").expect("wrap");
    let mut numbers = Vec::new();
    scene.groups(Role::Label(wrap))[0].iter().for_each(|shape| {
        if let Shape::Text { words, .. } = shape {
            numbers.push(words.clone());
        }
    });
    assert_eq!(numbers[0], "6", "stem, plate, its gasket, deck, strip, wrap");
}

/// A flashing that drains outboard of a ledger drips from its own edge, not into the ledger.
#[test]
fn water_drips_from_the_edge_of_what_leads_it_off() {
    let run = folder(HEAD, "drip");
    let facts = run.checked[0].facts.details.iter().find(|f| &*f.detail.name == "L1").expect("the ledger");
    let subject = Subject::new(facts, &[]);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let cap = line_of(&run, "L1", "cap").iter().map(|p| p.y * scene.scale).fold(f64::MIN, f64::max);
    let mut lowest = f64::MIN;
    for shapes in scene.groups(Role::Drop) {
        for shape in shapes {
            // The full line, 0.7 wide on paper.
            if let Shape::Path { runs, pen: Some(pen), closed: false, .. } = shape
                && (pen.width - 0.7 * scene.scale).abs() < 1e-9
                && runs[0].len() > 3
            {
                lowest = runs.concat().iter().map(|p| p.y).fold(lowest, f64::max);
            }
        }
    }
    assert!((lowest - cap).abs() < 1e-6, "the drop leaves at {lowest}, the cap ends at {cap}");
}

/// No leader runs through a mark, through the number of a dimension, or over the place where another leader ends.
#[test]
fn leaders_keep_off_marks_and_the_ends_of_others() {
    let mut troubles = Vec::new();
    for (name, scene) in drawings(demo()) {
        let leaders = leaders(&scene);
        for (n, (path, of)) in leaders.iter().enumerate() {
            for (m, (other, others)) in leaders.iter().enumerate().filter(|(m, _)| *m != n) {
                let end =
                    |path: &[Point]| if path[0].x < path[path.len() - 1].x { path[0] } else { path[path.len() - 1] };
                let near = path.windows(2).map(|p| from_line(p, end(other))).fold(f64::MAX, f64::min) / scene.scale;
                let same = {
                    let (a, b) = (end(path), end(other));
                    (a.x - b.x).hypot(a.y - b.y) < 0.3 * scene.scale
                };
                if near < 0.3 && !same && n != m {
                    troubles.push(format!("{name}: the leader of {of} runs over the end of that of {others}"));
                }
            }
        }
        for (n, area) in marks(&scene) {
            let through = |path: &[Point]| path.windows(2).any(|p| area.meets(p[0], p[1]));
            let others = leaders.iter().filter(|(_, of)| *of != format!("{:?}", Role::Anchor(n)));
            troubles.extend(
                others.filter(|(path, _)| through(path)).map(|(_, of)| format!("{name}: {of} crosses mark {n}")),
            );
        }
    }
    assert!(troubles.is_empty(), "{}: {:#?}", troubles.len(), &troubles[..troubles.len().min(20)]);
}

fn from_line(pair: &[Point], at: Point) -> f64 {
    let (a, b) = (pair[0], pair[1]);
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let part = (((at.x - a.x) * dx + (at.y - a.y) * dy) / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
    (a.x + part * dx - at.x).hypot(a.y + part * dy - at.y)
}

const TOPS: &str = "include \"stock.detail\"
assembly W wall { outside; layer stucco 20 mm; layer concrete-block 190 mm controls water, air; inside }
assembly R roof { slope 2 %; outside; layer epdm-membrane controls water, air; layer plywood 18 mm; inside }
assembly P roof { slope 8:12; outside; layer shingles; layer roof-underlayment controls water; layer plywood 16 mm controls air; inside }
detail OWN parapet joins W to R {
  fold up 0 mm sill
  piece block    concrete-block of W up to 0 mm
  piece nailer   treated-wood as nailer up from 0 mm
  piece membrane epdm-membrane of R up from -50 mm bonds block clamped
  piece coping   metal-coping as coping up from -100 mm with drip slope -10 deg
}
detail BAND parapet joins W to R {
  fold up 0 mm outside-corner
  fold up 230 mm outside-corner
  slope -3 deg up 0 mm to 230 mm
  piece block    concrete-block of W up to 0 mm
  piece nailer   treated-wood as nailer up 0 mm to 230 mm
  piece back     plywood up from 230 mm
  piece membrane epdm-membrane of R up from -50 mm bonds block, nailer, back
  piece coping   metal-coping as coping up -100 mm to 310 mm with drip
}
detail RG ridge joins P {
  fold up 0 mm outside-corner
  piece north plywood of P up to -25 mm
  piece south plywood of P up from 25 mm
  piece tn shingles of P up to -25 mm
  piece ts shingles of P up from 25 mm
  piece caps shingles as coping up -150 mm to 150 mm
}
";

/// The full blue lines of water in a section, each from where it starts.
pub fn water_of(run: &Run, detail: &str) -> Vec<Vec<Point>> {
    let facts = run.checked[0].facts.details.iter().find(|f| &*f.detail.name == detail).expect("the detail");
    let subject = Subject::new(facts, &[]);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let mut lines = Vec::new();
    for shape in scene.groups(Role::Drop).into_iter().flatten() {
        if let Shape::Path { runs, pen: Some(pen), closed: false, .. } = shape
            && pen.ink == Ink::Water
            && (pen.width - 0.7 * scene.scale).abs() < 1e-9
        {
            // An open arrowhead at its end is three points back and forth.
            lines.extend(
                runs.iter().filter(|run| run.len() != 3 || run[0].y != run[2].y).map(|run| {
                    run.iter().map(|p| Point::new(p.x / scene.scale, p.y / scene.scale)).collect::<Vec<_>>()
                }),
            );
        }
    }
    lines
}

/// A top that falls back to the roof is drawn so, as steep as its own piece is said to be, and no water climbs to the street edge.
#[test]
fn a_top_falls_as_its_piece_is_stated_and_water_runs_down_what_is_drawn() {
    let run = folder(TOPS, "tops");
    let coping = line_of(&run, "OWN", "coping");
    let (street, inner) = (coping[1], coping[coping.len() - 1]);
    assert!(inner.x < street.x && inner.y > street.y, "it falls inward: {coping:?}");
    let fall = (inner.y - street.y) / (street.x - inner.x);
    assert!((fall - 10.0_f64.to_radians().tan()).abs() < 0.02, "10 degrees: {fall}");
    for detail in ["OWN", "BAND"] {
        let water = water_of(&run, detail);
        assert!(water.iter().any(|way| way[way.len() - 1].x < way[0].x - 15.0), "to the roof: {water:?}");
        for way in &water {
            let lowest = way.iter().map(|p| p.y).fold(f64::MIN, f64::max);
            assert!(way[0].y < lowest && way[way.len() - 1].y > lowest - 3.0, "{detail} climbs: {way:?}");
        }
    }
}

/// The elevation says of such a top what the section says: from its crest water runs to the roof, and not over the street edge.
#[test]
fn on_the_face_too_water_runs_back_from_the_crest_of_a_top_that_falls_back() {
    let run = folder(TOPS, "face-tops");
    for name in ["OWN", "BAND"] {
        let facts = run.checked[0].facts.details.iter().find(|f| &*f.detail.name == name).expect("the detail");
        let scene = drawing::elevation(&Subject::new(facts, &[]));
        let mut ways: Vec<[f64; 2]> = Vec::new();
        for shape in scene.groups(Role::Drop).into_iter().flatten() {
            if let Shape::Path { runs, pen: Some(pen), closed: false, .. } = shape
                && pen.ink == Ink::Water
                && (pen.width - 0.7 * scene.scale).abs() < 1e-9
            {
                ways.extend(runs.iter().map(|run| [run[0].y, run[run.len() - 1].y]));
            }
        }
        let crest = ways.iter().find(|[from, to]| to < from).map(|way| way[0]).expect("a way up the face, to the roof");
        for [from, to] in ways.into_iter().filter(|[from, to]| from < to) {
            assert!(from >= crest - 1e-6 || to <= crest + 1e-6, "{name}: {from} to {to} over the crest at {crest}");
        }
    }
}

/// Both sides of a ridge fall from it.
#[test]
fn a_ridge_is_the_highest_place_of_its_roof() {
    let run = folder(TOPS, "ridge");
    let [north, south] = ["north", "south"].map(|name| line_of(&run, "RG", name));
    let (caps, span) = (line_of(&run, "RG", "caps"), |points: &[Point]| {
        let fold =
            |pick: fn(&Point) -> f64, best: fn(f64, f64) -> f64| points.iter().map(pick).reduce(best).expect("points");
        [fold(|p| p.x, f64::min), fold(|p| p.x, f64::max), fold(|p| p.y, f64::min), fold(|p| p.y, f64::max)]
    });
    let (a, b, top) = (span(&north), span(&south), span(&caps)[2]);
    assert!(top < a[2] && top < b[2], "the caps are the highest");
    assert!(((a[3] - a[2]) - (b[3] - b[2])).abs() < 1.0, "both fall alike: {a:?} {b:?}");
    assert!(a[1] < b[0] || b[1] < a[0], "one to the left, one to the right: {a:?} {b:?}");
}

/// A bar clamps a sheet to a block; nothing adheres.
#[test]
fn what_is_clamped_is_not_drawn_as_adhered() {
    let run = folder(TOPS, "clamped");
    let svg = |name: &str| {
        let facts = run.checked[0].facts.details.iter().find(|f| &*f.detail.name == name).expect("the detail");
        let subject = Subject::new(facts, &[]);
        drawing::svg(&drawing::section(&subject, &SectionLine::principal(&subject).expect("a line")))
    };
    assert!(!svg("OWN").contains("adhered"), "clamped");
    assert!(svg("BAND").contains("adhered"), "bonded");
    // Beyond the first edge of a top no fold is a height.
    assert!(svg("BAND").contains("top 0") && !svg("BAND").contains("top 230"));
}

/// Every layer up to the largest that the last scale shows is as thick as it is said to be.
#[test]
fn layers_are_as_thick_beside_each_other_as_they_are() {
    let text = "include \"stock.detail\"
assembly W wall { outside; layer fiber-cement 8 mm; layer mineral-wool-board 240 mm controls thermal; layer wrap-open controls water, air; layer gypsum-board 120 mm; inside }
detail TH course joins W {
  piece deck   gypsum-board       of W
  piece wrap   wrap-open          of W
  piece wool   mineral-wool-board of W
}
";
    let run = folder(text, "thick");
    let wide = |name: &str| {
        let points = line_of(&run, "TH", name);
        points.iter().map(|p| p.x).fold(f64::MIN, f64::max) - points.iter().map(|p| p.x).fold(f64::MAX, f64::min)
    };
    assert!((wide("wool") - 2.0 * wide("deck")).abs() < 1e-6, "240 and 120: {} and {}", wide("wool"), wide("deck"));
}

/// Vermilion says that something is wrong. Where nothing was found, nothing is vermilion.
#[test]
fn nothing_is_drawn_as_wrong_without_a_finding() {
    for path in ["tests/details/correct/offices", "tests/details/correct/drawn"] {
        let run = run_folder(path);
        for facts in run.checked.iter().flat_map(|c| &c.facts.details) {
            if run.report.findings.iter().any(|f| drawing::belongs(&facts.detail, f)) {
                continue;
            }
            let subject = Subject::new(facts, &[]);
            let section = SectionLine::principal(&subject).map(|line| drawing::section(&subject, &line));
            for scene in section.into_iter().chain([drawing::elevation(&subject)]) {
                let mut warm = 0;
                scene.each(&mut |shape| {
                    if let Shape::Path { pen, fill, .. } | Shape::Circle { pen, fill, .. } = shape {
                        warm += usize::from(pen.is_some_and(|p| p.ink == Ink::Warm) || *fill == Some(Ink::Warm));
                    }
                });
                assert_eq!(warm, 0, "{}: {}", facts.detail.name, scene.title);
            }
        }
    }
}

/// The ground cover of a crawl space is seen from within.
#[test]
fn the_crawl_space_is_inside_and_the_stem_wall_toward_the_soil() {
    let facts =
        demo().checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == "G1-F1").expect("G1-F1");
    let subject = Subject::new(facts, &[]);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let x = |word: &str| texts(&scene).into_iter().find(|(_, words)| words == word).expect("the word").0.left;
    assert!(x("outside") < x("inside"), "the cover lies on the right, in the crawl space");
}

/// Two details of a set do not share a bubble.
#[test]
fn each_detail_of_the_demo_library_has_its_own_number_on_a_sheet() {
    let mut sheets: Vec<&str> =
        demo().checked.iter().flat_map(|c| &c.facts.details).filter_map(|f| f.detail.sheet.as_deref()).collect();
    let count = sheets.len();
    sheets.sort_unstable();
    sheets.dedup();
    assert_eq!(sheets.len(), count, "{sheets:?}");
}

/// Wool is no foam, render and cast stone are no brick.
#[test]
fn wool_render_and_stone_have_indications_of_their_own() {
    let text = "include \"stock.detail\"
assembly W wall { outside; layer stucco 20 mm; layer mineral-wool-board 60 mm controls thermal; layer xps 60 mm; layer brick-veneer 90 mm; layer cast-stone 90 mm; inside }
detail H course joins W {
  piece stone  cast-stone         of W
  piece brick  brick-veneer       of W
  piece foam   xps                of W
  piece wool   mineral-wool-board of W
  piece render stucco             of W
}
";
    let run = folder(text, "hatches");
    let facts = &run.checked[0].facts.details[0];
    let subject = Subject::new(facts, &[]);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let signs = |name: &str| {
        let piece = facts.detail.pieces.iter().position(|p| &*p.name == name).expect("a piece");
        let (mut dots, mut waves, mut slants) = (false, false, false);
        for shape in scene.groups(Role::Piece(piece)).into_iter().flatten() {
            shape.each(&mut |shape| match shape {
                Shape::Circle { .. } => dots = true,
                Shape::Path { runs, closed: false, .. } => {
                    waves |= runs.iter().any(|run| run.len() > 20);
                    let aslant =
                        |run: &Vec<Point>| (run[0].x - run[1].x).abs() > 0.1 && (run[0].y - run[1].y).abs() > 0.1;
                    slants |= runs.iter().any(|run| run.len() == 2 && aslant(run));
                }
                _ => {}
            });
        }
        (dots, waves, slants)
    };
    assert_eq!(signs("wool"), (false, true, false));
    assert_eq!(signs("foam"), (false, false, true));
    assert_eq!(signs("render"), (true, false, false));
    assert_eq!(signs("stone"), (true, false, true));
    assert_eq!(signs("brick"), (false, false, true));
}
