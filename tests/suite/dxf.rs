//! DXF files: true size, layers by what they hold, and a text that holds together by itself.

use std::collections::HashSet;
use std::fs;

use headlap::output::drawing::LAYERS;
use headlap::project;

use crate::command::{run, scratch, write};

/// A title that would be read as the next record, were it not written as text.
const TITLE: &str = "a  0  EOF \u{1F600} %%u ^J";

type Entity = Vec<(u16, String)>;

/// The groups of a file, cut before each code 0.
fn read(text: &str) -> Vec<Entity> {
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len() % 2, 0, "codes and values come in pairs");
    let mut all: Vec<Entity> = Vec::new();
    for pair in lines.chunks(2) {
        let code: u16 = pair[0].trim().parse().expect("a code is a number");
        if code == 0 {
            all.push(Vec::new());
        }
        all.last_mut().expect("a file begins with code 0").push((code, pair[1].to_owned()));
    }
    all
}

fn value(entity: &Entity, code: u16) -> Option<&str> {
    entity.iter().find(|(own, _)| *own == code).map(|(_, value)| value.as_str())
}

fn numbers(entity: &Entity, code: u16) -> Vec<f64> {
    entity.iter().filter(|(own, _)| *own == code).map(|(_, value)| value.parse().expect("a number")).collect()
}

fn section(all: &[Entity], name: &str) -> Vec<Entity> {
    let first =
        all.iter().position(|e| e[0].1 == "SECTION" && value(e, 2) == Some(name)).expect("the section is there");
    all[first + 1..].iter().take_while(|e| e[0].1 != "ENDSEC").cloned().collect()
}

/// A wall of two wraps, and what is drawn of it.
fn drawn(name: &str, lines: &str, settings: &str) -> (Vec<Entity>, String) {
    let folder = scratch(&format!("dxf/{name}"));
    let text = format!(
        "include \"stock.detail\"\nassembly C existing {{ outside; layer concrete 200 mm; inside }}\n\
         detail D course \"{TITLE}\" joins C {{\n{lines}}}\n"
    );
    write(&folder, "a.detail", &text);
    write(&folder, "headlap.toml", settings);
    let (status, _, said) = run(&folder, &["draw", "a.detail", "--format", "dxf", "--out", "out"]);
    assert_eq!((status, said.as_str()), (0, ""));
    let text = fs::read_to_string(folder.join("out/D-detail.dxf")).expect("it is written");
    (read(&text), text)
}

/// From the lowest to the highest point of each line on a layer of the section, which is the view on the left and so wide.
fn heights(all: &[Entity], layer: &str, wide: f64) -> Vec<[f64; 2]> {
    let lines = section(all, "ENTITIES").into_iter().filter(|e| e[0].1.ends_with("LINE") && value(e, 8) == Some(layer));
    let sides =
        lines.map(|e| ([numbers(&e, 10), numbers(&e, 11)].concat(), [numbers(&e, 20), numbers(&e, 21)].concat()));
    let sides: Vec<_> = sides.collect();
    let foremost = sides.iter().flat_map(|(x, _)| x).copied().fold(f64::MAX, f64::min);
    let near = sides.iter().filter(|(x, _)| x.iter().all(|x| x - foremost < wide));
    let extent =
        |y: &Vec<f64>| [y.iter().copied().fold(f64::MAX, f64::min), y.iter().copied().fold(f64::MIN, f64::max)];
    near.map(|(_, y)| extent(y)).collect()
}

#[test]
fn a_lap_of_100_mm_measures_100_mm() {
    let lines = "  piece low   wrap-open  up to 100 mm\n  piece high  wrap-open  up from 0 mm\n";
    let (all, _) = drawn("lap", lines, "");
    let wraps = heights(&all, "membranes", 100.0);
    let top = wraps.iter().map(|[_, top]| *top).fold(f64::MAX, f64::min);
    let foot = wraps.iter().map(|[foot, _]| *foot).fold(f64::MIN, f64::max);
    assert!((top - foot - 100.0).abs() < 1e-5, "{wraps:?}");
    let dimension = section(&all, "ENTITIES").into_iter().find(|e| e[0].1 == "DIMENSION").expect("it is measured");
    let [a, b] = [13, 14].map(|code| (numbers(&dimension, code)[0], numbers(&dimension, code + 10)[0]));
    assert!(((a.0 - b.0).hypot(a.1 - b.1) - 100.0).abs() < 1e-5);
    assert_eq!(value(&dimension, 1), Some("100, needs 150"), "a length that fails says what it needs");
    assert_eq!(variable(&all, "$INSUNITS"), "4", "millimeters");
}

/// The value of a variable of the header.
fn variable(all: &[Entity], name: &str) -> String {
    let header = all.iter().find(|e| value(e, 2) == Some("HEADER")).expect("there is a header");
    let at = header.iter().position(|(code, value)| *code == 9 && value == name).expect("it is set");
    header[at + 1].1.clone()
}

#[test]
fn a_length_that_does_is_measured_by_the_reader() {
    let lines = "  piece low   wrap-open  up to 160 mm\n  piece high  wrap-open  up from 0 mm\n";
    let (all, _) = drawn("plain", lines, "");
    let dimension = section(&all, "ENTITIES").into_iter().find(|e| e[0].1 == "DIMENSION").expect("it is measured");
    assert_eq!(value(&dimension, 1), Some(""), "its number follows the drawing");
    assert_eq!(numbers(&dimension, 42), [160.0]);
}

#[test]
fn who_draws_in_inches_gets_inches() {
    let lines = "  piece low   wrap-open  up to 4 in\n  piece high  wrap-open  up from 0 in\n";
    let (all, _) = drawn("inches", lines, "");
    let wraps = heights(&all, "membranes", 4.0);
    let top = wraps.iter().map(|[_, top]| *top).fold(f64::MAX, f64::min);
    let foot = wraps.iter().map(|[foot, _]| *foot).fold(f64::MIN, f64::max);
    assert!((top - foot - 4.0).abs() < 1e-5, "{wraps:?}");
    assert_eq!(variable(&all, "$INSUNITS"), "1");
}

/// A picture breaks a long stretch out; this does not.
#[test]
fn a_storey_is_as_high_as_it_is() {
    let lines = "  piece deck  plywood  up 0 mm to 3000 mm\n  piece wrap  wrap-open  up 0 mm to 3000 mm\n";
    let (all, _) = drawn("storey", lines, "");
    let longest = heights(&all, "boards", 100.0).iter().map(|[low, high]| high - low).fold(0.0, f64::max);
    assert!((longest - 3000.0).abs() < 1e-3, "{longest}");
}

#[test]
fn layers_are_named_by_what_they_hold_or_as_the_library_says() {
    let lines = "  piece stem  concrete\n  piece deck  plywood\n  piece wrap  wrap-open\n  \
                 fasten wrap with cap-staple every 400 mm\n";
    let (all, _) = drawn("layers", lines, "[layers]\nmembranes = \"A-DETL Bahn \u{fc}\"\n");
    let on: HashSet<String> = section(&all, "ENTITIES").iter().filter_map(|e| value(e, 8).map(str::to_owned)).collect();
    for wanted in ["boards", "structure", "A-DETL Bahn \\U+00FC", "fasteners", "hatches", "words", "water"] {
        assert!(on.contains(wanted), "{wanted} is not among {on:?}");
    }
    assert!(!on.contains("membranes"));
    let table: HashSet<String> = section(&all, "TABLES")
        .iter()
        .filter(|e| e[0].1 == "LAYER")
        .filter_map(|e| value(e, 2).map(str::to_owned))
        .collect();
    assert!(on.is_subset(&table), "{on:?} {table:?}");
    let hatches = section(&all, "ENTITIES").into_iter().filter(|e| e[0].1 == "HATCH");
    let names: HashSet<String> = hatches.filter_map(|e| value(&e, 2).map(str::to_owned)).collect();
    assert!(names.contains("CONCRETE") && names.contains("PLYWOOD"), "{names:?}");
}

/// Bricks are 2-2/3 in high with their joint in every file, whatever it is lettered for.
#[test]
fn courses_have_the_height_of_their_bricks() {
    for (unit, length, course) in [("mm", "500 mm", 68.0), ("in", "20 in", 68.0 / 25.4)] {
        let lines = format!("  piece wall  clay-brick  up 0 {unit} to {length}\n");
        let (all, _) = drawn(&format!("courses-{unit}"), &lines, "");
        let hatches = section(&all, "ENTITIES").into_iter().filter(|e| value(e, 2) == Some("MASONRY"));
        let hatch = hatches.into_iter().next().expect("the bricks are hatched");
        let apart = numbers(&hatch, 45).into_iter().zip(numbers(&hatch, 46)).map(|(x, y)| x.hypot(y));
        let apart: Vec<f64> = apart.collect();
        assert!(apart.iter().any(|own| (own - course).abs() < 1e-5), "{unit}: {apart:?}");
    }
}

#[test]
fn settings_know_the_layers_of_drawings() {
    assert_eq!(LAYERS.map(|(_, name, ..)| name), project::LAYERS);
    let folder = scratch("dxf/settings");
    write(&folder, "a.detail", "include \"stock.detail\"\n");
    for wrong in
        ["membrane = \"M\"", "membranes = \"\"", "membranes = \"a/b\"", "membranes = 3", "membranes = \"a\\nb\""]
    {
        write(&folder, "headlap.toml", &format!("[layers]\n{wrong}\n"));
        let (status, _, said) = run(&folder, &["review", "."]);
        assert!(status == 2 && said.contains("layer"), "{wrong}: {status} {said}");
    }
}

/// No text of a detail becomes anything but text, and each thing can be distinguished from the others.
#[test]
fn the_file_holds_together() {
    let (all, text) = drawn("whole", "  piece deck  plywood\n  piece wrap  wrap-open\n", "");
    assert!(text.is_ascii());
    let kinds = |name: &str| all.iter().filter(|e| e[0].1 == name).count();
    assert_eq!((kinds("SECTION"), kinds("ENDSEC"), kinds("EOF")), (6, 6, 1));
    assert_eq!(kinds("TABLE"), kinds("ENDTAB"));
    assert_eq!(all.last().expect("it ends")[0].1, "EOF");
    let handles: Vec<&str> = all
        .iter()
        .filter(|e| value(e, 2) != Some("HEADER"))
        .filter_map(|e| value(e, if e[0].1 == "DIMSTYLE" { 105 } else { 5 }))
        .collect();
    let different: HashSet<&&str> = handles.iter().collect();
    assert_eq!(different.len(), handles.len(), "each handle is given once");
    let seed = u64::from_str_radix(&variable(&all, "$HANDSEED"), 16).expect("a handle");
    assert!(handles.iter().all(|h| u64::from_str_radix(h, 16).is_ok_and(|h| h < seed)));
    for owner in all.iter().filter_map(|e| value(e, 330)).filter(|owner| *owner != "0") {
        assert!(different.contains(&owner), "{owner} owns something and is not there");
    }
}

#[test]
fn an_assembly_alone_is_reported_to_have_no_such_file() {
    let folder = scratch("dxf/assembly");
    write(
        &folder,
        "a.detail",
        "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\n",
    );
    let (status, _, said) = run(&folder, &["draw", "a.detail", "--format", "dxf", "--only", "C", "--out", "out"]);
    assert!(status == 0 && said.contains("C is an assembly"), "{status} {said}");
    let both = run(&folder, &["draw", "a.detail", "--format", "dxf", "--sheet", "A3", "--out", "out"]);
    assert_eq!(both.0, 2, "a sheet is no DXF file");
}

/// A joint of 20 mm stays open in the file: no line of its two sides lies within it.
#[test]
fn a_joint_with_a_width_stands_open() {
    let lines = "  piece left  concrete along to 0 mm\n  piece right concrete along from 20 mm\n  \
                 seal left to right with silicone-sealant along 0 mm width 20 mm depth 10 mm on backer-rod\n";
    let (all, _) = drawn("joint", lines, "");
    let beads = section(&all, "ENTITIES").into_iter().filter(|e| value(e, 8) == Some("sealants"));
    let spans: Vec<f64> = beads
        .map(|e| numbers(&e, 10))
        .filter(|x| x.len() > 1)
        .map(|x| x.iter().copied().fold(f64::MIN, f64::max) - x.iter().copied().fold(f64::MAX, f64::min))
        .collect();
    assert!(spans.iter().any(|wide| (wide - 20.0).abs() < 1e-6), "{spans:?}");
}
