//! What must not change a finding, on random details written in the language.

use std::collections::BTreeSet;
use std::sync::Arc;

use headlap::facts::DetailFacts;
use headlap::facts::face::{Coordinate, Event, FaceFacts};
use headlap::model::Shelf;
use headlap::output::json;
use headlap::report::Report;
use headlap::review::Reviewer;
use headlap::text::{FileId, Source};
use proptest::prelude::*;
use proptest::sample::{Index, select};

use crate::review::{TODAY, pack, review_text, review_texts};

/// A piece of a random detail; ends on a grid of 25 mm, `None` open.
#[derive(Clone, Debug)]
struct Piece {
    material: &'static str,
    up: (Option<i32>, Option<i32>),
    along: (Option<i32>, Option<i32>),
    bonds: Vec<Index>,
    behind: Option<Index>,
    drip: bool,
}

const MATERIALS: &[&str] = &[
    "plywood",
    "wrap-open",
    "flash-tape",
    "butyl-flashing",
    "window-wood",
    "cedar-boards",
    "concrete",
    "aluminum-flashing",
];

fn extent() -> impl Strategy<Value = (Option<i32>, Option<i32>)> {
    (prop::option::weighted(0.7, -8..8i32), prop::option::weighted(0.7, 1..8i32)).prop_map(|(low, size)| {
        match (low, size) {
            (Some(low), Some(size)) => (Some(25 * low), Some(25 * (low + size))),
            (Some(low), None) => (Some(25 * low), None),
            (None, Some(high)) => (None, Some(25 * high)),
            (None, None) => (None, None),
        }
    })
}

fn piece() -> impl Strategy<Value = Piece> {
    let refs = (prop::collection::vec(any::<Index>(), 0..2), prop::option::weighted(0.1, any::<Index>()));
    (select(MATERIALS), extent(), extent(), refs, prop::bool::weighted(0.1))
        .prop_map(|(material, up, along, (bonds, behind), drip)| Piece { material, up, along, bonds, behind, drip })
}

fn pieces() -> impl Strategy<Value = Vec<Piece>> {
    prop::collection::vec(piece(), 1..9)
}

/// The detail as text. `length` writes a number of millimetres, `name` the name of a piece.
fn text(pieces: &[Piece], length: &dyn Fn(i32) -> String, name: &dyn Fn(usize) -> String) -> String {
    let mut text = String::from(
        "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\ndetail D course joins C {\n",
    );
    for (index, piece) in pieces.iter().enumerate() {
        text.push_str(&format!("  piece {} {}", name(index), piece.material));
        for (axis, (low, high)) in [("up", piece.up), ("along", piece.along)] {
            match (low, high) {
                (Some(low), Some(high)) => text.push_str(&format!(" {axis} {} to {}", length(low), length(high))),
                (Some(low), None) => text.push_str(&format!(" {axis} from {}", length(low))),
                (None, Some(high)) => text.push_str(&format!(" {axis} to {}", length(high))),
                (None, None) => {}
            }
        }
        let other = |at: &Index| Some(at.index(pieces.len())).filter(|other| *other != index);
        let bonds: BTreeSet<usize> = piece.bonds.iter().filter_map(other).collect();
        if !bonds.is_empty() {
            let names: Vec<String> = bonds.into_iter().map(name).collect();
            text.push_str(&format!(" bonds {}", names.join(", ")));
        }
        if let Some(behind) = piece.behind.as_ref().and_then(other) {
            text.push_str(&format!(" behind {}", name(behind)));
        }
        if piece.drip {
            text.push_str(" with drip");
        }
        text.push('\n');
    }
    text.push_str("}\n");
    text
}

fn millimetres(length: i32) -> String {
    format!("{length} mm")
}

fn usual(index: usize) -> String {
    format!("piece-{index}")
}

fn face(text: &str) -> FaceFacts {
    let fetch = |_: &str| Err("nothing is included".to_owned());
    let shelf = Shelf::new(&fetch, &pack().words);
    let checked = Reviewer::new(&shelf, pack(), TODAY).check(Arc::new(Source::new(FileId(0), "a.detail", text)));
    let details: Vec<DetailFacts> = checked.facts.details;
    details.into_iter().next().expect("one detail").face
}

/// An event with its ends, without its place.
type Told = (Event, [Option<usize>; 2], Vec<&'static str>);

fn events(face: &FaceFacts) -> BTreeSet<Told> {
    face.drops.events.iter().map(|e| (e.event, e.pieces, e.ends.iter().map(|end| end.end.word()).collect())).collect()
}

fn bytes(report: &Report) -> String {
    let mut out = Vec::new();
    json(report, &mut out).expect("memory takes it");
    String::from_utf8(out).expect("JSON is UTF-8")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_files_and_the_number_of_threads_do_not_show(details in prop::collection::vec(pieces(), 2..5)) {
        let texts: Vec<(String, String)> = details
            .iter()
            .enumerate()
            .map(|(n, pieces)| (format!("d{n}.detail"), text(pieces, &millimetres, &usual)))
            .collect();
        let files: Vec<(&str, &str)> = texts.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        let reversed: Vec<(&str, &str)> = files.iter().rev().copied().collect();
        let one = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("a pool");
        let first = bytes(&one.install(|| review_texts(&files)));
        prop_assert_eq!(&first, &bytes(&review_texts(&reversed)));
        prop_assert_eq!(&first, &bytes(&review_texts(&files)));
    }

    #[test]
    fn mirroring_along_changes_no_event(pieces in pieces()) {
        let mirrored: Vec<Piece> = pieces
            .iter()
            .map(|p| Piece { along: (p.along.1.map(|x| -x), p.along.0.map(|x| -x)), ..p.clone() })
            .collect();
        let (a, b) = (face(&text(&pieces, &millimetres, &usual)), face(&text(&mirrored, &millimetres, &usual)));
        prop_assert_eq!(events(&a), events(&b));
    }

    #[test]
    fn scaling_all_lengths_changes_no_event(pieces in pieces(), by in 2..7i32) {
        let scaled = |length: i32| format!("{} mm", length * by);
        let (a, b) = (face(&text(&pieces, &millimetres, &usual)), face(&text(&pieces, &scaled, &usual)));
        prop_assert_eq!(events(&a), events(&b));
    }

    #[test]
    fn the_unit_of_a_length_changes_no_lap(pieces in pieces()) {
        let metres = |length: i32| format!("{} m", f64::from(length) / 1000.0);
        let (a, b) = (face(&text(&pieces, &millimetres, &usual)), face(&text(&pieces, &metres, &usual)));
        let laps = |face: &FaceFacts| -> Vec<(usize, usize, Coordinate)> {
            face.laps.iter().map(|lap| (lap.over, lap.under, lap.length)).collect()
        };
        prop_assert_eq!(laps(&a), laps(&b));
        prop_assert_eq!(events(&a), events(&b));
    }

    #[test]
    fn a_piece_wholly_inboard_adds_no_event_of_exposed_drops(pieces in pieces(), under in extent()) {
        // A concrete back wall under everything: a drop that stayed out before stays out now.
        let mut backed = vec![Piece {
            material: "concrete", up: under, along: (None, None), bonds: vec![], behind: None, drip: false,
        }];
        let whole = Piece { material: "concrete", up: (None, None), along: (None, None), bonds: vec![], behind: None, drip: false };
        // Both have something everywhere, so that no drop starts or ends for want of any piece.
        let plain: Vec<Piece> = pieces.iter().map(|p| Piece { bonds: vec![], behind: None, ..p.clone() }).collect();
        let with_wall: Vec<Piece> = std::iter::once(whole.clone()).chain(plain.iter().cloned()).collect();
        backed.extend(with_wall.iter().cloned());
        let names = |face: &FaceFacts, shift: usize| -> BTreeSet<(Event, [Option<usize>; 2])> {
            let exposed = face.drops.events.iter().filter(|e| e.exposed);
            exposed.map(|e| (e.event, e.pieces.map(|p| p.map(|p| p.wrapping_sub(shift))))).collect()
        };
        let (a, b) = (face(&text(&with_wall, &millimetres, &usual)), face(&text(&backed, &millimetres, &usual)));
        let added: Vec<_> = names(&b, 1).difference(&names(&a, 0)).cloned().collect();
        prop_assert!(added.is_empty(), "{:?}", added);
    }

    #[test]
    fn renaming_pieces_renames_findings_and_nothing_else(pieces in pieces()) {
        // Names of one length keep every column.
        let other = |index: usize| format!("thing-{index}");
        let (a, b) = (review_text(&text(&pieces, &millimetres, &usual)), review_text(&text(&pieces, &millimetres, &other)));
        prop_assert_eq!(bytes(&a).replace("piece-", "thing-"), bytes(&b));
    }

    #[test]
    fn random_text_never_panics(soup in "[a-z0-9 \"{};:,.#\\-/\n%é]{0,400}") {
        let report = review_text(&soup);
        prop_assert!(report.findings.len() < 1000);
        let around = format!("include \"stock.detail\"\ndetail D course joins C {{\n{soup}\n}}\n");
        review_text(&around);
    }
}
