//! What must not change a finding, on random details written in the language.

use std::collections::BTreeSet;
use std::sync::Arc;

use headlap::facts::DetailFacts;
use headlap::facts::face::{Coordinate, Event, FaceFacts};
use headlap::model::SourceMap;
use headlap::output::json;
use headlap::report::Report;
use headlap::review::Reviewer;
use headlap::text::{FileId, Source};
use proptest::prelude::*;
use proptest::sample::{Index, select};

use crate::fuzz::targets::face::MATERIALS;
use crate::review::{TODAY, pack, review_text, review_texts};

/// A piece of a random detail; ends on a grid of 25 mm, `None` open.
#[derive(Clone, Debug)]
struct Piece {
    material: &'static str,
    up: (Option<i32>, Option<i32>),
    along: (Option<i32>, Option<i32>),
    bonds: Vec<Index>,
    behind: Option<Index>,
    over: Option<Index>,
    drip: bool,
}

/// What else a detail holds: beads, holes, fields of caps, and places where the face turns.
#[derive(Clone, Debug)]
enum More {
    Bead(Index, Index, Option<(bool, i32)>),
    Cut(Index, Ends, Ends),
    Caps(Index, Ends),
    Fold(bool, i32),
}

/// Two ends on the grid of 25 mm.
type Ends = (Option<i32>, Option<i32>);

#[derive(Clone, Debug)]
struct Scene {
    pieces: Vec<Piece>,
    more: Vec<More>,
}

fn extent() -> impl Strategy<Value = Ends> {
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
    let other = || prop::option::weighted(0.1, any::<Index>());
    let refs = (prop::collection::vec(any::<Index>(), 0..2), other(), other());
    (select(&MATERIALS[..]), extent(), extent(), refs, prop::bool::weighted(0.1)).prop_map(
        |(material, up, along, (bonds, behind, over), drip)| Piece { material, up, along, bonds, behind, over, drip },
    )
}

fn more() -> impl Strategy<Value = More> {
    let at = prop::option::of((any::<bool>(), (-8..8i32).prop_map(|at| 25 * at)));
    prop_oneof![
        (any::<Index>(), any::<Index>(), at).prop_map(|(a, b, at)| More::Bead(a, b, at)),
        (any::<Index>(), extent(), extent()).prop_map(|(piece, up, along)| More::Cut(piece, up, along)),
        (any::<Index>(), extent()).prop_map(|(piece, up)| More::Caps(piece, up)),
        (any::<bool>(), -8..8i32).prop_map(|(up, at)| More::Fold(up, 25 * at)),
    ]
}

fn scene() -> impl Strategy<Value = Scene> {
    (pieces(), prop::collection::vec(more(), 0..4)).prop_map(|(pieces, more)| Scene { pieces, more })
}

fn pieces() -> impl Strategy<Value = Vec<Piece>> {
    prop::collection::vec(piece(), 1..9)
}

/// The detail as text. `length` writes a number of millimetres, `name` the name of a piece.
fn text(scene: &Scene, length: &dyn Fn(i32) -> String, name: &dyn Fn(usize) -> String) -> String {
    let mut text = String::from(
        "include \"stock.detail\"\nassembly C existing { outside; layer concrete 200 mm; inside }\ndetail D course joins C {\n",
    );
    let range = |axis: &str, ends: Ends| match ends {
        (Some(low), Some(high)) => format!(" {axis} {} to {}", length(low), length(high)),
        (Some(low), None) => format!(" {axis} from {}", length(low)),
        (None, Some(high)) => format!(" {axis} to {}", length(high)),
        (None, None) => String::new(),
    };
    let pieces = &scene.pieces;
    for (index, piece) in pieces.iter().enumerate() {
        text.push_str(&format!("  piece {} {}", name(index), piece.material));
        text.push_str(&range("up", piece.up));
        text.push_str(&range("along", piece.along));
        let other = |at: &Index| Some(at.index(pieces.len())).filter(|other| *other != index);
        let bonds: BTreeSet<usize> = piece.bonds.iter().filter_map(other).collect();
        if !bonds.is_empty() {
            let names: Vec<String> = bonds.into_iter().map(name).collect();
            text.push_str(&format!(" bonds {}", names.join(", ")));
        }
        let behind = piece.behind.as_ref().and_then(other);
        if let Some(behind) = behind {
            text.push_str(&format!(" behind {}", name(behind)));
        }
        if let Some(over) = piece.over.as_ref().and_then(other).filter(|over| Some(*over) != behind) {
            text.push_str(&format!(" over {}", name(over)));
        }
        if piece.drip {
            text.push_str(" with drip");
        }
        text.push('\n');
    }
    let of = |at: &Index| name(at.index(pieces.len()));
    for more in &scene.more {
        let line = match more {
            More::Bead(a, b, _) if of(a) == of(b) => continue,
            More::Bead(a, b, at) => {
                let at = at.map_or(String::new(), |(up, at)| format!(" {} {}", axis(up), length(at)));
                format!("seal {} to {} with butyl-bead{at}", of(a), of(b))
            }
            More::Cut(_, (None, None), (None, None)) => continue,
            More::Cut(piece, up, along) => format!("cut {}{}{}", of(piece), range("up", *up), range("along", *along)),
            More::Caps(piece, up) => {
                format!("fasten {} with cap-staple every {}{}", of(piece), length(400), range("up", *up))
            }
            More::Fold(up, at) => {
                format!("fold {} {} {}", axis(*up), length(*at), if *up { "sill" } else { "outside-corner" })
            }
        };
        text.push_str(&format!("  {line}\n"));
    }
    text.push_str("}\n");
    text
}

fn axis(up: bool) -> &'static str {
    if up { "up" } else { "along" }
}

fn mirrored(scene: &Scene) -> Scene {
    let turned = |(low, high): Ends| (high.map(|x| -x), low.map(|x| -x));
    let more = |more: &More| match more.clone() {
        More::Bead(a, b, Some((false, at))) => More::Bead(a, b, Some((false, -at))),
        More::Cut(piece, up, along) => More::Cut(piece, up, turned(along)),
        More::Fold(false, at) => More::Fold(false, -at),
        same => same,
    };
    let pieces = scene.pieces.iter().map(|p| Piece { along: turned(p.along), ..p.clone() }).collect();
    Scene { pieces, more: scene.more.iter().map(more).collect() }
}

fn millimetres(length: i32) -> String {
    format!("{length} mm")
}

fn usual(index: usize) -> String {
    format!("piece-{index}")
}

fn face(text: &str) -> FaceFacts {
    let fetch = |_: &str| Err("nothing is included".to_owned());
    let source_map = SourceMap::new(&fetch, &pack().words);
    let checked =
        Reviewer::new(&source_map, pack(), TODAY).check(Arc::new(Source::new(FileId::detail(0), "a.detail", text)));
    let details: Vec<DetailFacts> = checked.facts.details;
    details.into_iter().next().expect("one detail").face.as_ref().clone()
}

/// An event with its ends, without its place.
type Reported = (Event, [Option<usize>; 2], Vec<&'static str>);

fn events(face: &FaceFacts) -> BTreeSet<Reported> {
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
    fn the_order_of_files_and_the_number_of_threads_do_not_show(details in prop::collection::vec(scene(), 2..5)) {
        let texts: Vec<(String, String)> = details
            .iter()
            .enumerate()
            .map(|(n, scene)| (format!("d{n}.detail"), text(scene, &millimetres, &usual)))
            .collect();
        let files: Vec<(&str, &str)> = texts.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        let reversed: Vec<(&str, &str)> = files.iter().rev().copied().collect();
        let pool = |threads| rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
        let first = bytes(&pool(1).install(|| review_texts(&files)));
        prop_assert_eq!(&first, &bytes(&pool(4).install(|| review_texts(&reversed))));
        prop_assert_eq!(&first, &bytes(&pool(4).install(|| review_texts(&files))));
    }

    #[test]
    fn mirroring_along_changes_no_event(scene in scene()) {
        let (a, b) = (face(&text(&scene, &millimetres, &usual)), face(&text(&mirrored(&scene), &millimetres, &usual)));
        prop_assert_eq!(events(&a), events(&b));
    }

    /// Placed beads reach 50 mm to both sides, whatever the scale, so they are left out.
    #[test]
    fn scaling_all_lengths_changes_no_event(mut scene in scene(), by in 2..7i32) {
        scene.more.retain(|more| !matches!(more, More::Bead(_, _, Some(_))));
        let scaled = |length: i32| format!("{} mm", length * by);
        let (a, b) = (face(&text(&scene, &millimetres, &usual)), face(&text(&scene, &scaled, &usual)));
        prop_assert_eq!(events(&a), events(&b));
    }

    /// 25.4 to the inch: the grid stays a grid, and each length is the same in millimetres and in inches.
    #[test]
    fn the_unit_of_a_length_changes_no_lap_and_no_finding(scene in scene()) {
        let in_inches = |length: i32| format!("{} in", length / 25);
        let same = |length: i32| format!("{:.1} mm", f64::from(length / 25) * 25.4);
        let (a, b) = (text(&scene, &in_inches, &usual), text(&scene, &same, &usual));
        let rules = |text: &str| -> Vec<(String, Option<String>, Vec<String>)> {
            let reported = review_text(text).findings.into_iter();
            let mut rules: Vec<_> = reported
                .map(|f| {
                    let subject = f.subject.iter().map(|name| name.to_string()).collect();
                    (f.rule.to_string(), f.item.as_ref().map(|item| item.to_string()), subject)
                })
                .collect();
            rules.sort();
            rules
        };
        prop_assert_eq!(rules(&a), rules(&b));
        let (a, b) = (face(&a), face(&b));
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
            material: "concrete", up: under, along: (None, None), bonds: vec![], behind: None, over: None, drip: false,
        }];
        let whole = Piece { material: "concrete", up: (None, None), along: (None, None), bonds: vec![], behind: None, over: None, drip: false };
        // Both have something everywhere, so that no drop starts or ends for want of any piece.
        let plain: Vec<Piece> = pieces.iter().map(|p| Piece { bonds: vec![], behind: None, over: None, ..p.clone() }).collect();
        let with_wall: Vec<Piece> = std::iter::once(whole.clone()).chain(plain.iter().cloned()).collect();
        backed.extend(with_wall.iter().cloned());
        let names = |face: &FaceFacts, shift: usize| -> BTreeSet<(Event, [Option<usize>; 2])> {
            let exposed = face.drops.events.iter().filter(|e| e.exposed);
            exposed.map(|e| (e.event, e.pieces.map(|p| p.map(|p| p.wrapping_sub(shift))))).collect()
        };
        let alone = |pieces| Scene { pieces, more: Vec::new() };
        let (a, b) = (alone(with_wall), alone(backed));
        let (a, b) = (face(&text(&a, &millimetres, &usual)), face(&text(&b, &millimetres, &usual)));
        let added: Vec<_> = names(&b, 1).difference(&names(&a, 0)).cloned().collect();
        prop_assert!(added.is_empty(), "{:?}", added);
    }

    #[test]
    fn renaming_pieces_renames_findings_and_nothing_else(scene in scene()) {
        // Names of one length keep every column.
        let other = |index: usize| format!("thing-{index}");
        let (a, b) = (review_text(&text(&scene, &millimetres, &usual)), review_text(&text(&scene, &millimetres, &other)));
        let unread = a.findings.iter().find(|f| ["syntax", "unknown-name", "wrong-unit"].contains(&&*f.rule));
        prop_assert!(unread.is_none(), "random details are to be read: {:?}", unread);
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
