//! A drawing says of what it shows, or leaves out, that nobody gave it.

use headlap::output::drawing::{self, Area, Paper, Point, Role, Scene, SectionLine, Shape, Subject, Title};
use headlap::review::Run;

use crate::drawing::folder;
use crate::drawn_as_built::{section, shapes};

const DETAILS: &str = "include \"stock.detail\"
material steel-angle frame \"Galvanized steel angle\" { conductivity 50 W/m.K; surface metal }
assembly V wall { outside; layer brick-veneer 90 mm; layer drained-gap 50 mm; layer wrap-open controls water, air; layer plywood 18 mm; inside }
assembly B wall { outside; layer cedar-boards 20 mm; layer vented-gap 20 mm; layer wrap-open controls water, air; layer plywood 18 mm; inside }
assembly F foundation { outside; layer concrete 200 mm controls water, air; inside }
assembly D opening { outside; layer door-unit controls water, air; inside }
detail BARE shelf-angle joins V {
  piece deck plywood of V
  piece tray stainless-flashing as through-wall-flashing up -20 mm to 200 mm with drip
  piece wrap wrap-open of V up from 50 mm
  piece brick brick-veneer of V up from 0 mm
}
detail CARRIED shelf-angle joins V {
  piece deck plywood of V
  piece angle steel-angle up -10 mm to 100 mm
  piece tray stainless-flashing as through-wall-flashing up -20 mm to 200 mm with drip
  piece wrap wrap-open of V up from 50 mm
  piece brick brick-veneer of V up from 0 mm
}
detail DOOR threshold joins B to D {
  grade up -250 mm
  fold up 0 mm sill
  piece ply plywood of B up to 0 mm
  piece wrap wrap-open of B up to 0 mm
  piece pan sill-pan as pan up -100 mm to 100 mm slope 4 deg with drip
  piece door door-unit of D up from 6 mm
}
detail FRAMED threshold joins B to D {
  grade up -250 mm
  fold up 0 mm sill
  piece plate treated-wood up -40 mm to 0 mm
  piece ply plywood of B up to 0 mm
  piece wrap wrap-open of B up to 0 mm
  piece pan sill-pan as pan up -100 mm to 100 mm slope 4 deg with drip
  piece door door-unit of D up from 6 mm
}
detail STEM base-of-wall joins F to B {
  grade up -250 mm
  piece stem concrete of F up to 0 mm
  piece ply plywood of B up from 0 mm
  piece wrap wrap-open of B up from -50 mm
}
";

fn sheet(run: &Run, detail: &str) -> Scene {
    let mut all = run.checked.iter().flat_map(|c| &c.facts.details);
    let facts = all.find(|f| &*f.detail.name == detail).expect("the detail");
    let subject = Subject::new(facts, &[]);
    let title = Title { project: "", date: String::new() };
    drawing::sheet(&subject, SectionLine::principal(&subject).as_ref(), Paper::A3, &title)
}

/// How often something is written.
fn written(scene: &Scene, wanted: &str) -> usize {
    let mut count = 0;
    scene.each(&mut |shape| count += usize::from(matches!(shape, Shape::Text { words, .. } if words == wanted)));
    count
}

/// A leader ties the words to the line of the ledge, in the section by itself and on the sheet.
#[test]
fn a_ledge_that_nobody_gave_has_a_note() {
    let run = folder(DETAILS, "not-given-ledge");
    for scene in [section(&run, "BARE").0, sheet(&run, "BARE")] {
        assert_eq!(written(&scene, "Support not given"), 1);
        let [note] = scene.groups(Role::Remark)[..] else { panic!("one note") };
        let Shape::Path { runs: leader, .. } = &note[0] else { panic!("it begins with its leader") };
        let covered = scene.groups(Role::Covered).concat();
        let near = |p: Point, [a, b]: [Point; 2]| {
            let off = ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)).abs() / (b.x - a.x).hypot(b.y - a.y);
            let room = Area::at(a).with(Area::at(b));
            off < 1e-6
                && (room.left - 1e-6..=room.right + 1e-6).contains(&p.x)
                && (room.top..=room.bottom).contains(&p.y)
        };
        let on = |shape: &Shape| match shape {
            Shape::Path { runs, .. } => {
                runs.iter().flat_map(|run| run.windows(2)).any(|w| near(leader[0][0], [w[0], w[1]]))
            }
            _ => false,
        };
        assert!(covered.iter().any(on), "the leader ends on what is not given");
    }
    for scene in [section(&run, "CARRIED").0, sheet(&run, "CARRIED")] {
        assert_eq!(written(&scene, "Support not given"), 0, "an angle is given");
    }
}

#[test]
fn a_sheet_says_once_that_it_does_not_show_framing() {
    let run = folder(DETAILS, "not-given-framing");
    let words = "Not shown: framing at the opening.";
    let count = |detail: &str| written(&sheet(&run, detail), words);
    assert_eq!(["DOOR", "FRAMED", "STEM", "BARE"].map(count), [1, 0, 0, 0]);
}

/// Plywood whose foot nobody gave does not go on into the soil; concrete does.
#[test]
fn a_framed_wall_is_broken_off_above_grade() {
    let run = folder(DETAILS, "not-given-foot");
    let lowest = |detail: &str, piece: &str| {
        let scene = section(&run, detail);
        let foot = Area::around(&shapes(&scene, piece)).expect("it is drawn").bottom;
        let ground = scene.0.groups(Role::Ground).concat();
        let line = |shape: &Shape| match shape {
            Shape::Path { runs, fill: None, .. } => runs.iter().flatten().map(|p| p.y).reduce(f64::min),
            _ => None,
        };
        let grade = ground.iter().filter_map(line).reduce(f64::min).expect("grade is drawn") / scene.0.scale;
        foot - grade
    };
    for piece in ["ply", "wrap"] {
        assert!(lowest("DOOR", piece) < -3.0, "{piece} {}", lowest("DOOR", piece));
    }
    assert!(lowest("STEM", "stem") > 3.0);
}
