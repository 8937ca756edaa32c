//! What the crew and the reviewer read off a sheet: the installation sequence with how each piece lies, joints with their sealant, numbers that
//! leave out no edge, whole titles, waivers with their reason, and what to do.

use headlap::facts::DetailFacts;
use headlap::model::Axis;
use headlap::output::drawing::{self, Mark, Paper, Role, Scene, SectionLine, Shape, Subject, Title};
use headlap::output::sequence::{self, InstallationStep};
use headlap::review::Run;

use crate::drawing::{demo, run_folder};
use crate::drawn_to_sign::words;

fn facts<'r>(run: &'r Run, name: &str) -> &'r DetailFacts {
    run.checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == name).expect("the detail")
}

fn sheet(run: &Run, name: &str) -> Scene {
    let facts = facts(run, name);
    let found = run.report.findings.iter().filter(|f| drawing::belongs(&facts.detail, f));
    let marks: Vec<Mark> = found.enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect();
    let subject = Subject::new(facts, &marks);
    let title = Title { project: "Annex", date: String::new() };
    drawing::sheet(&subject, SectionLine::principal(&subject).as_ref(), Paper::A3, &title)
}

/// All that is written on a sheet, lines of one paragraph joined.
fn written(scene: &Scene) -> String {
    words(scene).into_iter().map(|(words, _)| words).collect::<Vec<_>>().join(" ")
}

fn steps(path: &str, detail: &str) -> Vec<InstallationStep> {
    sequence::sequence(facts(&run_folder(path), detail)).steps
}

/// Paper that is laid over the felt instead of behind it lets water in.
#[test]
fn a_sheet_says_behind_what_a_piece_goes_and_how_it_is_held() {
    let run = run_folder("tests/trials/45/old-nails.detail");
    let said = written(&sheet(&run, "infill"));
    assert!(said.contains("vapor open) behind 'felt', up to 7 in."), "{said}");
    assert!(said.contains("Tuck it behind 'felt' by 7 in.") && said.contains("Leave it loose until step 5"), "{said}");
    // Nothing of a wall of 1908 can be left loose.
    let said = written(&sheet(demo(), "CH1"));
    assert!(said.contains("Saw or rake out the joint that 'counter' goes into at step 9."), "{said}");
    let said = written(&sheet(demo(), "B1"));
    assert!(said.contains("Roll it firmly over its whole width."), "{said}");
    let run = run_folder("tests/trials/45/no-eave-no-kick-out.detail");
    let said = written(&sheet(&run, "gym"));
    assert!(said.contains("Weld it to 'field'") && said.contains("Clamp it to 'strip'"), "{said}");
}

/// No sheet of the library leaves a step of its sequence out to make room for how the others are done.
#[test]
fn every_step_stands_on_its_sheet() {
    for facts in demo().checked.iter().flat_map(|c| &c.facts.details).filter(|f| drawing::drawable(f)) {
        let said = written(&sheet(demo(), &facts.detail.name));
        assert!(!said.contains(" more INSTALLATION") && !said.contains("without bonds"), "{}", facts.detail.name);
    }
}

/// What goes behind old paper, or over what was built before it, was not there when the work began.
#[test]
fn new_paper_at_an_old_wall_is_installed() {
    let steps = steps("tests/trials/44/tuck.detail", "NP");
    let starts: Vec<&str> = steps.iter().map(|s| s.act.split(" (").next().unwrap_or("")).collect();
    assert_eq!(
        starts,
        ["Make ready `planks`", "Make ready `skirt`", "Install `shelf`", "Install `top`", "Install `new`"]
    );
    assert!(steps[4].act.contains(" behind `skirt`, up to -3 in"), "{}", steps[4].act);
}

#[test]
fn a_joint_is_sealed_in_its_width_and_depth_against_its_rod() {
    let steps = steps("tests/trials/44/wide-joint.detail", "TJ");
    assert_eq!(
        steps[2].act,
        "Seal between `left` and `right` at 0 in along the wall, with silicone sealant, 1 in wide, 1/2 in deep, on \
         closed-cell backer rod."
    );
    let scene = sheet(&run_folder("tests/trials/44/wide-joint.detail"), "TJ");
    let [name] = scene.groups(Role::BeadName)[..] else { panic!("one bead has a name") };
    let said: Vec<&str> = name
        .iter()
        .filter_map(|shape| if let Shape::Text { words, .. } = shape { Some(words.as_str()) } else { None })
        .collect();
    assert_eq!(said[0], "3", "the step in which it is laid");
    assert_eq!(said[1..].join(" "), "Silicone sealant, 1 in wide, 1/2 in deep, on closed-cell backer rod");
}

/// The lengths of the chain along one axis, in their order.
fn chain(run: &Run, name: &str, axis: Axis) -> Vec<String> {
    let scene = drawing::elevation(&Subject::new(facts(run, name), &[]));
    let chains: Vec<Vec<(String, f64, f64)>> = scene
        .groups(Role::Dimension)
        .into_iter()
        .map(|shapes| {
            let text = |shape: &Shape| {
                let at = shape.room()?.center();
                if let Shape::Text { words, .. } = shape { Some((words.clone(), at.x, at.y)) } else { None }
            };
            shapes.iter().filter_map(text).collect()
        })
        .collect();
    let mut found = chains[if axis == Axis::Up { 0 } else { 1 }].clone();
    found.sort_by(|a, b| if axis == Axis::Up { b.2.total_cmp(&a.2) } else { a.1.total_cmp(&b.1) });
    found.into_iter().map(|(words, ..)| words).collect()
}

/// What is as wide on the left as on the right reads so, and the joint between two lengths is given.
#[test]
fn a_chain_of_dimensions_drops_no_edge_of_a_piece() {
    // Places count from the axis of the pipe.
    assert_eq!(chain(demo(), "P1", Axis::Along), ["50", "30", "50", "50", "30", "50"]);
    let run = run_folder("tests/trials/43/coping.detail");
    assert_eq!(chain(&run, "CP", Axis::Along), ["50", "47", "6", "47", "50"]);
}

#[test]
fn a_title_is_written_to_its_end() {
    let said = written(&sheet(&run_folder("tests/trials/43/closure-outboard.detail"), "VC"));
    assert!(said.contains("down to the concrete behind it"), "{said}");
    let said = written(&sheet(&run_folder("tests/trials/44/tuck.detail"), "NP"));
    assert!(said.contains("a metal shelf lies on the skirt"), "{said}");
}

#[test]
fn a_sheet_says_why_a_finding_was_waived_and_what_to_do_about_the_others() {
    let said = written(&sheet(demo(), "C2"));
    let waiver = &facts(demo(), "C2").detail.waivers[0];
    assert!(said.contains(&format!("Waived: \"{}\"", waiver.because)), "{said}");
    assert!(said.contains(waiver.by.as_deref().expect("a name")), "{said}");
    let said = written(&sheet(demo(), "RW2"));
    assert!(said.contains("To do: Add a kick-out flashing at the eave end"), "{said}");
    assert!(said.contains("error, missing: kick-out where an eave meets a wall: "), "{said}");
}

/// The foot of an upturn lies on the roof, and its length is written there and not up the wall.
#[test]
fn the_length_of_a_foot_stands_at_the_foot() {
    let run = run_folder("tests/trials/45/no-eave-no-kick-out.detail");
    let subject = Subject::new(facts(&run, "gym"), &[]);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let level = |shapes: &&[Shape]| shapes.iter().any(|s| matches!(s, Shape::Text { words, .. } if words == "6"));
    let found: Vec<&[Shape]> = scene.groups(Role::Length).into_iter().filter(level).collect();
    let [foot] = found[..] else { panic!("{} lengths of 6 in", found.len()) };
    let Shape::Path { runs, .. } = &foot[0] else { panic!("its lines") };
    let line = runs.last().expect("its line");
    let ends = runs[0][0];
    assert!((line[0].y - ends.y).abs() < 20.0 * scene.scale, "{line:?} {ends:?}");
}

/// Foot of the cladding above grade: 200 - 20.
#[test]
fn the_clearance_of_thin_cladding_is_given_as_well() {
    let subject = Subject::new(facts(demo(), "B4"), &[]);
    let scene = drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let text = |shape: &Shape| matches!(shape, Shape::Text { words, .. } if words == "180");
    assert!(scene.groups(Role::Length).into_iter().any(|shapes| shapes.iter().any(text)));
}

/// What lies in an opening has no height: an elevation that shows it says so.
#[test]
fn an_elevation_says_that_it_shows_a_sill_laid_flat() {
    let named = |run: &Run, name: &str| {
        let said = written(&sheet(run, name));
        (said.contains("ELEVATION, SILL LAID FLAT"), said.contains("ELEVATION"))
    };
    for (path, name) in [("43/level-subsill", "SL"), ("46/level-subsill", "LS"), ("46/door-in-section", "TH")] {
        let run = run_folder(&format!("tests/trials/{path}.detail"));
        assert_eq!(named(&run, name), (true, true), "{name}");
    }
    assert_eq!(named(demo(), "O1-W1"), (true, true));
    assert_eq!(named(demo(), "P1"), (false, true));
}

/// Whatever stands between its edges, an opening has its width and its height.
#[test]
fn an_opening_has_its_size() {
    let casement = run_folder("tests/trials/40/casement.detail");
    for (run, name, size) in
        [(demo(), "O1-W1", ["1400", "900"]), (demo(), "O2-W1", ["600", "450"]), (&casement, "CW", ["48", "36"])]
    {
        let scene = drawing::elevation(&Subject::new(facts(run, name), &[]));
        let lengths: Vec<String> = scene
            .groups(Role::Dimension)
            .concat()
            .into_iter()
            .filter_map(|shape| if let Shape::Text { words, .. } = shape { Some(words) } else { None })
            .collect();
        assert!(size.iter().all(|own| lengths.iter().any(|length| length == own)), "{name}: {lengths:?}");
    }
}

/// The roof of a parapet begins beyond its other face, and behind the face of a chimney is no room.
#[test]
fn the_top_of_a_parapet_is_no_roof_and_the_inside_of_a_chimney_no_room() {
    let says = |sheet: &Scene, word: &str| words(sheet).iter().any(|(said, _)| said == word);
    let run = run_folder("tests/trials/29/parapet.detail");
    let name = &run.checked[0].facts.details[0].detail.name;
    assert!(says(&sheet(&run, name), "top"), "{:?}", words(&sheet(&run, name)));
    let run = run_folder("tests/trials/26/15-chimney-side.detail");
    let chimney = sheet(&run, "CH1");
    assert!(says(&chimney, "outside") && !says(&chimney, "inside"));
}
