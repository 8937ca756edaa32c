//! Each piece stands where it does in the building: in one plane above and below, under what it carries, on the side that it faces.

use std::sync::LazyLock;

use headlap::output::drawing::{self, Changed, Ink, Point, Role, Scene, Shape};
use headlap::review::Run;

use crate::drawing::folder;
use crate::drawn_as_built::{filled, section, shapes, span};

const DETAILS: &str = "include \"stock.detail\"
material steel-angle frame \"Galvanized steel angle\" { conductivity 50 W/m.K; surface metal }
material break-element board \"Insulated balcony connector\" { holds thermal; thickness 120 mm; conductivity 0.09 W/m.K; surface foam }
assembly V wall { outside; layer brick-veneer 90 mm; layer drained-gap 50 mm; layer mineral-wool-board 80 mm; layer wrap-adhered controls water, air; layer glass-mat-sheathing 13 mm; inside }
assembly S floor { outside; layer metal-panel; layer vented-gap 25 mm; layer mineral-wool-board 160 mm; layer liquid-membrane controls water, air; layer concrete 250 mm; inside }
assembly C wall { outside; layer metal-panel 1 mm; layer vented-gap 25 mm; layer xps 76 mm controls thermal; layer wrap-adhered controls water, air; layer glass-mat-sheathing 16 mm; inside }
assembly F foundation { outside; layer concrete 200 mm controls water, air; inside }
assembly O opening { outside; layer door-unit controls water, air; inside }
assembly T roof { slope 2 %; outside; layer modified-bitumen controls water; layer polyurethane-board 120 mm; layer waterproofing-sheet controls air; layer reinforced-concrete 200 mm; inside }
detail ANGLE shelf-angle joins V {
  piece board glass-mat-sheathing of V
  piece low wrap-adhered of V up to 300 mm bonds board
  piece wool-low mineral-wool-board of V up to 0 mm
  piece brick-low brick-veneer of V up to -20 mm
  piece angle steel-angle up -10 mm to 100 mm
  piece tray stainless-flashing as through-wall-flashing up -20 mm to 200 mm with drip
  piece high wrap-adhered of V up from 150 mm bonds tray, low
  piece wool-high mineral-wool-board of V up from 0 mm
  piece brick-high brick-veneer of V up from 0 mm
}
detail OVER soffit joins V to S {
  fold up 0 mm inside-corner
  fold up 600 mm eave
  slope level up 0 mm to 600 mm
  piece board-low glass-mat-sheathing of V up to 0 mm
  piece slab concrete of S up 0 mm to 850 mm
  piece board-high glass-mat-sheathing of V up from 850 mm
  piece coat liquid-membrane of S up 0 mm to 700 mm
  piece wool mineral-wool-board of S up 0 mm to 600 mm
  piece panel metal-panel of S up 20 mm to 580 mm
}
detail SLAB threshold joins F to O {
  fold up 0 mm sill
  grade up -150 mm
  piece slab concrete of F up to 160 mm
  piece pan sill-pan as pan up -60 mm to 120 mm slope 3 deg
  piece door door-unit of O up from 10 mm
}
detail CURB threshold joins F to O {
  fold up 0 mm sill
  grade up -150 mm
  piece slab concrete of F up to 0 mm
  piece curb concrete up 0 mm to 150 mm
  piece pan sill-pan as pan up -60 mm to 120 mm slope 3 deg
  piece door door-unit of O up from 20 mm
}
detail BEHIND threshold joins T to O {
  fold up 0 mm base
  fold up 200 mm sill
  piece slab reinforced-concrete of T up to 0 mm
  piece curb concrete up 0 mm to 350 mm
  piece sheet waterproofing-sheet of T up to 330 mm bonds slab, curb rolled primed
  piece foam polyurethane-board of T up to 0 mm
  piece curb-foam polyurethane-board of T up 0 mm to 200 mm
  piece ply modified-bitumen of T up to 200 mm
  piece pan sill-pan as pan up 100 mm to 320 mm slope 3 deg
  piece door door-unit of O up from 210 mm
}
detail JOINT expansion-joint joins T {
  fold along -225 mm base
  fold along -25 mm outside-corner
  fold along 25 mm outside-corner
  fold along 225 mm base
  slope plumb along -225 mm to -25 mm
  slope plumb along 25 mm to 225 mm
  piece slab-l reinforced-concrete of T along to -25 mm
  piece slab-r reinforced-concrete of T along from 25 mm
  piece foam-l polyurethane-board of T along to -25 mm
  piece foam-r polyurethane-board of T along from 25 mm
  piece nail-l treated-wood as nailer along -225 mm to -25 mm
  piece nail-r treated-wood as nailer along 25 mm to 225 mm
  piece ply-l modified-bitumen of T along to -25 mm
  piece ply-r modified-bitumen of T along from 25 mm
}
detail BALCONY balcony joins T to V {
  fold up -900 mm eave
  fold up 0 mm base
  slope plumb up to -900 mm
  slope 2 % up -900 mm to 0 mm
  piece slab reinforced-concrete of T up -1100 mm to 0 mm
  piece ply modified-bitumen of T up -900 mm to 200 mm
  piece board glass-mat-sheathing of V up from 0 mm
}
detail STONE parapet joins V to T {
  fold up 0 mm sill
  fold up 450 mm outside-corner
  slope -3 deg up 0 mm to 450 mm
  piece block reinforced-concrete up to 450 mm
  piece coat liquid-membrane up to 0 mm
  piece glass polyurethane-board of T up from 0 mm
  piece ply modified-bitumen of T up from 380 mm bonds glass primed
  piece wool mineral-wool-board of V up to 0 mm
  piece veneer brick-veneer of V up to 0 mm
  piece stone cast-stone as coping up -50 mm to 500 mm with drip
}
detail NET base-of-wall joins F to V {
  piece slab concrete of F up to 0 mm
  piece board glass-mat-sheathing of V up from 0 mm
  piece tray stainless-flashing as through-wall-flashing up -20 mm to 150 mm with drip
  piece wrap wrap-adhered of V up from 100 mm bonds tray, board
  piece net mortar-net up 0 mm to 250 mm
  piece brick brick-veneer of V up from 0 mm
  piece vent weep-vent as weep-vent up 0 mm to 65 mm
}
detail BREAK balcony joins T to V {
  fold up -900 mm eave
  fold up 0 mm base
  slope plumb up to -900 mm
  slope 2 % up -900 mm to 0 mm
  piece slab reinforced-concrete of T up -1100 mm to 0 mm
  piece connector break-element up -120 mm to 1 mm
  piece ply modified-bitumen of T up -900 mm to 200 mm
  piece board glass-mat-sheathing of V up from 0 mm
}
detail HOLLOW expansion-joint joins T {
  fold along -400 mm inside-corner
  fold along -100 mm outside-corner
  fold along 100 mm outside-corner
  fold along 400 mm inside-corner
  piece slab-l reinforced-concrete of T along to -25 mm
  piece slab-r reinforced-concrete of T along from 25 mm
  piece foam-l polyurethane-board of T along to -25 mm
  piece foam-r polyurethane-board of T along from 25 mm
  piece wool mineral-wool along -26 mm to 26 mm
  piece ply-l modified-bitumen of T along to -40 mm
  piece ply-r modified-bitumen of T along from 40 mm
}
detail PIPE penetration joins C {
  piece board glass-mat-sheathing of C
  cut board up -50 mm to 50 mm along -50 mm to 50 mm
  piece pipe metal-pipe up -50 mm to 50 mm along -50 mm to 50 mm
  piece wrap wrap-adhered of C bonds board rolled primed
  cut wrap up -50 mm to 50 mm along -50 mm to 50 mm
  piece foam xps of C
  cut foam up -50 mm to 50 mm along -50 mm to 50 mm
  piece panel metal-panel of C
  cut panel up -56 mm to 56 mm along -56 mm to 56 mm
}
detail DAM sill joins V {
  piece wrap wrap-open up to 0 mm
  piece pan sill-pan as pan up -100 mm to 40 mm slope 1:16
  piece dam sill-pan as end-dam up -100 mm to 70 mm along to 5 mm
  piece unit window-wood up from -20 mm
}
";

static RUN: LazyLock<Run> = LazyLock::new(|| folder(DETAILS, "in-place"));

fn drawn(detail: &str) -> (Scene, Vec<String>) {
    section(&RUN, detail)
}

/// The outer corners of a solid piece: left, top, right, bottom.
fn solid(drawn: &(Scene, Vec<String>), piece: &str) -> [f64; 4] {
    let [left, right, top, bottom] = span(&filled(&shapes(drawn, piece)).concat());
    [left, top, right, bottom]
}

/// The corners of the lines of a membrane, and of what it has besides.
fn places(drawn: &(Scene, Vec<String>), piece: &str) -> Vec<Point> {
    let mut points = Vec::new();
    shapes(drawn, piece).iter_mut().for_each(|shape| shape.each_place(&mut |p| points.push(*p)));
    points
}

#[test]
fn an_angle_puts_nothing_above_it_farther_out_than_below() {
    let drawn = drawn("ANGLE");
    for [low, high] in [["wool-low", "wool-high"], ["brick-low", "brick-high"]] {
        let [below, above] = [low, high].map(|piece| solid(&drawn, piece)[2]);
        // Membranes between them are spread.
        assert!((above - below).abs() < 5.0, "{high} ends at {above}, {low} at {below}");
    }
}

#[test]
fn a_soffit_faces_down_and_the_wall_above_it_stands_farther_out() {
    let drawn = drawn("OVER");
    let [slab, wool] = ["slab", "wool"].map(|piece| solid(&drawn, piece));
    assert!(slab[3] <= wool[1] + 1e-6, "the slab {slab:?} lies over the wool {wool:?}");
    let [low, high] = ["board-low", "board-high"].map(|piece| solid(&drawn, piece));
    assert!(low[2] < high[0], "the wall below {low:?} stands farther in than that above {high:?}");
    assert!(high[3] < low[1].max(slab[3]), "and below it");
}

#[test]
fn a_body_that_goes_on_under_a_frame_ends_at_the_sill() {
    let drawn = drawn("SLAB");
    let slab = solid(&drawn, "slab");
    let [left, right, top, _] = span(&places(&drawn, "pan"));
    assert!(top < slab[1] + 2.0, "the pan lies at {top} on the slab {slab:?}");
    assert!(right - left > 100.0 / drawn.0.scale, "and reaches in over it from {right} to {left}");
    assert!(slab[2] - slab[0] > 150.0 / drawn.0.scale, "which is as deep as what lies on it");
}

#[test]
fn a_body_that_begins_at_the_sill_lies_under_the_pan() {
    let drawn = drawn("CURB");
    let [curb, slab] = ["curb", "slab"].map(|piece| solid(&drawn, piece));
    assert!(curb[2] - curb[0] > 2.0 * (curb[3] - curb[1]), "the curb {curb:?} lies");
    assert!(curb[0] > slab[0] - 1.0 && curb[3] < slab[3], "in the slab {slab:?}");
}

#[test]
fn a_membrane_behind_insulation_goes_up_behind_it_and_over_its_top() {
    let drawn = drawn("BEHIND");
    let foam = solid(&drawn, "curb-foam");
    let points = places(&drawn, "sheet");
    let within = |low: f64, at: f64, high: f64| low + 1.5 < at && at < high - 1.5;
    let crosses = |pair: &[Point]| {
        let (x, y) = ((pair[0].x + pair[1].x) / 2.0, (pair[0].y + pair[1].y) / 2.0);
        within(foam[0], x, foam[2]) && within(foam[1], y, foam[3])
    };
    assert!(!points.windows(2).any(crosses), "it goes through the foam {foam:?}: {points:?}");
}

#[test]
fn an_end_dam_is_not_what_a_sill_is_cut_through() {
    let (scene, names) = drawn("DAM");
    let dam = names.iter().position(|name| name == "dam").expect("the dam");
    assert!(scene.groups(Role::Piece(dam)).is_empty(), "the dam is not cut");
}

#[test]
fn layers_of_a_roof_lie_under_its_outside_and_those_of_a_wall_stand() {
    let facts = |name: &str| {
        let all = RUN.checked.iter().flat_map(|checked| &checked.facts.assemblies);
        all.into_iter().find(|facts| &*facts.assembly.name == name).expect("the assembly")
    };
    // The middle of its outmost layer and of its inmost.
    let ends = |name: &str| {
        let facts = facts(name);
        let scene = drawing::assembly(facts);
        [0, facts.layers.len() - 1].map(|layer| {
            let mut points = Vec::new();
            for shape in scene.groups(Role::Piece(layer)).into_iter().flatten() {
                shape.clone().each_place(&mut |p| points.push(*p));
            }
            let [left, right, top, bottom] = span(&points);
            Point::new((left + right) / 2.0, (top + bottom) / 2.0)
        })
    };
    let [outer, inner] = ends("T");
    assert!(outer.y < inner.y - 10.0 && (outer.x - inner.x).abs() < 1.0, "a roof: {outer:?} over {inner:?}");
    let [outer, inner] = ends("S");
    assert!(outer.y > inner.y + 10.0 && (outer.x - inner.x).abs() < 1.0, "a floor: {outer:?} under {inner:?}");
    let [outer, inner] = ends("V");
    assert!(outer.x > inner.x + 10.0 && (outer.y - inner.y).abs() < 1.0, "a wall: {outer:?} beside {inner:?}");
}

/// What moved is the foot of the veneer: its cloud lies there, and not around all of it.
#[test]
fn a_cloud_lies_around_the_end_that_moved() {
    let (scene, names) = drawn("ANGLE");
    let piece = names.iter().position(|name| name == "brick-high").expect("the veneer");
    let [_, _, top, bottom] = span(&places(&(scene.clone(), names), "brick-high"));
    let height = |changed: Changed| {
        let mut points = Vec::new();
        for mut cloud in drawing::clouds(&scene, &[changed]) {
            cloud.each_place(&mut |p| points.push(Point::new(p.x / scene.scale, p.y / scene.scale)));
        }
        let [_, _, high, low] = span(&points);
        [high, low]
    };
    let [high, low] = height(Changed::Piece(piece));
    assert!(high < top && bottom < low, "a cloud around all of it");
    let [high, low] = height(Changed::Ends(piece, [true, false]));
    assert!(high > (top + bottom) / 2.0 && bottom < low, "from {high} to {low} around its foot at {bottom}");
}

/// A bead that is gone joined two sheets where they lap: its cloud lies there, and not around both of them.
#[test]
fn a_cloud_around_what_joins_two_pieces_lies_where_they_lap() {
    let (scene, names) = drawn("ANGLE");
    let piece = |wanted: &str| names.iter().position(|name| name == wanted).expect("a sheet");
    let height = |changed: Changed| {
        let mut points = Vec::new();
        for mut cloud in drawing::clouds(&scene, &[changed]) {
            cloud.each_place(&mut |p| points.push(Point::new(p.x / scene.scale, p.y / scene.scale)));
        }
        let [_, _, high, low] = span(&points);
        low - high
    };
    let [high, low] = ["high", "low"].map(|name| height(Changed::Piece(piece(name))));
    let joint = height(Changed::Joint([piece("high"), piece("low")]));
    // They lap by 150 mm, and a cloud keeps a little away.
    let lap = 150.0 / scene.scale;
    assert!(lap < joint && joint < lap + 10.0 && joint < high && joint < low, "{joint} of {high} and {low}");
}

#[test]
fn roofs_lie_straight_on_both_sides_of_the_curbs_of_a_joint() {
    let drawn = drawn("JOINT");
    let [left, right] = ["slab-l", "slab-r"].map(|piece| solid(&drawn, piece));
    let scale = drawn.0.scale;
    assert!((left[1] - right[1]).abs() < 0.1 && (left[3] - right[3]).abs() < 0.1, "{left:?} beside {right:?}");
    assert!((left[3] - left[1] - 200.0 / scale).abs() < 0.5, "the slab {left:?} is as thick as it is");
    assert!((right[0] - left[2] - 50.0 / scale).abs() < 0.5, "and stops at the joint, 50 mm from {right:?}");
}

#[test]
fn the_edge_of_a_slab_is_its_own() {
    let drawn = drawn("BALCONY");
    let slab = filled(&shapes(&drawn, "slab"));
    assert_eq!(slab.len(), 1, "one body, and none around its edge");
    let [_, _, top, bottom] = span(&slab[0]);
    let fall = 0.02 * 900.0;
    assert!(bottom - top < (200.0 + fall + 5.0) / drawn.0.scale, "from {top} to {bottom}");
}

#[test]
fn a_leader_ends_before_the_words_that_it_would_go_through() {
    let mut shapes = Vec::new();
    drawn("OVER").0.shapes.iter().for_each(|shape| shape.each(&mut |shape| shapes.push(shape.clone())));
    let lines: Vec<[Point; 2]> = shapes
        .iter()
        .flat_map(|shape| match shape {
            Shape::Path { runs, closed: false, .. } => {
                runs.concat().windows(2).map(|pair| [pair[0], pair[1]]).collect()
            }
            _ => Vec::new(),
        })
        .collect();
    for (n, words) in
        shapes.iter().enumerate().filter(|(_, shape)| matches!(shape, Shape::Text { words, .. } if words == "outside"))
    {
        let room = words.room().expect("words have room");
        let white = |shape: &Shape| matches!(shape, Shape::Path { fill: Some(Ink::White), pen: None, .. });
        let struck = lines.iter().any(|[a, b]| room.meets(*a, *b));
        assert!(!struck || white(&shapes[n - 1]), "a line goes through the words at {room:?}");
    }
}

/// Where the leader of a piece points.
pub fn pointed(drawn: &(Scene, Vec<String>), piece: &str) -> Point {
    let at = drawn.1.iter().position(|name| name == piece).expect("the piece");
    let leader = drawn.0.groups(Role::Label(at)).concat();
    let Some(Shape::Path { runs, .. }) = leader.first() else { panic!("{piece} has no leader") };
    let end = runs[0].iter().min_by(|a, b| a.x.total_cmp(&b.x)).expect("its end");
    Point::new(end.x / drawn.0.scale, end.y / drawn.0.scale)
}

/// A line from the point to the right crosses the outline an odd number of times.
pub fn holds(outline: &[Point], at: Point) -> bool {
    let sides = (0..outline.len()).map(|n| (outline[n], outline[(n + 1) % outline.len()]));
    let crossed =
        |(p, q): &(Point, Point)| (p.y > at.y) != (q.y > at.y) && at.x < p.x + (at.y - p.y) / (q.y - p.y) * (q.x - p.x);
    sides.filter(crossed).count() % 2 == 1
}

#[test]
fn a_leader_points_at_its_body_and_not_below_the_break() {
    let drawn = drawn("STONE");
    for piece in ["block", "glass", "veneer"] {
        let ([left, top, right, bottom], at) = (solid(&drawn, piece), pointed(&drawn, piece));
        // It lies on the top of the block, and comes down on its roof side.
        let glass = filled(&shapes(&drawn, "glass"));
        let hidden = piece == "block" && glass.iter().any(|part| holds(part, at));
        assert!(!hidden, "it points at {at:?} on the glass {glass:?} in front of it");
        let on = left <= at.x && at.x <= right && top <= at.y && at.y <= bottom;
        assert!(on, "the leader of {piece} points at {at:?}, and it lies at {:?}", [left, top, right, bottom]);
    }
}

#[test]
fn a_leader_points_into_its_wedge() {
    let run = crate::drawing::run_folder("tests/trials/21/RW1-roof-to-wall.detail");
    let drawn = section(&run, "RW1");
    let wedge = filled(&shapes(&drawn, "cant"));
    assert!(holds(&wedge[0], pointed(&drawn, "cant")), "{:?} {wedge:?}", pointed(&drawn, "cant"));
}

#[test]
fn a_leader_keeps_off_the_edge_of_what_passes_through() {
    let drawn = drawn("PIPE");
    let ([_, top, _, bottom], at) = (solid_of(&drawn, "pipe"), pointed(&drawn, "foam"));
    assert!(at.y < top - 1.0 || bottom + 1.0 < at.y, "it points at {at:?}, the pipe reaches from {top} to {bottom}");
}

/// The outer corners of all that a piece has on the section.
fn solid_of(drawn: &(Scene, Vec<String>), piece: &str) -> [f64; 4] {
    let [left, right, top, bottom] = span(&places(drawn, piece));
    [left, top, right, bottom]
}

#[test]
fn a_net_stands_straight_behind_its_bricks() {
    let drawn = drawn("NET");
    let bodies = filled(&shapes(&drawn, "net"));
    let [left, right, ..] = span(&bodies.concat());
    let straight = |body: &Vec<Point>| {
        let [near, far, ..] = span(body);
        (near - left).abs() < 1e-6 && (far - right).abs() < 1e-6
    };
    assert!(!bodies.is_empty() && bodies.iter().all(straight), "it goes in steps: {bodies:?}");
    let [net, brick] = ["net", "brick"].map(|piece| solid(&drawn, piece));
    assert!(net[2] <= brick[0] + 1e-6, "the net {net:?} stands behind the bricks {brick:?}");
}

#[test]
fn a_thermal_break_takes_the_place_of_the_slab() {
    let drawn = drawn("BREAK");
    let [slab, connector] = ["slab", "connector"].map(|piece| solid(&drawn, piece));
    let fall = 0.02 * 900.0 / drawn.0.scale;
    assert!((slab[1] - connector[1]).abs() < fall + 2.0, "its top: {connector:?} in {slab:?}");
    assert!((slab[3] - connector[3]).abs() < fall + 2.0, "and its bottom");
    assert!((connector[2] - connector[0] - 120.0 / drawn.0.scale).abs() < 1.0, "it is as wide as it is");
}

#[test]
fn foam_around_an_empty_curb_is_the_same_on_both_sides() {
    let drawn = drawn("HOLLOW");
    let [left, right] = ["foam-l", "foam-r"].map(|piece| solid(&drawn, piece));
    assert!((left[1] - right[1]).abs() < 0.1 && (left[3] - right[3]).abs() < 0.1, "{left:?} beside {right:?}");
    let [wide, other] = [left, right].map(|foam| foam[2] - foam[0]);
    assert!((wide - other).abs() < 0.1, "{left:?} beside {right:?}");
    let ply = places(&drawn, "ply-l").iter().fold(f64::MIN, |low: f64, p| low.max(p.y));
    assert!((left[1] - ply).abs() < 1.5, "the roofing at {ply} lies on it");
    assert!(left[2] <= right[0], "neither lies in the other: {left:?}, {right:?}");
}

#[test]
fn a_vent_lies_in_the_joint_of_its_bricks() {
    let drawn = drawn("NET");
    let [vent, brick] = ["vent", "brick"].map(|piece| solid(&drawn, piece));
    assert!((vent[0] - brick[0]).abs() < 1e-6 && (vent[2] - brick[2]).abs() < 1e-6, "{vent:?} in {brick:?}");
}
