//! What a third architect marked: a drawing says no more than the text and its facts, and no less.

use std::sync::LazyLock;

use headlap::output::drawing::{self, Area, Ink, Point, Role, SectionLine, Shape, Subject};
use headlap::review::Run;

use crate::drawing::{folder, water_of};
use crate::drawn_as_built::{section, shapes};
use crate::drawn_at_folds::{Drawn, close, drawn, lines, room};
use crate::drawn_to_sign::words;

const DETAILS: &str = "include \"stock.detail\"
assembly W wall { outside; layer fiber-cement 8 mm; layer vented-gap 20 mm; layer wrap-open controls water, air; layer plywood 12 mm; inside }
assembly B floor { slope 2 %; outside; layer liquid-membrane controls water; layer concrete 200 mm; inside }
detail LEDGER ledger joins W {
  piece deck plywood of W
  piece low wrap-open of W up to 150 mm
  piece backer butyl-flashing up -350 mm to 100 mm bonds low rolled
  piece ledger treated-wood up -250 mm to 0 mm
  piece cap stainless-flashing as head-flashing up -40 mm to 125 mm with drip
  piece high wrap-open of W up from 25 mm
  seal high to low with butyl-bead up 140 mm
  piece siding-low fiber-cement of W up to -275 mm
  piece siding-high fiber-cement of W up from 75 mm
}
detail BALCONY balcony joins B to W {
  fold up 0 mm base
  piece slab concrete of B up to 0 mm
  piece deck plywood of W up from 0 mm
  piece coat liquid-membrane of B up to 200 mm bonds slab, deck
  piece kick xps up 0 mm to 150 mm
  piece apron stainless-flashing as through-wall-flashing up 60 mm to 220 mm with drip
  piece wrap wrap-open of W up from 170 mm
  piece siding fiber-cement of W up from 180 mm
}
";

fn blue_of_elevation(run: &Run, name: &str) -> Vec<Vec<Point>> {
    let facts = run.checked[0].facts.details.iter().find(|f| &*f.detail.name == name).expect("the detail");
    let scene = drawing::elevation(&Subject::new(facts, &[]));
    let mut found = Vec::new();
    for shape in scene.groups(Role::Drop).into_iter().flatten() {
        if let Shape::Path { runs, pen: Some(pen), closed: false, .. } = shape
            && [Ink::Water, Ink::Light].contains(&pen.ink)
        {
            found.extend(runs.iter().filter(|run| run.len() == 2 || run[0].y != run[run.len() - 1].y).cloned());
        }
    }
    found
}

/// Where rain has dripped off the wall, no second drop comes out of nothing behind what covers the wall below.
#[test]
fn water_does_not_begin_anew_behind_what_lies_below_a_drip() {
    let run = folder(DETAILS, "begins");
    let water = water_of(&run, "LEDGER");
    let ledger = room(&section(&run, "LEDGER"), "ledger");
    let low: Vec<_> = water.iter().filter(|way| way[0].y > ledger.top + 5.0).collect();
    assert!(!water.is_empty() && low.is_empty(), "behind the ledger: {low:?}");
    let ways = blue_of_elevation(&run, "LEDGER");
    let facts = run.checked[0].facts.details.iter().find(|f| &*f.detail.name == "LEDGER").expect("the detail");
    assert!(facts.face.drops.events.iter().all(|event| event.ends.len() == 1), "the facts know one drop");
    assert_eq!(ways.iter().filter(|way| way.len() > 1).count(), 1, "{ways:?}");
}

/// Below a drip water is drawn again where rain falls on the open face of what stands out, from there on.
#[test]
fn rain_on_what_stands_out_below_a_drip_is_drawn_in_the_open() {
    let run = folder(DETAILS, "stands-out");
    let drawn = section(&run, "BALCONY");
    let kick = room(&drawn, "kick");
    let water = water_of(&run, "BALCONY");
    let on_slab: Vec<_> = water.iter().filter(|way| way[0].y > kick.bottom - 3.0).collect();
    assert_eq!(on_slab.len(), 1, "{water:?}");
    assert!(on_slab[0].iter().all(|p| p.x > kick.right - 0.1), "{:?}, the kick ends at {}", on_slab[0], kick.right);
    let behind =
        |way: &&Vec<Point>| way.iter().any(|p| p.x < kick.right - 1.0 && kick.top + 2.0 < p.y && p.y < kick.bottom);
    assert!(!water.iter().any(|way| behind(&way)), "behind the kick: {water:?}");
}

const BUILT: &str = "include \"stock.detail\"
material post-block frame \"Mounting block\" { thickness 70 mm; conductivity 0.08 W/m.K; surface wood }
material frame-unit unit \"Window, frame without flange\" { holds water, air; surface metal }
material lime-brick mass \"Solid brick\" { holds water, air; thickness 240 mm; surface masonry }
assembly W wall { outside; layer fiber-cement 8 mm; layer vented-gap 20 mm; layer wrap-open controls water; layer plywood 12 mm controls air; inside }
assembly C wall { outside; layer stucco 60 mm controls water; layer concrete 150 mm controls air; inside }
assembly S floor { slope level; outside; layer liquid-membrane controls water, air; layer concrete 250 mm; inside }
assembly R roof { slope 2 %; outside; layer modified-bitumen controls water; layer polyurethane-board 120 mm controls thermal; layer waterproofing-sheet controls air; layer reinforced-concrete 200 mm; inside }
assembly E existing { outside; layer lime-brick 240 mm controls water, air; inside }
assembly O opening { outside; layer frame-unit controls water, air; inside }
assembly T floor { slope 2 %; outside; layer brick-veneer 12 mm; layer liquid-membrane controls water; layer concrete 50 mm; inside }
assembly U wall { outside; layer brick-veneer 12 mm; layer liquid-membrane controls water; layer cement-board 12 mm; inside }
detail BLOCK threshold joins R to O {
  fold up 0 mm base
  piece slab reinforced-concrete of R up to 0 mm
  piece block post-block up 0 mm to 170 mm
  seal block to slab with silicone-sealant up 0 mm
  piece vapor waterproofing-sheet of R up to 150 mm bonds slab, block rolled primed
  piece foam polyurethane-board of R up to 0 mm
  piece door frame-unit of O up from 180 mm
  piece tape acrylic-tape up 120 mm to 220 mm bonds block, door rolled inside
  piece ply modified-bitumen of R up to 150 mm bonds foam, block
}
detail FLOOR balcony joins S to W {
  fold up 0 mm base
  piece slab concrete of S up to 0 mm
  piece board plywood of W up from 0 mm
  piece coat liquid-membrane of S up to 200 mm bonds slab, board
  piece wrap wrap-open of W up from 150 mm
}
detail SOFFIT soffit joins W to S {
  fold up 0 mm inside-corner
  fold up 600 mm eave
  slope level up 0 mm to 600 mm
  piece low plywood of W up to 0 mm
  piece slab concrete of S up 0 mm to 850 mm
  piece high plywood of W up from 850 mm
  piece coat liquid-membrane of S up 0 mm to 700 mm
}
detail OLD wall-to-existing joins W to E {
  fold along 0 mm inside-corner
  piece brick lime-brick of E along to 0 mm
  piece panel plywood of W along from 0 mm
  piece tape acrylic-tape along -80 mm to 60 mm bonds brick, panel rolled inside
  piece wrap wrap-open of W along from 15 mm
}
detail SILL sill joins C to O {
  fold up 0 mm sill
  piece wall concrete of C up to 0 mm
  piece render stucco of C up to 0 mm
  piece window frame-unit of O up from 10 mm
  piece sheet aluminum-flashing up -60 mm to 90 mm slope 6 deg with drip
  seal sheet to window with silicone-sealant up 85 mm
}
detail BACK threshold joins C to O {
  fold up 0 mm sill
  piece wall concrete of C up to 0 mm
  piece pan sill-pan as pan up -60 mm to 120 mm slope 3 deg
  piece dam aluminum-flashing as back-dam up 110 mm to 140 mm
  seal dam to pan with silicone-sealant up 115 mm
  piece door frame-unit of O up from 10 mm
  seal door to dam with silicone-sealant up 130 mm
}
detail TILE base-of-wall joins T to U {
  fold up 0 mm base
  piece screed concrete of T up to 0 mm
  piece board cement-board of U up from 5 mm
  piece coat-f liquid-membrane of T up to 100 mm
  piece tile-f brick-veneer of T up to 0 mm
  piece tile-w brick-veneer of U up from 6 mm
  seal tile-w to tile-f with silicone-sealant up 3 mm width 6 mm depth 4 mm on backer-rod
}
detail HOLE drain joins W {
  piece board plywood of W
  cut board up 50 mm to 200 mm along 0 mm to 400 mm
  piece strip butyl-flashing up -100 mm to 300 mm along -90 mm to -20 mm bonds board rolled
  piece patch butyl-flashing up 100 mm to 250 mm along -80 mm to -30 mm bonds board rolled
}
detail PAN sill joins C to O {
  fold up 0 mm sill
  piece wall concrete of C up to 0 mm
  piece pan sill-pan as pan up -60 mm to 100 mm along 0 mm to 900 mm slope 3 deg
  piece end-l butyl-flashing as end-dam up -60 mm to 120 mm along -50 mm to 40 mm bonds pan rolled
  piece end-r butyl-flashing as end-dam up -60 mm to 120 mm along 860 mm to 950 mm bonds pan rolled
  piece window frame-unit of O up from 10 mm
}
";

fn built() -> &'static Run {
    static RUN: LazyLock<Run> = LazyLock::new(|| folder(BUILT, "built"));
    &RUN
}

/// The beads of a section, the room that each takes, mm of paper.
fn beads(detail: &str) -> Vec<Area> {
    let (scene, _) = section(built(), detail);
    let mut found = Vec::new();
    for shape in scene.groups(Role::Bead).into_iter().flatten() {
        found.extend(Area::around(std::slice::from_ref(shape)).map(|area| {
            let [left, top, right, bottom] = [area.left, area.top, area.right, area.bottom].map(|at| at / scene.scale);
            Area::new(left, top, right, bottom)
        }));
    }
    found
}

/// The room that all of a piece takes, mm of paper.
fn all_of(detail: &str, piece: &str) -> Area {
    Area::around(&shapes(&section(built(), detail), piece)).expect("something drawn")
}

/// How steep the steepest long stretch of a line is that does not stand, degrees.
fn falls(drawn: &Drawn, piece: &str) -> f64 {
    let lines = lines(drawn, piece);
    let lying = lines.iter().flat_map(|line| line.windows(2)).filter(|p| (p[1].x - p[0].x).abs() > 4.0);
    lying.map(|p| ((p[1].y - p[0].y) / (p[1].x - p[0].x)).abs().atan().to_degrees()).fold(0.0, f64::max)
}

/// A block of stated height stands on the deck, and its wall on the floor that carries it: neither runs down beside what bears it.
#[test]
fn what_ends_at_a_fold_stands_on_what_bears_it() {
    for (detail, standing) in [("BLOCK", "block"), ("FLOOR", "board")] {
        let (slab, own) = (all_of(detail, "slab"), all_of(detail, standing));
        assert!(own.bottom < slab.top + 1.5, "{detail}: it ends at {}, the slab lies at {}", own.bottom, slab.top);
        assert!(slab.left < own.left + 0.5, "{detail}: the slab goes on under it: {slab:?}, {own:?}");
    }
    let (slab, low) = (all_of("SOFFIT", "slab"), all_of("SOFFIT", "low"));
    assert!(low.top > slab.bottom - 0.5 && slab.left < low.left + 0.5, "under the slab: {slab:?}, {low:?}");
}

/// A bead between a block and the deck lies at the foot of the block.
#[test]
fn a_block_is_sealed_at_its_foot() {
    let (slab, block, beads) = (all_of("BLOCK", "slab"), all_of("BLOCK", "block"), beads("BLOCK"));
    let at_foot = |bead: &Area| close(bead.center().y, slab.top, 1.2) && close(bead.center().x, block.right, 1.2);
    assert!(beads.iter().any(at_foot), "{beads:?}, the slab {slab:?}, the block {block:?}");
}

/// A tape of the inner face has its height as what it joins has; against an old wall it lies in the corner, on the face of that.
#[test]
fn tapes_of_the_inner_face_join_what_they_bond() {
    let (tape, block, slab) = (all_of("BLOCK", "tape"), all_of("BLOCK", "block"), all_of("BLOCK", "slab"));
    assert!(tape.top < block.top && block.top < tape.bottom && tape.bottom < slab.top, "{tape:?}, the block {block:?}");
    let (tape, brick, panel) = (all_of("OLD", "tape"), all_of("OLD", "brick"), all_of("OLD", "panel"));
    let on_brick = tape.top - brick.bottom;
    assert!((-0.1..2.0).contains(&on_brick), "on the face of the old wall: {tape:?}, {brick:?}");
    assert!(tape.left > panel.right - 0.6 && tape.right < brick.right, "beyond the new wall: {tape:?}, {panel:?}");
}

/// What is stated to fall falls as it is said to, over stone and before a window.
#[test]
fn a_stated_slope_is_drawn() {
    let cap = drawn("trials/22/stone-cap", "T1");
    let sill = drawn("trials/24/e02-window-sill", "S1");
    for (drawn, piece, degrees) in [(cap, "flash", 15.0), (sill, "sheet", 5.0)] {
        let fall = falls(&drawn, piece);
        assert!(close(fall, degrees, 1.0), "{piece}: stated {degrees}, drawn {fall}");
    }
}

/// A frame is as high, and as deep, as what it is sealed to.
#[test]
fn a_frame_meets_its_seals() {
    let (frame, bead) = (all_of("SILL", "window"), beads("SILL"));
    let rail = |shape: &Shape| match shape {
        Shape::Path { runs, closed: true, fill: Some(Ink::Pale), .. } => Some(runs[0].clone()),
        _ => None,
    };
    let rails = shapes(&section(built(), "SILL"), "window").iter().filter_map(rail).flatten().collect::<Vec<Point>>();
    let top = rails.iter().map(|p| p.y).fold(f64::MAX, f64::min) - 1.2;
    assert!(bead.iter().all(|bead| bead.center().y > top), "the bead is on the frame: {bead:?}, {top}, {frame:?}");
    let (frame, beads) = (all_of("BACK", "door"), beads("BACK"));
    let at_back = |bead: &Area| bead.right > frame.left - 0.1 && bead.left < frame.left + 3.0;
    assert!(beads.iter().any(at_back), "the frame reaches its bead: {frame:?}, {beads:?}");
}

/// Sealant between the tiles of a floor and of a wall lies in their corner.
#[test]
fn a_joint_in_a_corner_of_coverings_lies_in_the_corner() {
    let (floor, wall, beads) = (all_of("TILE", "tile-f"), all_of("TILE", "tile-w"), beads("TILE"));
    let bead = beads.first().expect("a bead");
    assert!(close(bead.left, wall.right, 0.3) && bead.bottom < floor.top + 1.0, "{bead:?}, {floor:?}, {wall:?}");
}

/// A section goes through what its detail is about: the hole in a wall, the pan of a sill.
#[test]
fn the_section_goes_through_the_hole_and_the_pan() {
    let at = |name: &str| {
        let facts = built().checked[0].facts.details.iter().find(|f| &*f.detail.name == name).expect("the detail");
        let line = SectionLine::principal(&Subject::new(facts, &[])).expect("a line");
        [line.at.low, line.at.high].map(|at| at / 1_000_000)
    };
    assert_eq!(at("HOLE"), [0, 400]);
    assert_eq!(at("PAN"), [40, 860]);
}

/// Beside an opening neither its sill nor its head is marked.
#[test]
fn no_sill_is_marked_on_a_solid_wall() {
    let run = crate::drawing::run_folder("tests/trials/22/window.detail");
    let facts = run.checked.iter().flat_map(|c| &c.facts.details).find(|f| &*f.detail.name == "O2").expect("O2");
    let subject = Subject::new(facts, &[]);
    let marked = |mm: i64| {
        let line = SectionLine::through(&subject, mm * 1_000_000).expect("a line");
        let scene = drawing::section(&subject, &line);
        words(&scene).iter().filter(|(words, _)| words.starts_with("sill") || words.starts_with("head")).count()
    };
    assert_eq!([marked(-120), marked(400)], [0, 2]);
}
