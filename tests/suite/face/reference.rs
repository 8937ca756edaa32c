//! Faces on which a second, separate reading of the model (scripts/face_reference.py) has found the laps and drops.

use headlap::facts::face::{self, *};
use headlap::model::{Axis, Control, Controls, MaterialKind};

use crate::face::build::{empty, mm};

const REFERENCE: &str = include_str!("../../face/reference.txt");

#[test]
fn two_readings_of_the_model_agree() {
    assert_eq!(agree(REFERENCE), 501);
    // `.ci/run` has the script make other faces each time.
    if let Some(fresh) = std::env::var_os("HEADLAP_FACES") {
        agree(&std::fs::read_to_string(fresh).expect("faces that the script made"));
    }
}

/// Compares each face; returns how many there were.
fn agree(reference: &str) -> usize {
    let mut faces = 0;
    for block in reference.split("\n\nface ").skip(1) {
        faces += 1;
        let (number, block) = block.split_once('\n').unwrap();
        let (reported, mut expected): (Vec<&str>, Vec<&str>) = block
            .lines()
            .partition(|l| !["lap ", "drop ", "water goes", "water breaks"].iter().any(|w| l.starts_with(w)));
        let mut found = facts(&read(&reported));
        expected.sort_unstable();
        found.sort_unstable();
        assert_eq!(found, expected, "face {number}\n{}", reported.join("\n"));
    }
    faces
}

fn read(lines: &[&str]) -> Face {
    let mut face = empty();
    for line in lines {
        let words: Vec<&str> = line.split_whitespace().collect();
        match words[..] {
            ["water", layer] => {
                let layer = layer.parse().unwrap();
                let carries = Controls::NONE.with(Control::Water);
                face.joins = vec![Joined { water: Some([layer; 2]), carries, ..Joined::default() }];
            }
            ["piece", material, up, along, drip, layer, pan, bonds, over, behind] => {
                let insulates = material == "xps";
                let (kind, holds_water, sensitive) = match material {
                    "conc" => (MaterialKind::Mass, false, false),
                    "ply" => (MaterialKind::Board, false, true),
                    "wrap" => (MaterialKind::Sheet, true, false),
                    "tape" => (MaterialKind::Tape, true, false),
                    "flash" => (MaterialKind::Flashing, true, false),
                    "win" => (MaterialKind::Unit, true, false),
                    "foam" => (MaterialKind::Fill, false, false),
                    "glass" => (MaterialKind::Board, false, false),
                    "boards" => (MaterialKind::Cladding, false, false),
                    "air" => (MaterialKind::Gap, false, false),
                    "stud" => (MaterialKind::Frame, false, true),
                    "coat" => (MaterialKind::Coat, true, false),
                    "xps" => (MaterialKind::Board, false, false),
                    "cast" => (MaterialKind::Mass, true, false),
                    _ => panic!("no material {material}"),
                };
                let layer = layer.parse().ok().map(|layer| LayerEnd { assembly: 0, layer });
                let water = face.joins.first().and_then(|joined| joined.water);
                let controls = layer.zip(water).is_some_and(|(own, [water, _])| own.layer == water);
                face.pieces.push(Piece {
                    layer,
                    controls: if controls { Controls::NONE.with(Control::Water) } else { Controls::NONE },
                    catches: pan == "pan",
                    over: indices(over),
                    rect: rect(up, along),
                    holds: match (holds_water, insulates) {
                        (true, _) => Controls::NONE.with(Control::Water),
                        (_, true) => Controls::NONE.with(Control::Thermal),
                        _ => Controls::NONE,
                    },
                    kind: Some(kind),
                    sensitive,
                    drip: drip == "drip",
                    bonds: indices(bonds).into_iter().map(Bonding::from).collect(),
                    behind: indices(behind),
                    ..Piece::default()
                });
            }
            ["cut", piece, up, along] => {
                face.cuts.push(Cut { piece: piece.parse().unwrap(), rect: rect(up, along) });
            }
            ["seal", first, second, ref place @ ..] => {
                let at = match place {
                    ["up", at] => Some((Axis::Up, number(at, OPEN_LOW))),
                    ["along", at] => Some((Axis::Along, number(at, OPEN_LOW))),
                    _ => None,
                };
                face.seals.push(face::Seal {
                    first: first.parse().unwrap(),
                    second: second.parse().unwrap(),
                    at,
                    width: 0,
                });
            }
            ["sheltered", height] => face.sheltered = vec![Extent { low: number(height, OPEN_LOW), high: OPEN_HIGH }],
            ["grade", height] => {
                face.grade = Some(number(height, OPEN_LOW));
                face.joins.iter_mut().for_each(|joined| joined.foundation = true);
            }
            ["valley", height] => face.valleys = vec![number(height, OPEN_LOW)],
            ["flat"] => face.steepness = Some(0.0),
            _ => assert!(words.is_empty(), "{line}"),
        }
    }
    face
}

fn facts(face: &Face) -> Vec<String> {
    let facts = derive(face).unwrap();
    assert_eq!(facts.impossible.len(), 0);
    let laps = facts.laps.iter().map(|lap| {
        let length = lap.length as f64 / MILLIMETRE as f64;
        let shingled = if lap.shingled { " shingled" } else { "" };
        let sealed = if lap.sealed { " sealed" } else { "" };
        format!("lap {} {} {} {length}{shingled}{sealed}", lap.over, lap.under, lap.run.word())
    });
    let events = facts.drops.events.iter().filter(|e| !matches!(e.event, Event::Drains | Event::Held));
    let drops = events.map(|event| {
        let pieces: Vec<String> = event.pieces.iter().flatten().map(|p| p.to_string()).collect();
        let mut ends: Vec<&str> = event.ends.iter().map(|e| e.end.word()).collect();
        ends.sort_unstable();
        format!("drop {} {} {}", event.event.word(), pieces.join(","), ends.join(" "))
    });
    let shown = facts.transitions.iter().filter(|t| t.control == Control::Water && !t.shown.contains(&false));
    let water = shown.map(|t| if t.continuous { "water goes on" } else { "water breaks" }.to_owned());
    laps.chain(drops).chain(water).collect()
}

fn rect(up: &str, along: &str) -> Rect {
    Rect { up: extent(up), along: extent(along) }
}

fn extent(words: &str) -> Extent {
    let (low, high) = words.split_once("..").unwrap();
    Extent { low: number(low, OPEN_LOW), high: number(high, OPEN_HIGH) }
}

fn number(word: &str, open: Coordinate) -> Coordinate {
    if word.is_empty() { open } else { mm(word.parse().unwrap()) }
}

fn indices(words: &str) -> Vec<usize> {
    words.split(',').filter(|w| *w != "-").map(|w| w.parse().unwrap()).collect()
}
