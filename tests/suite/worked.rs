//! The worked faces of the design, read through the language and met exactly.

use std::collections::BTreeSet;
use std::sync::Arc;

use headlap::facts::DetailFacts;
use headlap::model::SourceMap;
use headlap::review::Reviewer;
use headlap::text::{FileId, Source};

use crate::review::{TODAY, pack};

/// Materials as their kinds say: a mass that holds air, a sensitive board, and the rest that holds water and air.
const MATERIALS: &str = r#"
material h-conc mass     { holds air }
material h-ply  board    { sensitive }
material h-wrap sheet    { holds water, air }
material h-tape tape     { holds water, air }
material h-flash flashing { holds water, air }
material h-win  unit     { holds water, air }
material h-bead sealant  { holds water, air }
assembly F foundation { outside; layer h-conc; inside }
assembly W wall       { outside; layer h-wrap; inside }
"#;

/// The facts of a detail in the words of the worked faces.
fn reported(facts: &DetailFacts) -> BTreeSet<String> {
    let name = |piece: usize| facts.detail.pieces[piece].name.to_string();
    let mut reported = BTreeSet::new();
    for lap in &facts.face.laps {
        let mut line = format!(
            "lap {} over {}, {}, {} mm",
            name(lap.over),
            name(lap.under),
            lap.run.word(),
            lap.length / 1_000_000
        );
        if lap.run.word() == "head" {
            line.push_str(if lap.shingled { ", shingled" } else { ", not shingled" });
        }
        if lap.sealed {
            line.push_str(", sealed");
        }
        reported.insert(line);
    }
    for event in &facts.face.drops.events {
        let pieces: Vec<String> = event.pieces.iter().flatten().map(|piece| name(*piece)).collect();
        if pieces.is_empty() {
            reported.insert(format!("drop: {}", event.event.word()));
        }
        for end in event.ends.iter().filter(|_| !pieces.is_empty()) {
            reported.insert(format!("drop: {} ({}), ends {}", event.event.word(), pieces.join(", "), end.end.word()));
        }
    }
    for stack in &facts.face.impossible {
        let mut pieces: Vec<String> = stack.pieces.iter().map(|piece| name(*piece)).collect();
        pieces.sort();
        reported.insert(format!("impossible stack: {}", pieces.join(", ")));
    }
    reported
}

#[test]
fn the_worked_faces_are_met_exactly() {
    let faces = include_str!("../worked/faces.detail");
    let text = format!("{MATERIALS}{faces}");
    let fetch = |_: &str| Err("nothing is included".to_owned());
    let source_map = SourceMap::new(&fetch, &pack().words);
    let checked =
        Reviewer::new(&source_map, pack(), TODAY).check(Arc::new(Source::new(FileId::detail(0), "faces.detail", text)));
    let unread: Vec<_> =
        checked.findings.iter().filter(|f| pack().rule(&f.rule).is_none() && &*f.rule != "missing-property").collect();
    assert!(unread.is_empty(), "{unread:?}");
    let mut details = checked.facts.details.iter();
    let mut count = 0;
    for block in faces.split("\ndetail ").skip(1) {
        let facts = details.next().expect("a detail for each block");
        let expected: BTreeSet<String> =
            block.lines().filter_map(|line| line.strip_prefix("#= ")).map(str::to_owned).collect();
        assert_eq!(reported(facts), expected, "{}", facts.detail.name);
        count += expected.len();
    }
    assert!(details.next().is_none() && count > 40, "{count}");
}
