//! Signs of drawings: each series of numbers has its own form, the legend explains what is drawn, joints stand open.

use std::collections::BTreeSet;

use headlap::facts::DetailFacts;
use headlap::output::drawing::{
    self, Area, Ink, Mark, Paper, Point, Role, Scene, SectionLine, Shape, Subject, Symbol, Title,
};
use headlap::review::Run;

use crate::drawing::{demo, folder, run_folder};

fn detail<'r>(run: &'r Run, name: &str) -> &'r DetailFacts {
    let mut all = run.checked.iter().flat_map(|c| &c.facts.details);
    all.find(|f| &*f.detail.name == name).unwrap_or_else(|| panic!("{name}"))
}

/// The findings of a detail, with their numbers.
fn marks<'r>(run: &'r Run, facts: &DetailFacts) -> Vec<Mark<'r>> {
    let numbered = run.report.findings.iter().enumerate().map(|(n, finding)| Mark::new(n + 1, finding));
    numbered.filter(|mark| drawing::belongs(&facts.detail, mark.finding)).collect()
}

fn sheet(run: &Run, facts: &DetailFacts) -> Scene {
    let marks = marks(run, facts);
    let subject = Subject::new(facts, &marks);
    let title = Title { project: "", date: String::new() };
    drawing::sheet(&subject, SectionLine::principal(&subject).as_ref(), Paper::A3, &title)
}

fn section(run: &Run, name: &str) -> Scene {
    let facts = detail(run, name);
    let subject = Subject::new(facts, &[]);
    drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"))
}

fn front(run: &Run, name: &str) -> Scene {
    drawing::elevation(&Subject::new(detail(run, name), &[]))
}

/// What the legend shows, and what stands elsewhere on the sheet.
fn explained_and_drawn(scene: &Scene) -> (BTreeSet<Symbol>, BTreeSet<Symbol>) {
    let (mut explained, mut drawn) = (BTreeSet::new(), BTreeSet::new());
    for shape in &scene.shapes {
        let is_legend = matches!(shape, Shape::Group { words, .. } if words == "legend");
        let into = if is_legend { &mut explained } else { &mut drawn };
        shape.each(&mut |shape| match shape {
            Shape::Group { role: Role::Symbol(symbol), .. } => {
                into.insert(*symbol);
            }
            Shape::Group { role: Role::Label(_), .. } => {
                into.insert(Symbol::Note);
            }
            Shape::Group { role: Role::Bead, .. } => {
                into.insert(Symbol::Bead);
            }
            Shape::Group { role: Role::Fastening, .. } => {
                into.insert(Symbol::Fastener);
            }
            Shape::Group { role: Role::Weep, .. } => {
                into.insert(Symbol::Weep);
            }
            Shape::Group { role: Role::Mark(_), words, .. } => {
                into.insert(match &**words {
                    words if words.contains(',') => Symbol::Settled,
                    words if words.starts_with("error") => Symbol::Error,
                    words if words.starts_with("warning") => Symbol::Warning,
                    _ => Symbol::Remark,
                });
            }
            _ => {}
        });
    }
    (explained, drawn)
}

/// What groups alone show; lines of water, folds and cuts have no group of their own.
fn of_groups(symbols: &BTreeSet<Symbol>) -> BTreeSet<Symbol> {
    use Symbol::{Adhered, CutHere, CutOff, Fold, Hidden, Ledge, Quiet, Water, Wrong};
    let lines = [Adhered, CutHere, CutOff, Fold, Hidden, Ledge, Quiet, Water, Wrong];
    symbols.iter().copied().filter(|symbol| !lines.contains(symbol)).collect()
}

#[test]
fn a_legend_explains_each_sign_of_its_sheet_and_no_other() {
    let mut all = BTreeSet::new();
    for run in [demo(), &run_folder("tests/findings")] {
        for facts in run.checked.iter().flat_map(|c| &c.facts.details).filter(|f| drawing::drawable(f)).take(150) {
            let (explained, drawn) = explained_and_drawn(&sheet(run, facts));
            assert_eq!(of_groups(&explained), of_groups(&drawn), "{}", facts.detail.name);
            all.extend(explained);
        }
    }
    use Symbol::{Adhered, CutOff, Enlarged, Fold, Ring, Step, TurnsIn, Water, Wets, Wrong};
    for symbol in [Ring, TurnsIn, Wets, Step, Enlarged, Water, Wrong, Adhered, Fold, CutOff] {
        assert!(all.contains(&symbol), "{symbol:?} is somewhere");
    }
}

#[test]
fn a_legend_has_no_sign_of_water_where_none_runs() {
    let (explained, _) = explained_and_drawn(&sheet(demo(), detail(demo(), "K1")));
    assert!(
        !explained.contains(&Symbol::Ring) && !explained.contains(&Symbol::Wets) && !explained.contains(&Symbol::Wrong)
    );
    let (explained, _) = explained_and_drawn(&sheet(demo(), detail(demo(), "O2-W1")));
    for symbol in [Symbol::Ring, Symbol::TurnsIn, Symbol::Wrong, Symbol::Water, Symbol::Step, Symbol::Error] {
        assert!(explained.contains(&symbol), "{symbol:?}");
    }
}

/// Water that is held in a pan is where it may be: nothing on a clean sheet has the color of what is wrong.
#[test]
fn a_sheet_of_a_clean_detail_has_no_color_of_wrong_water() {
    let scene = sheet(demo(), detail(demo(), "O1-W1"));
    assert!(explained_and_drawn(&scene).0.contains(&Symbol::Held), "it explains water that is held");
    scene.each(&mut |shape| {
        let warm = matches!(shape, Shape::Path { pen: Some(pen), .. } if pen.ink == Ink::Warm);
        assert!(!warm, "{shape:?}");
    });
}

/// A piece has its number in a circle, a finding in a square on its tip, a step of the water in a drop.
#[test]
fn three_series_of_numbers_have_three_forms() {
    let facts = detail(demo(), "O2-W1");
    let found = marks(demo(), facts);
    let subject = Subject::new(facts, &found);
    let views =
        [drawing::section(&subject, &SectionLine::principal(&subject).expect("a line")), drawing::elevation(&subject)];
    for scene in views {
        let mut seen = [0; 3];
        scene.each(&mut |shape| {
            let Shape::Group { role, shapes, .. } = shape else { return };
            let circles =
                shapes.iter().filter(|s| matches!(s, Shape::Circle { radius, .. } if *radius > scene.scale)).count();
            let corners = shapes.iter().find_map(|s| match s {
                Shape::Path { runs, closed: true, .. } => Some(runs[0].len()),
                _ => None,
            });
            match role {
                Role::Label(_) => {
                    assert_eq!((circles, corners), (1, None), "a piece");
                    seen[0] += 1;
                }
                Role::Mark(_) => {
                    assert_eq!((circles, corners), (0, Some(4)), "a finding");
                    seen[1] += 1;
                }
                Role::Symbol(Symbol::Step) => {
                    assert_eq!((circles, corners), (0, Some(14)), "a step of the water");
                    seen[2] += 1;
                }
                _ => {}
            }
        });
        assert!(seen.iter().all(|count| *count > 0), "{}: {seen:?}", scene.title);
    }
}

/// The steps that have a number are those of the finding, from the top down, in both views.
#[test]
fn steps_of_the_water_come_in_the_order_of_the_finding_in_both_views() {
    let facts = detail(demo(), "O2-W1");
    let found = marks(demo(), facts);
    let count = found[0].finding.trail.len();
    let subject = Subject::new(facts, &found);
    let numbers = |scene: &Scene| {
        let mut numbers: Vec<(f64, usize)> = Vec::new();
        for group in scene.groups(Role::Symbol(Symbol::Step)) {
            group.iter().for_each(|shape| {
                if let Shape::Text { at, words, .. } = shape {
                    numbers.push((at.y, words.parse().expect("a number")));
                }
            });
        }
        numbers.sort_by(|a, b| a.0.total_cmp(&b.0));
        numbers.into_iter().map(|(_, number)| number).collect::<Vec<_>>()
    };
    let face = numbers(&drawing::elevation(&subject));
    assert_eq!(face, (1..=count).collect::<Vec<_>>(), "all of them on the elevation");
    // The section is cut beside the jamb: what the water does there has no number in it.
    let cut = numbers(&drawing::section(&subject, &SectionLine::principal(&subject).expect("a line")));
    assert_eq!(cut, [1, 2, 3, 7]);
}

/// An enlargement and its circle have one letter, and a circle stands where an enlargement does.
#[test]
fn an_enlargement_is_tied_to_its_circle() {
    let letters = |scene: &Scene| {
        let mut letters = Vec::new();
        scene.each(&mut |shape| {
            if let Shape::Text { words, .. } = shape
                && (words == "A" || words.contains("Enlargement 1:1"))
            {
                letters.push(words.clone());
            }
        });
        letters
    };
    assert_eq!(letters(&sheet(demo(), detail(demo(), "O2-W1"))), ["A", "A   Enlargement 1:1"]);
    let facts = detail(demo(), "O2-W1");
    let found = marks(demo(), facts);
    let subject = Subject::new(facts, &found);
    let line = SectionLine::principal(&subject).expect("a line");
    assert!(letters(&drawing::section(&subject, &line)).is_empty(), "no circle without an enlargement");
    assert!(letters(&sheet(demo(), detail(demo(), "B1"))).is_empty());
    // A finding's card has both.
    let (_, over) = drawing::plain_section(&subject, &line);
    assert_eq!(letters(&Scene { shapes: over[0].1.clone(), ..Scene::empty() }), ["A"]);
    assert!(letters(&drawing::joint(&subject, &line, &found[0]).expect("a joint")).iter().any(|w| w.starts_with('A')));
}

#[test]
fn what_is_seen_from_above_is_a_plan() {
    let text = "include \"stock.detail\"
assembly R roof { slope 4:12; outside; layer slate; layer breather-membrane controls water; layer plywood 18 mm controls air; inside }
assembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }
detail SEAM course joins R { piece deck plywood of R; piece low breather-membrane of R up to 100 mm; piece high breather-membrane of R up from 0 mm }
detail WALL course joins W { piece deck plywood of W; piece low wrap-open of W up to 100 mm; piece high wrap-open of W up from 0 mm }
detail RIDGE ridge joins R { fold up 0 mm outside-corner; piece low plywood of R up to -20 mm; piece high plywood of R up from 20 mm }
detail EAVE eave joins R to W { fold up 0 mm eave; piece deck plywood of R up from 0 mm; piece wall plywood of W up to 0 mm }
";
    let run = folder(text, "plans");
    let name = |detail: &str| front(&run, detail).title.split(" of ").next().expect("a name").to_owned();
    // Its lengths are those on the slope, and not those of a plan.
    assert_eq!(name("SEAM"), "Plan, slope laid flat");
    assert_eq!(name("WALL"), "Elevation");
    assert_eq!(name("RIDGE"), "Plan, unfolded");
    assert_eq!(name("EAVE"), "Elevation, unfolded");
}

/// Roofing goes on straight over the eave; the drip edge below it is bent.
#[test]
fn slates_overhang_straight() {
    let text = "include \"stock.detail\"
assembly R roof { slope 35 deg; outside; layer slate; layer breather-membrane controls water; layer plywood 18 mm controls air; inside }
detail E eave joins R {
  fold up 0 mm eave
  piece deck   plywood of R up from 0 mm
  piece edge   drip-edge as drip-edge up -50 mm to 100 mm with drip
  piece sheet  breather-membrane of R up from 5 mm
  piece slates slate of R up from -50 mm
}
";
    let run = folder(text, "overhang");
    let scene = section(&run, "E");
    let piece = |name: &str| {
        let index = detail(&run, "E").detail.pieces.iter().position(|p| &*p.name == name).expect("a piece");
        scene.groups(Role::Piece(index))[0].to_vec()
    };
    let mut outlines: Vec<Vec<Point>> = Vec::new();
    for shape in &piece("slates") {
        shape.each(&mut |shape| {
            if let Shape::Path { runs, closed: true, fill: Some(_), .. } = shape {
                outlines.extend(runs.iter().filter(|run| run.len() == 4).cloned());
            }
        });
    }
    assert_eq!(outlines.len(), 1, "one plane piece");
    let (a, b) = (outlines[0][0], outlines[0][3]);
    let fall = ((a.y - b.y) / (a.x - b.x)).atan().to_degrees();
    assert!((fall - 35.0).abs() < 0.1, "{fall}");
    let edge = Area::around(&piece("edge")).expect("the edge");
    let slates = Area::around(&piece("slates")).expect("the slates");
    assert!(slates.right > edge.right, "they hang out beyond the drip edge");
}

const JOINTS: &str = "include \"stock.detail\"
assembly P wall { outside; layer concrete 150 mm controls water, air; inside }
detail APART seam joins P {
  piece left  concrete of P along to 0 mm
  piece right concrete of P along from 20 mm
  seal left to right with silicone-sealant along 0 mm width 20 mm depth 10 mm on backer-rod
}
detail FLUSH seam joins P {
  piece left  concrete of P along to 0 mm
  piece right concrete of P along from 0 mm
  seal left to right with silicone-sealant along 0 mm width 20 mm depth 10 mm on backer-rod
}
detail LEVEL seam joins P {
  piece lower concrete of P up to 0 mm
  piece upper concrete of P up from 20 mm
  seal lower to upper with silicone-sealant up 0 mm width 20 mm depth 10 mm on backer-rod
}
";

/// The edge where a piece ends, as an outline of its area shows it.
fn edge(scene: &Scene, run: &Run, name: &str, piece: &str) -> Area {
    let index = detail(run, name).detail.pieces.iter().position(|p| &*p.name == piece).expect("a piece");
    let mut area: Option<Area> = None;
    for shape in scene.groups(Role::Piece(index)).into_iter().flatten() {
        shape.each(&mut |shape| {
            if let Shape::Path { runs, closed: true, fill: Some(_), .. } = shape {
                for p in runs.iter().flatten() {
                    let at = Area::new(p.x, p.y, p.x, p.y);
                    area = Some(area.map_or(at, |area| area.with(at)));
                }
            }
        });
    }
    area.expect("it is drawn")
}

#[test]
fn a_joint_with_a_width_stands_open_by_it_in_both_views() {
    let run = folder(JOINTS, "joints");
    for name in ["APART", "FLUSH", "LEVEL"] {
        let (first, second) = if name == "LEVEL" { ("upper", "lower") } else { ("left", "right") };
        for scene in [section(&run, name), front(&run, name)] {
            let (a, b) = (edge(&scene, &run, name, first), edge(&scene, &run, name, second));
            let gap = if name == "LEVEL" { b.top - a.bottom } else { b.left - a.right };
            assert!((gap - 20.0).abs() < 1e-6, "{name}, {}: {gap}", scene.title);
            let bead = Area::around(scene.groups(Role::Bead)[0]).expect("a bead");
            let wide = if name == "LEVEL" { bead.height() } else { bead.width() };
            assert!((wide - 20.0).abs() < 1e-6, "the bead fills it: {name}, {}: {wide}", scene.title);
        }
    }
}

/// What laps a joint laps as far as its edges say, not to the middle that the bead is taken to close.
#[test]
fn a_lap_beside_an_open_joint_keeps_its_length() {
    let text = "include \"stock.detail\"
assembly P wall { outside; layer wrap-adhered controls water, air; layer concrete 150 mm; inside }
detail L seam joins P {
  piece lower concrete of P up to 0 mm
  piece upper concrete of P up from 20 mm
  seal  lower to upper with silicone-sealant up 0 mm width 20 mm depth 10 mm on backer-rod
  piece strip wrap-adhered of P up -100 mm to 120 mm bonds lower, upper
}
";
    let run = folder(text, "joint-lap");
    let scene = section(&run, "L");
    let strip = detail(&run, "L").detail.pieces.iter().position(|p| &*p.name == "strip").expect("the strip");
    let strip = Area::around(scene.groups(Role::Piece(strip))[0]).expect("drawn");
    let (lower, upper) = (edge(&scene, &run, "L", "lower"), edge(&scene, &run, "L", "upper"));
    assert!((strip.bottom - lower.top - 100.0).abs() < 1e-6, "{strip:?} {lower:?}");
    assert!((upper.bottom - strip.top - 100.0).abs() < 1e-6, "{strip:?} {upper:?}");
}

/// Relative luminance of an ink (WCAG 2.2), from its red, green and blue in the SVG.
fn luminance(hex: &str) -> f64 {
    let digits = hex.trim_start_matches('#');
    let wide = |n: usize| if digits.len() == 3 { digits[n..=n].repeat(2) } else { digits[2 * n..2 * n + 2].to_owned() };
    let part = |n: usize| {
        let value = f64::from(u8::from_str_radix(&wide(n), 16).expect("a part")) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * part(0) + 0.7152 * part(1) + 0.0722 * part(2)
}

/// What a browser's checks do not decide in SVG: letters stand out by 4.5 from each tone that lies beneath them, or from white paper.
#[test]
fn letters_stand_out_from_what_lies_beneath_them() {
    let hex = |ink| {
        drawing::svg(&Scene { shapes: vec![Shape::text(Point::new(0.0, 0.0), 1.0, "x").inked(ink)], ..Scene::empty() })
    };
    let tone = |ink| {
        luminance(
            hex(ink)
                .split("<text")
                .nth(1)
                .and_then(|t| t.split("fill=\"").nth(1))
                .and_then(|t| t.split('"').next())
                .expect("a fill"),
        )
    };
    let mut count = 0;
    for facts in demo().checked.iter().flat_map(|c| &c.facts.details) {
        let found = marks(demo(), facts);
        let subject = Subject::new(facts, &found);
        let section = SectionLine::principal(&subject).map(|line| drawing::section(&subject, &line));
        for scene in section.into_iter().chain([drawing::elevation(&subject), sheet(demo(), facts)]) {
            let mut beneath: Vec<(Area, f64)> = Vec::new();
            scene.each(&mut |shape| match shape {
                Shape::Path { runs, closed: true, fill: Some(ink), .. } => {
                    let path = Shape::Path { runs: runs.clone(), closed: true, pen: None, fill: None };
                    beneath.extend(Area::around(&[path]).map(|area| (area, tone(*ink))));
                }
                Shape::Text { ink, words, .. } => {
                    let Some(area) = Area::around(std::slice::from_ref(shape)) else { return };
                    let middle = area.center();
                    let paper =
                        beneath.iter().rev().find(|(area, _)| area.contains(middle)).map_or(1.0, |(_, tone)| *tone);
                    let (dark, light) = (paper.min(tone(*ink)) + 0.05, paper.max(tone(*ink)) + 0.05);
                    assert!(light / dark >= 4.5, "{}: {words} {:.1}", scene.title, light / dark);
                    count += 1;
                }
                _ => {}
            });
        }
    }
    assert!(count > 500, "{count}");
}
