//! What the circle of an enlargement shows.

use headlap::facts::DetailFacts;
use headlap::output::drawing::{self, Area, Mark, Point, Role, Scene, SectionLine, Shape, Subject};
use headlap::review::Run;

use crate::drawing::folder;
use crate::drawn_at_the_foot::ALL;

/// The enlargement of each finding of a detail.
fn joints(run: &Run, facts: &DetailFacts) -> Vec<(String, Scene)> {
    let found = run.report.findings.iter().filter(|finding| drawing::belongs(&facts.detail, finding));
    let marks: Vec<Mark> = found.enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect();
    let subject = Subject::new(facts, &marks);
    let Some(line) = SectionLine::principal(&subject) else { return Vec::new() };
    let one = |mark: &Mark| Some((mark.finding.rule.to_string(), drawing::joint(&subject, &line, mark)?));
    marks.iter().filter_map(one).collect()
}

/// The pieces that something is drawn of.
fn pieces_in(scene: &Scene, count: usize) -> Vec<usize> {
    (0..count).filter(|piece| scene.groups(Role::Piece(*piece)).iter().any(|shapes| !shapes.is_empty())).collect()
}

/// A circle with one flat line in it explains nothing: it holds something of what the piece meets. Where nothing is that near to it, the
/// piece is alone in its circle.
#[test]
fn an_enlargement_shows_more_than_one_piece() {
    let (mut count, mut poor) = (0, Vec::new());
    for run in ALL.iter() {
        for facts in run.checked.iter().flat_map(|c| &c.facts.details) {
            let pieces = facts.detail.pieces.len();
            for (rule, scene) in joints(run, facts) {
                count += 1;
                if pieces > 2 && pieces_in(&scene, pieces).len() < 2 {
                    poor.push(format!("{} {rule}", facts.detail.name));
                }
            }
        }
    }
    assert!(count > 1_500, "{count}");
    assert!(poor.len() * 100 < count, "{} of {count}\n{}", poor.len(), poor.join("\n"));
}

/// The rear edge of a pan without a dam, and the frame that it lies under.
#[test]
fn the_enlargement_of_a_pan_shows_its_rear_edge_and_the_frame() {
    let text = "include \"stock.detail\"
material slider unit \"Sliding door\" { holds water, air; surface metal }
assembly C foundation { outside; layer liquid-membrane controls water, air; layer concrete 200 mm; inside }
assembly D opening { outside; layer slider controls water, air; inside }
detail LS sill \"Slider on a pan\" joins C to D {
  fold up 0 mm sill
  piece curb concrete of C up to 0 mm
  piece coat liquid-membrane of C up to 50 mm primed
  piece pan sill-pan as pan up -50 mm to 127 mm slope 5 deg with drip
  piece frame slider of D up from 6 mm
}
";
    let run = folder(text, "enlarged-pan");
    let facts = &run.checked[0].facts.details[0];
    let joints = joints(&run, facts);
    let (_, scene) = joints.iter().find(|(rule, _)| rule == "missing-back-dam").expect("the finding");
    let shown = pieces_in(scene, facts.detail.pieces.len());
    let index = |name: &str| facts.detail.pieces.iter().position(|piece| &*piece.name == name).expect("a piece");
    assert!(["curb", "pan", "frame"].iter().all(|name| shown.contains(&index(name))), "{shown:?}");
    // Its line ends within the circle.
    let mut ends = Vec::new();
    for shape in scene.groups(Role::Piece(index("pan"))).into_iter().flatten() {
        shape.each(&mut |shape| {
            if let Shape::Path { runs, .. } = shape {
                ends.extend(runs.iter().flat_map(|run| [run.first(), run.last()]).flatten().copied());
            }
        });
    }
    let (scale, middle) = (scene.scale, 26.0);
    let off = |p: &Point| (p.x / scale - middle).hypot(p.y / scale - middle);
    assert!(ends.iter().any(|end| off(end) < 24.0), "{:?}", ends.iter().map(off).collect::<Vec<f64>>());
}

/// Insulation that ends below a frame: the circle holds its end, and not the cut at the foot of the drawing.
#[test]
fn the_enlargement_of_a_gap_shows_where_it_begins() {
    let text = "include \"stock.detail\"
assembly W wall { outside; layer brick-veneer 90 mm; layer drained-gap 50 mm; layer mineral-wool-board 50 mm controls thermal; layer wrap-adhered controls water, air; layer osb 12 mm; inside }
assembly O opening { outside; layer window-vinyl controls water, air, thermal; inside }
detail WS sill joins W to O {
  fold up 0 mm sill
  piece sheath osb of W up to 0 mm
  piece skin wrap-adhered of W up to -50 mm bonds sheath rolled
  piece pan butyl-flashing as pan up -150 mm to 100 mm bonds sheath, skin rolled slope 5 deg
  piece dam spruce as back-dam up 100 mm to 138 mm
  piece wool mineral-wool-board of W up to -40 mm
  piece unit window-vinyl of O up from 6 mm
  piece stone cast-stone as sill up -60 mm to 20 mm slope 8 deg with drip
  piece brick brick-veneer of W up to -60 mm
}
";
    let run = folder(text, "enlarged-gap");
    let facts = &run.checked[0].facts.details[0];
    let (_, scene) = joints(&run, facts).into_iter().find(|(rule, _)| rule == "thermal-gap").expect("a circle");
    let top = |name: &str| {
        let index = facts.detail.pieces.iter().position(|piece| &*piece.name == name).expect("the piece");
        let shapes: Vec<Shape> = scene.groups(Role::Piece(index)).into_iter().flatten().cloned().collect();
        Area::around(&shapes).expect("it is shown").top
    };
    // The stone beside it goes on up to the rim; what the circle cuts off has no end.
    assert!(top("wool") - top("stone") > 8.0, "{} {}", top("wool"), top("stone"));
    // The strip behind the pan is no frame that carries the window.
    let subject = Subject::new(facts, &[]);
    let section = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let mut said = false;
    section
        .each(&mut |shape| said |= matches!(shape, Shape::Text { words, .. } if words.contains("Not shown: framing")));
    assert!(said);
}
