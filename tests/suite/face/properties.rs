//! What must hold of any face, tried on random ones.

use headlap::facts::face::*;
use headlap::model::{Axis, Control, Controls, FoldKind, MaterialKind};
use proptest::prelude::*;

const STEP: Coordinate = 20 * MILLIMETRE;

fn coordinate() -> impl Strategy<Value = Coordinate> {
    (-4i64..=4).prop_map(|n| n * STEP)
}

fn extent() -> impl Strategy<Value = Extent> {
    (-4i64..=4, 1i64..=4, 0..6).prop_map(|(low, length, open)| match open {
        0 => Extent::OPEN,
        1 => Extent { low: low * STEP, high: OPEN_HIGH },
        2 => Extent { low: OPEN_LOW, high: low * STEP },
        _ => Extent { low: low * STEP, high: (low + length) * STEP },
    })
}

fn rect() -> impl Strategy<Value = Rect> {
    (extent(), extent()).prop_map(|(up, along)| Rect { up, along })
}

fn controls() -> impl Strategy<Value = Controls> {
    (0..16u8).prop_map(|bits| Control::ALL.into_iter().filter(|c| bits >> *c as u8 & 1 == 1).collect())
}

fn some_of(count: usize) -> impl Strategy<Value = Vec<usize>> {
    prop_oneof![4 => Just(Vec::new()), 2 => prop::collection::vec(0..count, 1..3)]
}

fn piece(count: usize, orders: bool) -> impl Strategy<Value = Piece> {
    let relations = if orders { (some_of(count), some_of(count)).boxed() } else { Just((vec![], vec![])).boxed() };
    let layer = prop::option::of((0..2usize, 0..2usize).prop_map(|(assembly, layer)| LayerEnd { assembly, layer }));
    let flags = (any::<bool>(), prop::bool::weighted(0.2), prop::bool::weighted(0.1), prop::bool::weighted(0.1));
    (rect(), controls(), controls(), layer, 0..13usize, flags, some_of(count), relations).prop_map(
        |(rect, holds, controls, layer, kind, (sensitive, drip, inside, flashing), bonds, (over, behind))| Piece {
            rect,
            holds,
            material: kind,
            layer,
            controls,
            kind: Some(MaterialKind::ALL[kind]),
            flashing,
            sensitive,
            drip,
            inside,
            bonds: bonds.into_iter().map(Bonding::from).collect(),
            over,
            behind,
            ..Piece::default()
        },
    )
}

/// A face of a few pieces; without `beads` no seal has a place, without `orders` nothing is put over or behind.
fn face(beads: bool, orders: bool) -> impl Strategy<Value = Face> {
    (2..9usize).prop_flat_map(move |count| {
        let axis = prop_oneof![Just(Axis::Up), Just(Axis::Along)];
        let place = if beads { prop::option::of((axis.clone(), coordinate())).boxed() } else { Just(None).boxed() };
        let seal = (0..count, 0..count, place).prop_map(|(first, second, at)| Seal { first, second, at, width: 0 });
        let cut = (0..count, rect()).prop_map(|(piece, rect)| Cut { piece, rect });
        let fasten = (0..count, rect(), 0..=count).prop_map(|(piece, rect, after)| Fasten { piece, rect, after });
        let fold =
            (axis, coordinate(), 0..7usize).prop_map(|(axis, at, kind)| Fold { axis, at, kind: FoldKind::ALL[kind] });
        let pieces = prop::collection::vec(piece(count, orders), count);
        let few = (
            prop::collection::vec(cut, 0..3),
            prop::collection::vec(seal, 0..3),
            prop::collection::vec(fasten, 0..2),
            prop::collection::vec(fold, 0..2),
        );
        let joins = prop::collection::vec(controls(), 0..=2);
        (pieces, few, prop::option::weighted(0.3, coordinate()), joins).prop_map(
            |(pieces, (cuts, seals, fasten, folds), sheltered, joins)| Face {
                pieces,
                cuts,
                seals,
                fasten,
                folds,
                sheltered: sheltered.map(|low| Extent { low, high: OPEN_HIGH }).into_iter().collect(),
                joins: joins.into_iter().map(Joined::from).collect(),
                ..crate::face::build::empty()
            },
        )
    })
}

type Reported = (Event, [Option<usize>; 2], Vec<End>, bool);

fn events(facts: &FaceFacts) -> Vec<Reported> {
    let ends = |e: &DropEvent| e.ends.iter().map(|e| e.end).collect();
    facts.drops.events.iter().map(|e| (e.event, e.pieces, ends(e), e.exposed)).collect()
}

fn mirrored(extent: Extent) -> Extent {
    let turn = |at: Coordinate| match at {
        OPEN_LOW => OPEN_HIGH,
        OPEN_HIGH => OPEN_LOW,
        _ => -at,
    };
    Extent { low: turn(extent.high), high: turn(extent.low) }
}

/// Changes every place of a face on one axis.
fn moved(face: &Face, axis: Axis, extent: impl Fn(Extent) -> Extent) -> Face {
    let mut face = face.clone();
    let rect = |rect: &mut Rect| match axis {
        Axis::Up => rect.up = extent(rect.up),
        Axis::Along => rect.along = extent(rect.along),
    };
    let point = |at: Coordinate| extent(Extent { low: at, high: at }).low;
    face.pieces.iter_mut().for_each(|p| rect(&mut p.rect));
    face.cuts.iter_mut().for_each(|c| rect(&mut c.rect));
    face.fasten.iter_mut().for_each(|f| rect(&mut f.rect));
    face.folds.iter_mut().filter(|f| f.axis == axis).for_each(|f| f.at = point(f.at));
    face.seals.iter_mut().filter_map(|s| s.at.as_mut()).filter(|a| a.0 == axis).for_each(|a| a.1 = point(a.1));
    if axis == Axis::Up {
        face.sheltered.iter_mut().for_each(|band| *band = extent(*band));
    }
    face
}

fn scaled(extent: Extent, by: Coordinate) -> Extent {
    let scale = |at: Coordinate| if at == OPEN_LOW || at == OPEN_HIGH { at } else { at * by };
    Extent { low: scale(extent.low), high: scale(extent.high) }
}

/// A face with a piece put in before all others.
fn with_inmost(face: &Face, rect: Rect, sensitive: bool) -> Face {
    let mut face = face.clone();
    face.pieces.insert(0, Piece { rect, sensitive, kind: Some(MaterialKind::Board), ..Piece::default() });
    for piece in &mut face.pieces {
        piece.renumber(|p| p + 1);
    }
    face.cuts.iter_mut().for_each(|c| c.piece += 1);
    face.seals.iter_mut().for_each(|s| (s.first, s.second) = (s.first + 1, s.second + 1));
    face.fasten.iter_mut().for_each(|f| (f.piece, f.after) = (f.piece + 1, f.after + 1));
    face
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, max_global_rejects: 20_000, failure_persistence: None, ..ProptestConfig::default() })]

    /// A point of the face is covered by exactly the pieces whose rectangles, less their cuts, hold it.
    #[test]
    fn stacks_are_what_covers_the_place(face in face(true, true), up in -5i64..5, along in -5i64..5) {
        let (up, along) = (up * STEP + 1, along * STEP + 1);
        let holds = |r: &Rect| r.up.low < up && up < r.up.high && r.along.low < along && along < r.along.high;
        let cut = |i: usize| face.cuts.iter().any(|c| c.piece == i && holds(&c.rect));
        let covers = |i: usize| holds(&face.pieces[i].rect) && !cut(i);
        let expected: Vec<usize> = (0..face.pieces.len()).filter(|&i| covers(i)).collect();
        let facts = derive(&face).unwrap();
        let row = (0..facts.cells.rows()).find(|&r| up < facts.cells.row(r).high).unwrap();
        let column = (0..facts.cells.columns()).find(|&c| along < facts.cells.column(c).high).unwrap();
        let mut found: Vec<usize> = facts.cells.whole(column, row).iter().map(|&p| p as usize).collect();
        let outer = facts.cells.stack(column, row);
        prop_assert!(outer.iter().all(|&p| !face.pieces[p as usize].inside));
        prop_assert!(found[..found.len() - outer.len()].iter().all(|&p| face.pieces[p].inside));
        found.sort();
        prop_assert_eq!(found, expected);
    }

    /// What every answer has in common, whatever the face.
    #[test]
    fn answers_make_sense(face in face(true, true)) {
        let facts = derive(&face).unwrap();
        for event in &facts.drops.events {
            prop_assert!(!event.ends.is_empty());
            prop_assert!(event.ends.windows(2).all(|w| w[0].end < w[1].end));
            for end in &event.ends {
                let trail = facts.drops.trail(end);
                prop_assert!(!trail.is_empty());
                prop_assert!(trail.windows(2).all(|w| w[1].up <= w[0].up || matches!(w[1].kind, StepKind::RunsOut | StepKind::Overtops)));
            }
        }
        for lap in &facts.laps {
            prop_assert!(lap.length > 0 && lap.over != lap.under);
            prop_assert!(lap.bridged.is_none_or(|b| b != lap.over && b != lap.under));
        }
        for t in &facts.transitions {
            prop_assert!(!t.continuous || t.nearest.is_none());
            prop_assert!(t.continuous || t.shown.contains(&false) || t.nearest.is_some());
        }
        prop_assert!(facts.bonds.iter().all(|b| b.contact || b.width.is_none()));
    }

    #[test]
    fn left_and_right_make_no_difference(face in face(true, true)) {
        let (a, b) = (derive(&face).unwrap(), derive(&moved(&face, Axis::Along, mirrored)).unwrap());
        prop_assert_eq!(events(&a), events(&b));
        prop_assert_eq!(&a.laps, &b.laps);
        prop_assert_eq!(&a.transitions, &b.transitions);
        prop_assert_eq!(&a.bonds, &b.bonds);
        prop_assert_eq!(&a.seals, &b.seals);
        prop_assert_eq!(&a.fastenings, &b.fastenings);
        prop_assert_eq!(&a.turns, &b.turns);
        prop_assert_eq!(&a.tucks, &b.tucks);
        prop_assert_eq!(&a.uncovered, &b.uncovered);
        prop_assert_eq!(&a.contacts, &b.contacts);
        let edges = |facts: &FaceFacts, swap: bool| {
            let side = |side| match side {
                Side::Left if swap => Side::Right,
                Side::Right if swap => Side::Left,
                other => other,
            };
            let mut edges: Vec<_> = facts.edges.iter().map(|e| (e.piece, side(e.side), e.free, e.sealed)).collect();
            edges.sort();
            edges
        };
        prop_assert_eq!(edges(&a, false), edges(&b, true));
        let circles = |facts: &FaceFacts| -> Vec<_> {
            facts.impossible.iter().map(|s| (s.pieces.clone(), s.pair, s.why)).collect()
        };
        prop_assert_eq!(circles(&a), circles(&b));
    }

    #[test]
    fn size_makes_no_difference(face in face(false, true), by in 2i64..1000) {
        let larger = [Axis::Up, Axis::Along].into_iter().fold(face.clone(), |f, axis| moved(&f, axis, |e| scaled(e, by)));
        let (a, b) = (derive(&face).unwrap(), derive(&larger).unwrap());
        prop_assert_eq!(events(&a), events(&b));
        let larger = |l: Lap| Lap { length: l.length * by, foot: l.foot.map(|foot| foot * by), ..l };
        let times: Vec<Lap> = a.laps.iter().copied().map(larger).collect();
        prop_assert_eq!(&times, &b.laps);
    }

    /// A drop in the open does not reach what lies inboard of everything, where all of it keeps water out.
    #[test]
    fn what_lies_inmost_adds_no_event_in_the_open(mut face in face(true, false), rect in rect(), sensitive: bool) {
        for piece in &mut face.pieces {
            piece.holds = piece.holds.with(Control::Water);
            piece.layer = None;
        }
        let before = derive(&face).unwrap();
        let cells = (0..before.cells.columns()).flat_map(|c| (0..before.cells.rows()).map(move |r| (c, r)));
        let mut under = cells.filter(|&(c, r)| before.cells.rect(c, r).overlaps(rect));
        prop_assume!(under.all(|(c, r)| !before.cells.stack(c, r).is_empty()));
        let after = derive(&with_inmost(&face, rect, sensitive)).unwrap();
        let open = |facts: &FaceFacts, shift: usize| -> Vec<_> {
            let quiet = |e: &&DropEvent| e.exposed && !matches!(e.event, Event::Drains | Event::Held);
            facts.drops.events.iter().filter(quiet).map(|e| (e.event, e.pieces.map(|p| p.map(|p| p + shift)))).collect()
        };
        prop_assert_eq!(open(&before, 1), open(&after, 0));
    }

    /// Lists that have no order have none in the result either.
    #[test]
    fn the_order_of_seals_and_cuts_makes_no_difference(face in face(true, true)) {
        let mut other = face.clone();
        other.seals.reverse();
        other.seals.iter_mut().for_each(|s| std::mem::swap(&mut s.first, &mut s.second));
        other.cuts.reverse();
        let (a, b) = (derive(&face).unwrap(), derive(&other).unwrap());
        prop_assert_eq!(events(&a), events(&b));
        prop_assert_eq!(&a.laps, &b.laps);
        prop_assert_eq!(&a.edges, &b.edges);
        prop_assert_eq!(&a.transitions, &b.transitions);
    }

    /// An edge that cuts through everything without changing anything changes nothing.
    #[test]
    fn a_line_across_the_face_makes_no_difference(face in face(true, true), at in coordinate(), inside: bool) {
        let mut other = face.clone();
        // A piece that a cut takes away leaves only its edges behind.
        let high = at + STEP / 2;
        let rect = Rect { up: Extent { low: at, high }, along: Extent { low: at, high } };
        other.cuts.push(Cut { piece: other.pieces.len(), rect });
        other.pieces.push(Piece { rect, inside, ..Piece::default() });
        let (a, b) = (derive(&face).unwrap(), derive(&other).unwrap());
        prop_assert_eq!(events(&a), events(&b));
        prop_assert_eq!(&a.laps, &b.laps);
        prop_assert_eq!(&a.bonds, &b.bonds);
        prop_assert_eq!(&a.turns, &b.turns);
        prop_assert_eq!(&a.tucks, &b.tucks);
        prop_assert_eq!(&a.edges, &b.edges);
        prop_assert_eq!(&a.transitions, &b.transitions);
    }

    /// Two pieces that have no place in common may be installed in either order.
    #[test]
    fn pieces_apart_may_trade_places(face in face(true, true), first in 0..8usize) {
        let first = first % (face.pieces.len() - 1);
        let second = first + 1;
        prop_assume!(!face.pieces[first].rect.overlaps(face.pieces[second].rect));
        let trade = |p: usize| if p == first { second } else if p == second { first } else { p };
        let mut other = face.clone();
        other.pieces.swap(first, second);
        for piece in &mut other.pieces {
            piece.renumber(trade);
        }
        other.cuts.iter_mut().for_each(|c| c.piece = trade(c.piece));
        other.seals.iter_mut().for_each(|s| (s.first, s.second) = (trade(s.first), trade(s.second)));
        let (a, b) = (derive(&face).unwrap(), derive(&other).unwrap());
        let mut reported: Vec<Reported> =
            events(&a).into_iter().map(|(e, pieces, ends, open)| (e, pieces.map(|p| p.map(trade)), ends, open)).collect();
        reported.sort();
        prop_assert_eq!(reported, events(&b));
        let lap = |l: Lap| (trade(l.over), trade(l.under), l.run, l.shingled, l.length, l.sealed, l.contact);
        let mut here: Vec<_> = a.laps.iter().copied().map(lap).collect();
        here.sort();
        let there: Vec<_> = b.laps.iter().copied().map(|l| (l.over, l.under, l.run, l.shingled, l.length, l.sealed, l.contact)).collect();
        prop_assert_eq!(here, there);
    }
}

/// An index that stands for no piece is passed over, the first of them as well as any other.
#[test]
fn unknown_indices_are_passed_over() {
    for wild in [1, 77] {
        let piece =
            Piece { bonds: vec![wild.into(), 0.into()], over: vec![wild, 0], behind: vec![wild], ..Piece::default() };
        let seal = |first, second| Seal { first, second, at: None, width: 0 };
        let face = Face {
            pieces: vec![piece],
            cuts: vec![Cut { piece: wild, rect: Rect::default() }],
            seals: vec![seal(0, wild), seal(wild, 0), seal(0, 0)],
            fasten: vec![Fasten { piece: wild, rect: Rect::default(), after: wild }],
            joins: vec![Joined::default(); 3],
            ..crate::face::build::empty()
        };
        let facts = derive(&face).unwrap();
        assert_eq!(facts.seals.iter().map(|s| s.touches).collect::<Vec<_>>(), [false; 3]);
        assert!(facts.bonds.is_empty());
    }
    assert!(derive(&Face::default()).unwrap().drops.events.is_empty());
}
