//! What a red pencil found on whole sheets of others: notes, key and legend, where the cut goes, what a ledge and a parapet carry.

use headlap::facts::DetailFacts;
use headlap::model::Axis;
use headlap::output::drawing::{self, Area, Ink, Mark, Paper, Point, Role, Scene, SectionLine, Shape, Subject, Title};
use headlap::review::Run;

use crate::drawing::{demo, run_folder, trouble};
use crate::drawn_as_built::{filled, section, shapes};
use crate::drawn_to_sign::{area, words};

fn marks<'r>(run: &'r Run, facts: &DetailFacts) -> Vec<Mark<'r>> {
    let found = run.report.findings.iter().filter(|f| drawing::belongs(&facts.detail, f));
    found.enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect()
}

fn sheets(run: &Run, paper: Paper) -> Vec<(String, Scene)> {
    let details = run.checked.iter().flat_map(|c| &c.facts.details);
    let sheet = |facts: &DetailFacts| {
        let marks = marks(run, facts);
        let subject = Subject::new(facts, &marks);
        let title = Title { project: "Annex", date: String::new() };
        let line = SectionLine::principal(&subject);
        (facts.detail.name.to_string(), drawing::sheet(&subject, line.as_ref(), paper, &title))
    };
    details.map(sheet).collect()
}

fn one_sheet(path: &str) -> Scene {
    sheets(&run_folder(path), Paper::A3).remove(0).1
}

fn group(scene: &Scene, wanted: &str) -> Option<Area> {
    let mut found = None;
    scene.each(&mut |shape| {
        if let Shape::Group { words, shapes, .. } = shape
            && &**words == wanted
        {
            found = Area::around(shapes);
        }
    });
    found
}

/// The runs of a membrane, mm of paper.
fn runs(drawn: &(Scene, Vec<String>), piece: &str) -> Vec<Vec<Point>> {
    let black = |shape: Shape| match shape {
        Shape::Path { runs, pen: Some(pen), .. } if pen.ink == Ink::Black => runs,
        _ => Vec::new(),
    };
    shapes(drawn, piece).into_iter().flat_map(black).collect()
}

fn room(drawn: &(Scene, Vec<String>), piece: &str) -> Area {
    area(&runs(drawn, piece).concat())
}

fn body(drawn: &(Scene, Vec<String>), piece: &str) -> Area {
    area(&filled(&shapes(drawn, piece)).concat())
}

fn of(path: &str, detail: &str) -> (Scene, Vec<String>) {
    section(&run_folder(path), detail)
}

/// On both papers, for details that nobody drew these sheets for.
#[test]
fn the_sheets_of_other_authors_keep_clear() {
    let runs: Vec<Run> = ["29", "33", "34", "35", "36"].map(|set| run_folder(&format!("tests/trials/{set}"))).into();
    let all =
        || [Paper::A3, Paper::AnsiB].into_iter().flat_map(|paper| runs.iter().flat_map(move |r| sheets(r, paper)));
    let troubles: Vec<String> = all().filter_map(|(name, scene)| trouble(&name, &scene)).collect();
    assert!(troubles.is_empty(), "{}: {:#?}", troubles.len(), &troubles[..troubles.len().min(12)]);
}

/// Nineteen names are higher than a sheet has room for: they stand in longer lines, and the section keeps a scale of offices.
#[test]
fn many_names_do_not_make_a_section_small() {
    let scene = one_sheet("tests/trials/29/roof-to-wall.detail");
    let named = words(&scene).into_iter().find_map(|(w, _)| w.strip_prefix("SECTION   1:").map(str::to_owned));
    let scale: f64 = named.expect("a title").parse().expect("a scale");
    assert!(scale <= 10.0, "1:{scale}");
    let name = words(&scene).into_iter().any(|(w, _)| w.contains("Aluminum bar that clamps the edge of a"));
    assert!(name, "the notes keep their words");
}

#[test]
fn every_sheet_of_a_bent_section_has_its_key() {
    let set = run_folder("tests/trials/33");
    let mut count = 0;
    for run in [demo(), &set] {
        for paper in [Paper::A3, Paper::AnsiB] {
            for (name, scene) in sheets(run, paper) {
                let bent = words(&scene).iter().any(|(w, _)| w.contains("UNFOLDED   "));
                let facts = run.checked.iter().flat_map(|c| &c.facts.details).find(|facts| *facts.detail.name == *name);
                let subject = Subject::new(facts.expect("the detail"), &[]);
                // What turns along the wall is straight in a section that is seen from the side.
                let up = SectionLine::principal(&subject).is_some_and(|line| line.axis == Axis::Up);
                let turns = subject.detail.folds.iter().any(|fold| fold.axis == Axis::Up);
                if bent && up && turns {
                    assert!(group(&scene, "the section unfolded").is_some(), "{name}");
                    count += 1;
                }
            }
        }
    }
    assert!(count > 20, "{count}");
}

/// 55 by 30 mm for as many as sixteen signs, and the words of one column end before the next.
#[test]
fn a_legend_is_no_larger_than_its_corner() {
    let mut most = 0;
    for (name, scene) in sheets(demo(), Paper::A3) {
        let legend = group(&scene, "legend").expect("a legend");
        let signs = words(&scene).into_iter().filter(|(_, at)| legend.contains(at.center())).count() - 1;
        assert!(legend.width() <= 55.0 + 1e-6, "{name}: {legend:?}");
        assert!(signs > 17 || legend.height() <= 30.0, "{name}: {signs} signs on {legend:?}");
        most = most.max(signs);
    }
    assert!(most > 14, "{most}");
}

/// A pipe covers the lap beside it: the cut goes through the lap, and the length that fails stands in its box, in the unit of the detail.
#[test]
fn a_section_is_cut_where_its_findings_meet() {
    let scene = one_sheet("tests/trials/29/wall-pipe.detail");
    assert!(words(&scene).iter().any(|(w, _)| w == "2, needs 6"), "{:?}", words(&scene));
}

/// The metal under a butyl flashing that hangs in front of a ledge hangs there too, and the ledge stands on the ground.
#[test]
fn what_a_flashing_laps_over_lies_on_the_ledge() {
    let drawn = of("tests/trials/30/base-brick.detail", "C1");
    let [drip, through, brick] = [room(&drawn, "drip"), room(&drawn, "through"), body(&drawn, "veneer")];
    assert!(drip.left >= brick.right - 0.5 && through.right >= drip.left, "{drip:?} {through:?} {brick:?}");
    let ledge = group(&drawn.0, "ledge, support not given").expect("a ledge");
    let ground = group(&drawn.0, "finished ground").expect("the ground");
    assert!(ledge.bottom >= ground.top - 1.0 && ground.left >= ledge.right - 1.0, "{ledge:?} {ground:?}");
}

/// Water on a membrane that leans keeps as far off it as where that stands.
#[test]
fn water_lies_on_what_leans_and_not_in_it() {
    let drawn = of("tests/trials/34/hung-balcony.detail", "HB");
    let turn = runs(&drawn, "turn").concat();
    let leans = |pair: &&[Point]| (pair[0].x - pair[1].x).abs() > 4.0;
    let lean = turn.windows(2).find(leans).expect("it goes over the plate").to_vec();
    let mut water: Vec<Vec<Point>> = Vec::new();
    drawn.0.each(&mut |shape| {
        if let Shape::Path { runs, pen: Some(pen), closed: false, .. } = shape
            && pen.ink == Ink::Water
        {
            let paper = |p: &Point| Point::new(p.x / drawn.0.scale, p.y / drawn.0.scale);
            water.extend(runs.iter().map(|run| run.iter().map(paper).collect()));
        }
    });
    let over = water.iter().flat_map(|run| run.windows(2)).filter(leans).map(|pair| pair.to_vec());
    let middle = |pair: &[Point]| Point::new((pair[0].x + pair[1].x) / 2.0, (pair[0].y + pair[1].y) / 2.0);
    let off = over.map(|pair| middle(&lean).y - middle(&pair).y).fold(f64::MAX, f64::min);
    assert!((0.5..1.2).contains(&off), "{off} mm above it");
}

/// Each body of a parapet is as thick as it is, whatever lies on its top, and a coping has no ledge.
#[test]
fn the_body_of_a_parapet_keeps_its_place_under_insulation() {
    let drawn = of("tests/trials/27/10-parapet-stone-coping.detail", "PA2");
    let [block, coat] = [body(&drawn, "block"), room(&drawn, "coat")];
    assert!((block.width() - 19.0).abs() < 0.5, "{block:?}");
    assert!(coat.left - block.right < 2.0, "the coat lies on it: {coat:?} {block:?}");
    let lining = filled(&shapes(&drawn, "glass-block")).into_iter().map(|part| area(&part));
    let lining = lining.min_by(|a, b| a.width().total_cmp(&b.width())).expect("it comes down on the roof side");
    assert!((lining.width() - 18.0).abs() < 0.5, "insulation of 180 mm at 1:10: {lining:?}");
    assert!(group(&drawn.0, "ledge, support not given").is_none());
}

/// What hangs above a roof, far out from its wall, is as long as it is stated, and what turns up is no longer.
#[test]
fn nothing_is_cut_off_or_drawn_out_where_a_roof_meets_what_stands_off_the_wall() {
    let drawn = of("tests/trials/29/roof-to-wall.detail", "A605-1");
    let long = |piece: &str| {
        let upright = |pair: &[Point]| (pair[0].x - pair[1].x).abs() < 1e-6;
        let runs = runs(&drawn, piece);
        runs.iter().flat_map(|run| run.windows(2)).filter(|p| upright(p)).map(|p| (p[0].y - p[1].y).abs()).sum::<f64>()
    };
    // At 1:10: 190 mm less what the leg over the ledge takes, and 30 mm of turn-up in front of 160 mm of insulation.
    assert!((long("counter") - 19.0).abs() < 1.5, "{}", long("counter"));
    assert!(long("field") < 5.0, "{}", long("field"));
    // The membrane of the wall goes on behind the insulation.
    let [membrane, foam] = [room(&drawn, "membrane"), body(&drawn, "lowfoam")];
    assert!(membrane.right <= foam.left + 1.0, "{membrane:?} {foam:?}");
}

/// A seamed cap is bent over the edges of its parapet, the top is as wide as stated, and its roof side has a support that nobody gave.
#[test]
fn metal_over_a_parapet_is_bent_and_its_roof_side_carried() {
    let drawn = of("tests/trials/34/seamed-coping.detail", "PC");
    let [cap, plate] = [room(&drawn, "cap"), body(&drawn, "plate")];
    let wide = plate.width() * (drawn.0.scale / 25.4);
    assert!((wide - 14.0).abs() < 0.3, "{wide} in");
    assert!(cap.height() > plate.height() + 10.0 && cap.width() < 2.2 * plate.width(), "{cap:?} {plate:?}");
    let carried = of("tests/trials/34/cleat-fixed-coping.detail", "CF");
    assert!(group(&carried.0, "support, not given").is_some());
}

fn anchor(path: &str, detail: &str, title: &str) -> (Point, (Scene, Vec<String>)) {
    let run = run_folder(path);
    let facts = run.checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == detail).expect("it");
    let marks = marks(&run, facts);
    let subject = Subject::new(facts, &marks);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let number = marks.iter().find(|mark| mark.finding.title.contains(title)).expect("the finding").number;
    let [pointer] = scene.groups(Role::Anchor(number))[..] else { panic!("one pointer") };
    let Some(Shape::Circle { center, .. }) = pointer.last() else { panic!("it ends in a dot") };
    let at = Point::new(center.x / scene.scale, center.y / scene.scale);
    (at, (scene, facts.detail.pieces.iter().map(|p| p.name.to_string()).collect()))
}

/// The number of a finding stands at the edge that it is about, and not in the middle of its piece.
#[test]
fn a_finding_stands_at_its_joint() {
    let (at, drawn) = anchor("tests/trials/34/brick-on-angle.detail", "BA", "Soft joint");
    let brick = body(&drawn, "brick-l");
    assert!(at.y - brick.top < 3.0, "{at:?} {brick:?}");
}

/// Where water goes wrong below the foot of a membrane, the number stands there.
#[test]
fn a_finding_stands_where_its_water_goes_wrong() {
    let (at, drawn) = anchor("tests/findings/nails-in-parapet-membrane.detail", "in-the-middle", "left open to rain");
    let membrane = room(&drawn, "over");
    assert!((at.y - membrane.bottom).abs() < 3.0, "{at:?} {membrane:?}");
}
