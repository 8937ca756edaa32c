//! What stands, lies or hangs on a drawing is carried by something, and ends where the building ends.

use headlap::output::drawing::{self, Area, Point, Role, Scene, SectionLine, Shape};
use headlap::review::Run;

use crate::drawing::folder;
use crate::drawn_to_sign::{area, stair_window, subject, words};

const DETAILS: &str = "include \"stock.detail\"
material old-brick mass \"Solid brick\" { holds water, air; thickness 330 mm; surface masonry }
material steel-angle frame \"Galvanized steel angle\" { conductivity 50 W/m.K; surface metal }
assembly V wall { outside; layer brick-veneer 90 mm; layer drained-gap 50 mm; layer wrap-adhered controls water, air; layer glass-mat-sheathing 13 mm; inside }
assembly E wall { outside; layer stucco 15 mm controls water; layer eps 160 mm controls thermal; layer concrete-block 240 mm controls air; inside }
assembly K foundation { outside; layer xps 140 mm controls thermal; layer waterproofing-sheet controls water, air; layer reinforced-concrete 240 mm; inside }
assembly T wall { outside; layer cedar-boards 24 mm; layer wrap-open controls water; layer wood-fiber-board 60 mm; inside }
assembly G floor { inside; layer concrete 200 mm controls water, air; outside }
assembly R roof { slope 2 %; outside; layer modified-bitumen controls water; layer polyurethane-board 160 mm controls thermal; layer waterproofing-sheet controls air, vapor; layer reinforced-concrete 200 mm; inside }
assembly P wall { outside; layer reinforced-concrete 180 mm controls water, air; inside }
assembly S roof { slope 40 deg; outside; layer slate; layer vented-gap 48 mm; layer breather-membrane controls water, air; layer decking-boards 24 mm; inside }
assembly B existing { outside; layer old-brick 330 mm controls water, air; inside }
assembly O opening { outside; layer window-wood controls water, air, thermal; inside }
detail TERRACE threshold \"Slab beside a wall\" joins R to P {
  fold up 0 mm base
  piece slab reinforced-concrete of R up to 0 mm
  piece wall reinforced-concrete of P up from 0 mm
  piece iso polyurethane-board of R up to 0 mm
  piece sheet modified-bitumen of R up to 200 mm bonds iso, wall primed rolled
}
detail CONCRETE parapet \"Body of one piece\" joins R to P {
  fold up 0 mm base
  fold up 300 mm sill
  piece slab reinforced-concrete of R up to 0 mm
  piece body reinforced-concrete of P up from 0 mm
  piece sheet modified-bitumen of R up to 500 mm bonds slab, body primed rolled
  piece coping aluminum-flashing as coping up 200 mm to 560 mm with drip
}
detail UNKNOWN parapet \"Body of no stated thickness\" joins R {
  fold up 0 mm base
  fold up 300 mm sill
  piece slab reinforced-concrete of R up to 0 mm
  piece body concrete up from 0 mm
  piece sheet modified-bitumen of R up to 520 mm bonds slab, body primed rolled
}
detail EDGE roof-edge \"Thin nailer beside thick insulation\" joins R {
  piece slab reinforced-concrete of R up from 0 mm
  piece nailer treated-wood up 0 mm to 120 mm
  piece iso polyurethane-board of R up from 120 mm
  piece sheet modified-bitumen of R up from 0 mm bonds nailer, iso primed rolled
  piece edge aluminum-flashing as drip-edge up -100 mm to 100 mm with drip
}
detail SLATES eave \"Slates on a batten\" joins S {
  piece boards decking-boards of S up from 0 mm
  piece sheet breather-membrane of S up from 0 mm
  piece batten spruce
  piece slates slate of S up from -20 mm
}
detail BARE rake \"Slates without battens\" joins S {
  piece boards decking-boards of S along from 0 mm
  piece sheet breather-membrane of S along from -10 mm
  piece slates slate of S along from -20 mm
}
detail VERGE rake \"Kerb at the edge of a flat roof\" joins R {
  piece slab reinforced-concrete of R along from 0 mm
  piece kerb treated-wood along 0 mm to 100 mm
  piece iso polyurethane-board of R along from 100 mm
  piece sheet modified-bitumen of R along from -30 mm bonds kerb, iso primed rolled
  piece strip modified-bitumen along 20 mm to 250 mm
}
detail SOLE base-of-wall \"Wall on its slab\" joins G to T {
  grade up -150 mm
  piece slab concrete of G up to 0 mm
  piece board wood-fiber-board of T up from 0 mm
  piece strip acrylic-flashing up -100 mm to 80 mm bonds slab, board primed rolled
  piece wrap wrap-open of T up from -30 mm
}
detail RENDER base-of-wall \"Render on insulation\" joins K to E {
  piece cellar reinforced-concrete of K up to 0 mm
  piece block concrete-block of E up from 0 mm
  piece sheet waterproofing-sheet of K up to 120 mm bonds cellar, block primed rolled
  piece xps xps of K up to 10 mm
  piece eps eps of E up from 10 mm
  piece render stucco of E up from 5 mm
}
detail BACK sill \"Window set back in the brick\" joins B to O {
  fold up 0 mm sill
  piece wall old-brick of B up to 0 mm
  piece tray lead-flashing as pan up -60 mm to 160 mm slope 6 deg with drip
  piece window window-wood of O up from 110 mm
}
detail FLUSH sill \"Window in the face\" joins B to O {
  fold up 0 mm sill
  piece wall old-brick of B up to 0 mm
  piece tray lead-flashing as pan up -60 mm to 60 mm slope 6 deg with drip
  piece window window-wood of O up from 10 mm
}
detail LINTEL head \"Veneer on an angle\" joins V to O {
  fold up 0 mm head
  piece board glass-mat-sheathing of V up from 0 mm
  piece skin wrap-adhered of V up from 0 mm bonds board
  piece angle steel-angle up 0 mm to 100 mm
  piece tray copper-flashing up 0 mm to 200 mm with drip
  piece gap drained-gap of V up from 0 mm
  piece brick brick-veneer of V up from 0 mm
  piece window window-wood of O up to 0 mm
}
";

fn run() -> &'static Run {
    static RUN: std::sync::LazyLock<Run> = std::sync::LazyLock::new(|| folder(DETAILS, "carried"));
    &RUN
}

fn section(detail: &str) -> Scene {
    let subject = subject(run(), detail, &[]);
    drawing::section(&subject, &SectionLine::principal(&subject).expect("a line"))
}

fn group<'s>(scene: &'s Scene, detail: &str, piece: &str) -> Vec<&'s [Shape]> {
    let subject = subject(run(), detail, &[]);
    let index = subject.detail.pieces.iter().position(|p| &*p.name == piece).expect("a piece");
    scene.groups(Role::Piece(index))
}

/// The area that a piece takes, mm of the building.
fn room(scene: &Scene, detail: &str, piece: &str) -> Area {
    area(&points(&group(scene, detail, piece)))
}

fn points(shapes: &[&[Shape]]) -> Vec<Point> {
    let mut all = Vec::new();
    for shape in shapes.iter().copied().flatten() {
        shape.each(&mut |shape| {
            if let Shape::Path { runs, .. } = shape {
                all.extend(runs.iter().flatten().copied());
            }
        });
    }
    all
}

fn close(a: f64, b: f64, within: f64) -> bool {
    (a - b).abs() <= within
}

/// Words of a group that is drawn dashed, and its area.
fn not_given(scene: &Scene, wanted: &str) -> Area {
    let mut found = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Group { role: Role::Covered, words, shapes } = shape
            && &**words == wanted
        {
            found.push(area(&points(&[shapes])));
        }
    });
    assert_eq!(found.len(), 1, "{wanted}");
    found[0]
}

/// A slab that runs off the detail is longer than it is thick: it lies, and is no post.
#[test]
fn a_slab_that_runs_off_is_no_post() {
    let slab = room(&section("TERRACE"), "TERRACE", "slab");
    assert!(slab.width() > slab.height(), "{slab:?}");
}

/// The body of a parapet ends under its top and at its outer face, and what goes on over the top comes down there.
#[test]
fn a_parapet_is_closed_at_its_top_and_its_outer_face() {
    let scene = section("CONCRETE");
    let [body, coping] = ["body", "coping"].map(|piece| room(&scene, "CONCRETE", piece));
    // As wide as it is thick; what is drawn of the lines themselves and of membranes is less than 10 mm of the building.
    assert!(close(body.width(), 180.0, 1.0), "{body:?}");
    assert!(close(body.height(), 300.0, 60.0) || body.height() > 300.0, "{body:?}");
    assert!(coping.left < body.left && coping.right > body.right, "{coping:?} {body:?}");
    // 560 less 300 less 180 of its length are left to hang down outside.
    let outside: Vec<Point> =
        points(&group(&scene, "CONCRETE", "coping")).into_iter().filter(|p| p.x < body.left).collect();
    assert!(close(area(&outside).height(), 80.0, 25.0), "{:?}", area(&outside));
    // Of no stated thickness, it is as wide as its top is covered.
    let body = room(&section("UNKNOWN"), "UNKNOWN", "body");
    assert!(close(body.width(), 220.0, 1.0), "{body:?}");
}

/// Between a nailer and the slab under it there is something.
#[test]
fn a_thin_nailer_stands_on_packing() {
    let scene = section("EDGE");
    let [nailer, slab] = ["nailer", "slab"].map(|piece| room(&scene, "EDGE", piece));
    let packing = not_given(&scene, "packing, not given");
    assert!(
        close(packing.top, nailer.bottom, 6.0) && close(packing.bottom, slab.top, 12.0),
        "{packing:?} {nailer:?} {slab:?}"
    );
    let scene = section("VERGE");
    let packing = not_given(&scene, "packing, not given");
    assert!(packing.top > room(&scene, "VERGE", "kerb").top && packing.bottom < room(&scene, "VERGE", "slab").bottom);
}

/// Slates lie on the batten that is drawn; where none is, something dashed stands for it. A batten ends with its roof.
#[test]
fn slates_lie_on_battens() {
    let scene = section("SLATES");
    let (slates, batten) = (points(&group(&scene, "SLATES", "slates")), points(&group(&scene, "SLATES", "batten")));
    // Across a roof of 40 degrees: up and to the right.
    let (sin, cos) = 40f64.to_radians().sin_cos();
    let out = |p: &Point| p.x * sin - p.y * cos;
    let under = slates.iter().map(out).fold(f64::MAX, f64::min);
    let top = batten.iter().map(out).fold(f64::MIN, f64::max);
    assert!(close(under, top, 1.0), "slates at {under}, the batten to {top}");
    // It does not turn down over the eave.
    assert!(area(&batten).bottom < area(&points(&group(&scene, "SLATES", "boards"))).bottom);
    let scene = section("BARE");
    let (battens, slates) = (not_given(&scene, "battens, not given"), room(&scene, "BARE", "slates"));
    assert!(close(battens.top, slates.bottom, 1.0), "{battens:?} {slates:?}");
}

/// A roof is bent at its edge, and not where one of its layers ends.
#[test]
fn a_roof_lies_to_its_edge() {
    let scene = section("VERGE");
    let [slab, iso] = ["slab", "iso"].map(|piece| room(&scene, "VERGE", piece));
    assert!(slab.width() > iso.width() && iso.bottom <= slab.top + 6.0, "{slab:?} {iso:?}");
}

/// Where the ground lies lower than a slab, its edge is the face of the wall.
#[test]
fn the_edge_of_a_slab_on_the_ground_is_the_face() {
    let scene = section("SOLE");
    let [slab, board] = ["slab", "board"].map(|piece| room(&scene, "SOLE", piece));
    assert!(close(slab.right, board.right, 6.0) && slab.left < board.left, "{slab:?} {board:?}");
}

/// Insulation under a render stands outboard of its masonry, which stands on the masonry below.
#[test]
fn masonry_stands_on_masonry() {
    let scene = section("RENDER");
    let [cellar, block, eps] = ["cellar", "block", "eps"].map(|piece| room(&scene, "RENDER", piece));
    assert!(close(cellar.right, block.right, 1.0), "{cellar:?} {block:?}");
    assert!(eps.left >= block.right - 1.0, "{eps:?} {block:?}");
}

/// A window that begins 110 mm into its opening stands back by that much, on the edge of the opening.
#[test]
fn a_window_that_is_set_back_stands_in_its_reveal() {
    let frame = |detail: &str| {
        let scene = section(detail);
        let wall = room(&scene, detail, "wall");
        let window = room(&scene, detail, "window");
        (wall.right - window.right, wall.top - window.bottom)
    };
    let (back, joint) = frame("BACK");
    assert!(close(back, 110.0, 12.0) && joint < 60.0, "{back} {joint}");
    let (flush, _) = frame("FLUSH");
    assert!(flush < 15.0, "{flush}");
}

/// The leg of an angle is thin even if no thickness is stated; air has no edges.
#[test]
fn angles_are_thin_and_air_is_not_outlined() {
    let scene = section("LINTEL");
    let shapes = group(&scene, "LINTEL", "angle");
    let upright = shapes.iter().map(|shapes| area(&points(&[shapes]))).find(|a| a.height() > 60.0).expect("its leg");
    assert!(upright.width() < 20.0, "{upright:?}");
    let mut lines = 0;
    for shape in group(&scene, "LINTEL", "gap").into_iter().flatten() {
        shape.each(&mut |shape| lines += usize::from(matches!(shape, Shape::Path { pen: Some(_), .. })));
    }
    assert_eq!(lines, 0);
}

/// A column of names that is higher than its drawing stands about its middle, so that no leader climbs the whole of it.
#[test]
fn leaders_are_short() {
    let pieces: String =
        (0..14).map(|n| format!("  piece p{n} flash-tape up {} mm to {} mm\n", n * 8, n * 8 + 60)).collect();
    let text = format!(
        "include \"stock.detail\"\nassembly W wall {{ outside; layer wrap-open controls water; inside }}\ndetail MANY course joins W {{\n{pieces}}}\n"
    );
    let run = folder(&text, "leaders");
    let subject = subject(&run, "MANY", &[]);
    let scene = drawing::bare_section(&subject, &SectionLine::principal(&subject).expect("a line"));
    let mut climbs: Vec<f64> = Vec::new();
    let mut heads: Vec<f64> = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Group { role: Role::Label(_), shapes, .. } = shape
            && let Some(Shape::Path { runs, .. }) = shapes.first()
        {
            let (from, to) = (runs[0][0], runs[0][runs[0].len() - 1]);
            climbs.push((from.y - to.y).abs());
            heads.push(to.y);
        }
    });
    let tall = heads.iter().copied().fold(f64::MIN, f64::max) - heads.iter().copied().fold(f64::MAX, f64::min);
    let most = climbs.iter().copied().fold(0.0, f64::max);
    assert!(climbs.len() == 14 && most < 0.5 * tall, "{most} of {tall}");
}

/// In a thin wall the numbers of the water and the letter of an enlargement stand beside it, and not on what they are about.
#[test]
fn numbers_and_letters_do_not_cover_thin_walls() {
    let (facts, sheet) = stair_window();
    let numbers = sheet.groups(Role::Symbol(drawing::Symbol::Step));
    let mut rooms: Vec<Area> = numbers
        .iter()
        .filter_map(|shapes| {
            let words = shapes.iter().find(|shape| matches!(shape, Shape::Text { .. }))?;
            words.room()
        })
        .collect();
    rooms.extend(words(&sheet).into_iter().filter(|(w, _)| w == "A").map(|(_, room)| room));
    assert!(rooms.len() > 2);
    let deck = facts.detail.pieces.iter().position(|p| &*p.name == "deck").expect("the sheathing");
    for shapes in sheet.groups(Role::Piece(deck)) {
        for shape in shapes {
            shape.each(&mut |shape| {
                if let Shape::Path { runs, pen: Some(_), .. } = shape {
                    let lines = || runs.iter().flat_map(|run| run.windows(2));
                    let on = rooms.iter().find(|room| lines().any(|pair| room.meets(pair[0], pair[1])));
                    assert!(on.is_none(), "a line of the sheathing runs through {on:?}");
                }
            });
        }
    }
}
