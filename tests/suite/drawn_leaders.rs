//! Leaders read as parallel lines, and end on what they name.

use std::sync::LazyLock;

use headlap::output::drawing::{self, Mark, Point, Role, Scene, SectionLine, Shape, Subject};
use headlap::review::Run;

use crate::drawing::run_folder;
use crate::drawn_as_built::{section, section_of, shapes};
use crate::drawn_at_folds::{close, drawn, room};
use crate::drawn_in_place::{holds, pointed};

/// Details of openings, parapets and thresholds.
static RUNS: LazyLock<Vec<Run>> =
    LazyLock::new(|| ["examples", "tests/trials/21", "tests/trials/24", "tests/trials/27"].map(run_folder).into());

/// The leaders of a section from their places to the words, mm of paper.
fn leaders(scene: &Scene) -> Vec<Vec<Point>> {
    let mut found = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Group { role: Role::Label(_) | Role::Anchor(_), shapes, .. } = shape
            && let Some(Shape::Path { runs, .. }) = shapes.first()
        {
            let mut path: Vec<Point> =
                runs[0].iter().map(|p| Point::new(p.x / scene.scale, p.y / scene.scale)).collect();
            path.sort_by(|a, b| a.x.total_cmp(&b.x));
            found.push(path);
        }
    });
    found
}

/// All leave their places at 60 degrees and go on level to their words. What is too near to the words for that is steeper, and what lies
/// at their height is not bent.
#[test]
fn leaders_leave_at_one_slant_and_go_on_level() {
    let (mut slanted, mut others) = (0, 0);
    for facts in RUNS.iter().flat_map(|run| &run.checked).flat_map(|c| &c.facts.details) {
        for path in leaders(&section_of(facts).0) {
            let [at, knee, words] = path[..] else { panic!("{}: {path:?}", facts.detail.name) };
            assert!(close(knee.y, words.y, 1e-6), "{}: {path:?}", facts.detail.name);
            let (run, rise) = (knee.x - at.x, (knee.y - at.y).abs());
            let slant = close(rise, 3f64.sqrt() * run, 0.01 * rise.max(1.0));
            let near = close(words.x - knee.x, 4.0, 1e-3);
            assert!(slant || near && (rise < 1.0 || rise > 1.7 * run), "{}: {path:?}", facts.detail.name);
            if slant { slanted += 1 } else { others += 1 }
        }
    }
    assert!(slanted > 500 && others > 100, "{slanted} {others}");
}

/// The name of a dam points at the block that stands at the back of its pan, and not at the wall above.
#[test]
fn the_name_of_a_dam_points_at_it() {
    for (file, detail, dam) in [("trials/22/threshold", "TH1", "back"), ("trials/28/flangeless-sill", "G1", "stop")] {
        let drawn = drawn(file, detail);
        let block = |shape: &Shape| match shape {
            Shape::Path { runs, closed: true, .. } => Some(runs[0].clone()),
            _ => None,
        };
        let block = shapes(&drawn, dam).iter().find_map(block).expect("a block");
        let at = pointed(&drawn, dam);
        assert!(holds(&block, at), "{detail}: {at:?} {block:?}");
    }
}

/// A finding about a pan is shown, and enlarged, where the pan lies in its opening, and not where it hangs on the wall.
#[test]
fn a_finding_about_a_pan_lies_on_its_bed() {
    let run = run_folder("tests/trials/22/threshold.detail");
    let facts = run.checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == "TH1").expect("TH1");
    let own = run.report.findings.iter().filter(|finding| drawing::belongs(&facts.detail, finding));
    let marks: Vec<Mark> = own.enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect();
    let subject = Subject::new(facts, &marks);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let slope = marks.iter().find(|mark| mark.finding.title.contains("pan")).expect("a finding about the pan");
    let [anchor] = scene.groups(Role::Anchor(slope.number))[..] else { panic!("one pointer") };
    let Some(Shape::Circle { center, .. }) = anchor.last() else { panic!("a pointer ends in a dot") };
    let deck = room(&section(&run, "TH1"), "deck");
    let at = Point::new(center.x / scene.scale, center.y / scene.scale);
    assert!(at.y < deck.top && at.x < deck.left, "{at:?} {deck:?}");
}
