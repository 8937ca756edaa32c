//! Where a wall or a roof is open: windows and their pans, pipes, and the wall below a roof that falls.

use std::sync::LazyLock;

use headlap::output::drawing::{Dash, Ink, Point, Shape};
use headlap::review::Run;

use crate::drawing::folder;
use crate::drawn_as_built::{filled, section, shapes, span};

const DETAILS: &str = "include \"stock.detail\"
assembly W wall { outside; layer wrap-open controls water; layer plywood 12 mm; inside }
assembly M wall { outside; layer concrete-block 190 mm controls water; inside }
assembly R roof { slope 6:12; wall-line up 300 mm; outside; layer shingles; layer roof-underlayment controls water; layer plywood 12 mm; inside }
assembly O opening { outside; layer window-wood controls water; inside }
detail BARE sill joins W to O {
  fold up 0 mm sill
  piece wrap wrap-open of W up to 0 mm
  piece pan sill-pan as pan up -80 mm to 60 mm slope 6 deg
  piece unit window-wood of O up from -20 mm
}
detail GAP head joins W to O {
  fold up 0 mm head
  piece deck plywood of W up from 0 mm
  piece wrap wrap-open of W up from 0 mm
  piece lip liquid-flashing up -40 mm to 60 mm primed
  piece unit window-wood of O up to -6 mm
  piece rod backer-rod up -6 mm to 0 mm
  piece cap aluminum-flashing as head-flashing up -10 mm to 150 mm slope 5 deg with drip
}
detail DAM sill joins W to O {
  fold up 0 mm sill
  piece deck plywood of W up to 0 mm
  piece wrap wrap-open of W up to 0 mm
  piece pan liquid-flashing as pan up -80 mm to 60 mm slope 4 deg primed
  piece back plywood as back-dam up 60 mm to 85 mm
  piece unit window-wood of O up from 6 mm
}
material junction-box unit { holds water; surface metal }
detail HOOD penetration joins W {
  piece deck plywood of W
  cut deck up 0 mm to 100 mm
  piece wrap wrap-open of W
  cut wrap up 0 mm to 100 mm
  piece unit vent-hood up -30 mm to 130 mm
}
detail BOX penetration joins W {
  piece deck plywood of W
  cut deck up 0 mm to 100 mm
  piece wrap wrap-open of W
  cut wrap up 0 mm to 100 mm
  piece unit junction-box up -30 mm to 130 mm
}
detail PIPE penetration joins R {
  piece deck plywood of R
  cut deck up -60 mm to 60 mm along -60 mm to 60 mm
  piece felt roof-underlayment of R
  cut felt up -50 mm to 50 mm along -50 mm to 50 mm
  piece pipe metal-pipe up -50 mm to 50 mm along -50 mm to 50 mm
}
detail HIGH head-wall joins R to M {
  fold up 0 mm base
  piece deck plywood of R up to 0 mm
  piece block concrete-block of M up from 0 mm
  piece felt roof-underlayment of R up to 150 mm
}
detail EAVE eave joins R {
  fold up 0 mm eave
  piece deck plywood of R up from 0 mm
  piece ice ice-barrier up 0 mm to 950 mm bonds deck
  piece felt roof-underlayment of R up from 850 mm
}
";

fn run() -> &'static Run {
    static RUN: LazyLock<Run> = LazyLock::new(|| folder(DETAILS, "openings"));
    &RUN
}

fn drawn(detail: &str, piece: &str) -> Vec<Shape> {
    shapes(&section(run(), detail), piece)
}

fn scale(detail: &str) -> f64 {
    section(run(), detail).0.scale
}

/// All points of a piece.
fn points(shapes: &[Shape]) -> Vec<Point> {
    let runs = |shape: &Shape| match shape {
        Shape::Path { runs, .. } => runs.concat(),
        _ => Vec::new(),
    };
    shapes.iter().flat_map(runs).collect()
}

/// The corners of what is filled in the tone of frames and pipes.
fn pale(shapes: &[Shape]) -> Vec<Vec<Point>> {
    let of = |shape: &Shape| match shape {
        Shape::Path { runs, fill: Some(Ink::Pale), .. } => Some(runs[0].clone()),
        _ => None,
    };
    shapes.iter().filter_map(of).collect()
}

#[test]
fn a_pan_lies_in_its_opening_even_where_no_wall_is_drawn() {
    let pan = span(&points(&drawn("BARE", "pan")));
    assert!(pan[1] - pan[0] > 0.9 * 60.0 / scale("BARE"), "{pan:?}");
    assert_eq!(pale(&drawn("BARE", "unit")).len(), 1, "a frame stands on it");
}

#[test]
fn a_frame_has_its_rail_beyond_a_joint_and_the_size_of_a_frame() {
    let unit = drawn("GAP", "unit");
    let [.., low, high] = span(&points(&unit));
    let rail = pale(&unit).first().map(|rail| span(rail)).expect("a rail at the head");
    assert!(high - low > rail[3] - rail[2], "{low} {high}");
    let deep = rail[1] - rail[0];
    assert!((deep - (65.0 / scale("GAP") - 2.4)).abs() < 0.01, "{deep}");
}

#[test]
fn a_rod_is_round_and_a_cap_lies_on_the_wall_above_it() {
    assert!(matches!(drawn("GAP", "rod")[..], [Shape::Circle { .. }]));
    // Its own line, without the drip at its foot.
    let cap = points(&drawn("GAP", "cap")[..2]);
    let long = |pair: &[Point]| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y);
    let leg = cap.windows(2).max_by(|a, b| long(a).total_cmp(&long(b))).expect("the back leg");
    assert!((leg[0].x - leg[1].x).abs() < 1e-6, "plumb: {leg:?}");
}

#[test]
fn a_dam_stands_at_the_back_of_its_pan() {
    let (back, deck) = (span(&points(&drawn("DAM", "back"))), span(&filled(&drawn("DAM", "deck")).concat()));
    let scale = scale("DAM");
    assert!((back[3] - back[2] - 25.0 / scale).abs() < 1.0, "as high as it reaches: {back:?}");
    assert!(back[1] < deck[1] - 30.0 / scale, "at the back: {back:?} {deck:?}");
    assert!(back[3] < deck[2] + 0.5, "on the sill: {back:?} {deck:?}");
    let pan = span(&points(&drawn("DAM", "pan")));
    assert!(pan[1] - pan[0] > 0.9 * 60.0 / scale, "{pan:?}");
}

#[test]
fn a_pipe_is_plumb_however_steep_its_roof() {
    let pipe = drawn("PIPE", "pipe");
    let body = pale(&pipe).concat();
    let [left, right, top, foot] = span(&body);
    let upright = |p: &Point| (p.x - left).abs() < 1e-6 || (p.x - right).abs() < 1e-6;
    assert!(body.len() == 4 && body.iter().all(upright), "{body:?}");
    assert!(foot - top > right - left, "it stands out of the roof: {body:?}");
}

#[test]
fn below_a_roof_that_falls_a_wall_is_cut_off_level() {
    let mut block = filled(&drawn("HIGH", "block")).concat();
    block.sort_by(|a, b| b.y.total_cmp(&a.y));
    assert!((block[0].y - block[1].y).abs() < 1e-6 && block[2].y < block[1].y - 1.0, "{block:?}");
}

#[test]
fn the_warm_side_of_the_wall_and_the_reach_of_an_ice_barrier_are_drawn() {
    let words = |detail: &str| {
        let mut words = Vec::new();
        section(run(), detail).0.each(&mut |shape| {
            if let Shape::Text { words: said, .. } = shape {
                words.push(said.clone());
            }
        });
        words
    };
    // Far from its eave a roof shows no wall.
    assert!(!words("PIPE").contains(&"warm side of the wall".to_owned()));
    let words = words("EAVE");
    for said in ["warm side of the wall", "650", "100"] {
        assert!(words.iter().any(|word| word == said), "{said}: {words:?}");
    }
}

/// Air goes through a hood: it has a bore and an axis. A box is closed.
#[test]
fn what_leads_air_or_water_is_hollow_and_a_box_is_not() {
    let axes = |detail: &str| {
        let is_axis = |shape: &&Shape| matches!(shape, Shape::Path { pen: Some(pen), .. } if pen.dash == Dash::Chain);
        drawn(detail, "unit").iter().filter(is_axis).count()
    };
    assert_eq!(["HOOD", "BOX"].map(axes), [1, 0]);
}
