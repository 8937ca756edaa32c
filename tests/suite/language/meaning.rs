//! What well-formed words mean.

use headlap::model::{Axis, Control, Detail, FoldKind, Indoor, VaporUnit};
use headlap::syntax::{Document, parse};
use headlap::text::{FileId, Source};

use crate::language::{read, reported};

/// The names of layers, pieces and numbers that a text comes to.
fn detail(body: &str) -> Detail {
    let text = format!(
        "include \"stock.detail\"\nassembly A wall {{ outside; layer wrap-open controls water, air; layer plywood; layer gypsum as lining; inside }}\n\
         assembly B existing {{ outside; layer concrete 200 mm; inside }}\ndetail D wall-to-existing joins A to B {{\n{body}\n}}"
    );
    let reading = read(&text);
    assert_eq!(reported(&reading.source, &reading.findings), [""; 0], "{body}");
    (*reading.library.details[0]).clone()
}

/// Everything that is known of a detail but where it stands in the text.
fn without_places(detail: &Detail) -> String {
    let shown = format!(
        "{:?}",
        (&detail.pieces, &detail.cuts, &detail.seals, &detail.fastenings, &detail.weeps, &detail.folds)
    );
    let mut plain = String::new();
    let mut rest = shown.as_str();
    while let Some(at) = rest.find("Span {") {
        plain.push_str(&rest[..at]);
        rest = &rest[at + rest[at..].find('}').expect("a span ends") + 1..];
    }
    plain + rest
}

#[test]
fn a_block_of_clauses_says_the_same_as_one_line_in_any_order() {
    let line = detail(
        "piece p wrap-open of A as flap up -75 mm to 3 in along from 0 mm bonds q over q with drip slope 1:12 rolled primed inside\npiece q plywood",
    );
    let turned = detail(
        "piece p wrap-open inside primed rolled slope 1:12 with drip over q bonds q along from 0 mm up -75 mm to 3 in as flap of A; piece q plywood",
    );
    let block = detail(
        "piece p wrap-open {\n  of A   as flap # so\n\n  up -75 mm to 3 in\n  along from 0 mm\n  bonds q; over q; with drip; slope 1:12\n  rolled primed; inside }\npiece q plywood",
    );
    let mixed = detail(
        "piece p wrap-open of A as flap up -75 mm to 3 in\n{ along from 0 mm; bonds q; over q; with drip; slope 1:12; rolled; primed; inside }\npiece q plywood",
    );
    for other in [turned, block, mixed] {
        assert_eq!(without_places(&line), without_places(&other));
    }
    let p = &line.pieces[0];
    assert!(p.drip && p.rolled && p.primed && p.inside && !p.doubtful);
    assert_eq!(p.role.as_deref(), Some("flap"));
    assert_eq!((p.bonds[0].index, p.over[0].index), (1, 1), "a later piece can be named");
    let (low, high) = (p.up.low.expect("an end"), p.up.high.expect("an end"));
    assert!((low.si + 0.075).abs() < 1e-12 && (high.si - 0.0762).abs() < 1e-12);
    assert_eq!(high.to_string(), "3 in", "in the author's unit");
    assert!(p.along.low.is_some() && p.along.high.is_none());
}

#[test]
fn every_statement_of_a_detail_is_taken() {
    let d = detail(
        "piece a wrap-open of A\npiece b concrete of B up to 8 ft 6-1/2 in\nseal a to b with butyl-bead up 20mm\nseal a to b along 1 in with butyl-bead\n\
         fasten a every 16 in with cap-staple up from 1 ft\nweeps every 2 ft up 0 mm\nfold along 0 mm inside-corner\ncut a up 0 mm to 1 m along 0 mm to 1 m\n\
         grade up -8 in\nsheltered up from 2 m\nexposed 60 days\ninstalled-at 40 F\nsheet \"3/A-501\"\nnote \"one\"\nnote \"a \\\"two\\\" \\\\\"\n\
         waive short-head-lap on a because \"why\" by \"who\" until 2027-03-31",
    );
    assert_eq!(d.pieces[1].up.high.expect("written").si, 102.5 * 0.0254);
    assert_eq!(d.seals.iter().map(|s| s.at.expect("a place").0).collect::<Vec<_>>(), [Axis::Up, Axis::Along]);
    assert!((d.fastenings[0].every.si - 0.4064).abs() < 1e-12 && d.fastenings[0].up.low.is_some());
    assert!(d.weeps[0].up.is_some() && d.folds[0].kind == FoldKind::InsideCorner && d.cuts.len() == 1);
    assert!((d.grade.expect("said").value.si + 0.2032).abs() < 1e-12);
    assert!(d.sheltered.is_some() && d.exposed.is_some());
    assert!((d.installed_at.expect("said").value.si - 277.594).abs() < 1e-3);
    assert_eq!(d.sheet.as_deref(), Some("3/A-501"));
    assert_eq!(d.notes, ["one", "a \"two\" \\"]);
    let waiver = &d.waivers[0];
    assert_eq!((waiver.because.as_str(), waiver.by.as_deref()), ("why", Some("who")));
    assert_eq!(waiver.until.map(|d| d.to_string()).as_deref(), Some("2027-03-31"));
    assert_eq!(waiver.on.as_ref().map(|(name, _)| &**name), Some("a"));
}

#[test]
fn of_means_the_layer_of_the_piece_s_material() {
    let d = detail("piece a wrap-open of A\npiece b concrete of B\npiece c gypsum of A");
    let layer = |n: usize| d.layer(d.pieces[n].layer.expect("tied")).name.to_string();
    assert_eq!([layer(0), layer(1), layer(2)], ["wrap-open", "concrete", "lining"]);
    assert!(d.controls(&d.pieces[0]).has(Control::Air) && !d.controls(&d.pieces[2]).has(Control::Air));
    let text = "include \"stock.detail\"\nassembly A wall { outside; layer gypsum as outer; layer gypsum as inner controls air; inside }\n\
                detail D course joins A { piece outer gypsum of A; piece any gypsum of A }";
    let reading = read(text);
    let d = &reading.library.details[0];
    let layer = |n: usize| d.layer(d.pieces[n].layer.expect("tied")).name.to_string();
    assert_eq!([layer(0), layer(1)], ["outer", "inner"], "by its own name, else the one that controls");
}

#[test]
fn layers_stand_outside_first_whichever_way_they_were_written() {
    let order = |body: &str| {
        let reading = read(&format!("include \"stock.detail\"\nassembly A wall {{ {body} }}"));
        assert_eq!(reported(&reading.source, &reading.findings), [""; 0], "{body}");
        reading.library.assemblies[0].layers.iter().map(|l| l.name.to_string()).collect::<Vec<_>>()
    };
    let expected = ["wrap-open", "gypsum"];
    for body in [
        "outside; layer wrap-open; layer gypsum; inside",
        "inside; layer gypsum; layer wrap-open; outside",
        "outside; layer wrap-open; layer gypsum",
        "layer wrap-open; layer gypsum; inside",
        "inside; layer gypsum; layer wrap-open",
        "layer gypsum; layer wrap-open; outside",
    ] {
        assert_eq!(order(body), expected, "{body}");
    }
}

#[test]
fn materials_and_climates_keep_what_their_authors_wrote() {
    let reading = read(
        "material m board \"A \\\"board\\\"\" { holds water, air; thickness 1/2 in; mu 70 wet, 200 dry; resistance R 0.5; air-permeance 0.02 L/s.m2 at 75 Pa\n\
         sensitive; surface wood; applies-above 20 F; uv-limit 90 days; section \"06 16 00\"; source \"x\" }\n\
         material g gap { thickness 3/4 in; vented; drained; sd 0.01 m }\n\
         climate c \"River\" { zone 6A; indoor class 3; design outdoor -5 C 80 % indoor 20 C 50 % for 90 days; drying for 90 days saturation 1700 Pa vapor 1200 Pa }",
    );
    assert_eq!(reported(&reading.source, &reading.findings), [""; 0]);
    let m = reading.library.material("m").expect("given");
    assert_eq!(m.title.as_deref(), Some("A \"board\""));
    assert!(m.holds.has(Control::Water) && m.holds.has(Control::Air) && !m.holds.has(Control::Vapor));
    let vapor = m.vapor.expect("given");
    assert_eq!((vapor.unit, vapor.dry.si, vapor.wet.map(|w| w.si)), (VaporUnit::Mu, 200.0, Some(70.0)));
    assert_eq!(m.thickness.expect("given").to_string(), "1/2 in");
    let g = reading.library.material("g").expect("given");
    assert!(g.vented && g.drained && m.sensitive && !m.capped);
    let c = reading.library.climate("c").expect("given");
    assert_eq!(c.indoor, Some(Indoor::Class(3)));
    assert_eq!(c.design.expect("given").outdoor.temperature.si, 268.15);
    assert_eq!(c.drying.expect("given").saturation.si, 1700.0);
}

fn document(text: &str) -> (Document, usize) {
    let source = Source::new(FileId::detail(0), "a.detail", text);
    let (document, findings) = parse(&source);
    assert_eq!(reported(&source, &findings), [""; 0]);
    (document, source.text.len())
}

#[test]
fn line_breaks_tabs_and_marks_of_other_systems_change_nothing() {
    let text = "detail D course \"x\" joins A {\n  piece a b up from 0 mm\n  note \"é\" # c\n}\n";
    let plain = without_positions(&document(text).0);
    for other in [
        text.replace('\n', "\r\n"),
        text.replace("  ", "\t"),
        text.replace("  ", "\u{A0} "),
        format!("\u{FEFF}{text}"),
        text.replace('\n', "\n\n"),
    ] {
        assert_eq!(without_positions(&document(&other).0), plain);
    }
}

fn without_positions(document: &Document) -> String {
    let shown = format!("{document:?}");
    shown
        .split("start: ")
        .map(|part| part.trim_start_matches(|c: char| c.is_ascii_digit() || ", end:".contains(c)))
        .collect()
}

#[test]
fn names_may_be_of_any_script() {
    let reading = read(
        "material étanchéité sheet { thickness 1 mm }\nmaterial 防水層.2_b-c sheet { thickness 1 mm }\nmaterial छत sheet { thickness 1 mm }",
    );
    assert_eq!(reported(&reading.source, &reading.findings), [""; 0]);
    assert!(["étanchéité", "防水層.2_b-c", "छत"].iter().all(|name| reading.library.material(name).is_some()));
}

#[test]
fn an_edit_cures_a_slip_of_the_hand() {
    let reading = read(
        "include \"stock.detail\"\nassembly A existing { outside; layer plywod 12 mm; inside }\nmaterial m sheet { thicknes 1 mm; permeance 5 prm; surface wod }",
    );
    let mut text = reading.source.text.clone();
    let mut edits: Vec<_> = reading.findings.iter().flat_map(|f| f.edits.clone()).collect();
    assert_eq!(edits.len(), 4);
    edits.sort_by_key(|edit| std::cmp::Reverse(edit.span.start));
    for edit in edits {
        text.replace_range(edit.span.range(), &edit.text);
    }
    let cured = read(&text);
    assert_eq!(reported(&cured.source, &cured.findings), [""; 0]);
}

#[test]
fn findings_name_the_item_that_they_are_in() {
    let reading = read("material m sheet { thickness 1 }\ndetail D course joins A { pice x y }\nblah");
    let items: Vec<_> = reading.findings.iter().map(|f| (f.rule.to_string(), f.item.as_deref())).collect();
    let syntax = |item| ("syntax".to_owned(), item);
    assert_eq!(
        items,
        [("wrong-unit".to_owned(), Some("m")), syntax(Some("D")), syntax(None), ("unknown-name".to_owned(), Some("D"))]
    );
}

fn number(quantity: headlap::quantity::Quantity) -> f64 {
    (quantity.si * 1e6).round() / 1e6
}

#[test]
fn slopes_of_parts_of_the_face_fall_outward_or_back() {
    let words = ["4:12", "level", "plumb", "2 %", "1/4 in per ft", "45 deg", "-2 %"];
    let expected = [1.0 / 3.0, 0.0, f64::INFINITY, 0.02, 1.0 / 48.0, 1.0, -0.02];
    let shown = ["4:12", "0:12", "plumb", "2 %", "1/4 in per ft", "45 deg", "-2 %"];
    for ((words, expected), shown) in words.into_iter().zip(expected).zip(shown) {
        let read = detail(&format!("slope {words} up to 0 mm\npiece p plywood"));
        let [band] = &read.slopes[..] else { panic!("one band for {words}") };
        assert_eq!(number(band.slope), (expected * 1e6_f64).round() / 1e6, "{words}");
        assert_eq!(band.slope.to_string(), shown);
        assert_eq!((band.up.low.is_none(), band.up.high.map(number)), (true, Some(0.0)));
    }
    let level = detail("piece p plywood slope level");
    assert_eq!(level.pieces[0].slope.map(|s| number(s.value)), Some(0.0));
}

#[test]
fn roofs_state_their_slope_and_their_wall_line() {
    let reading = read("assembly R roof { slope 3:12; wall-line up 450 mm; outside; inside }");
    assert_eq!(reported(&reading.source, &reading.findings), [""; 0]);
    let roof = &reading.library.assemblies[0];
    assert_eq!(roof.slope.map(|s| number(s.value)), Some(0.25));
    assert_eq!(roof.wall_line.map(|s| number(s.value)), Some(0.45));
    let line = detail("wall-line up 18 in\npiece p plywood");
    assert_eq!(line.wall_line.map(|s| number(s.value)), Some(0.4572));
}

#[test]
fn valleys_paving_and_sheltered_bands_are_places_on_the_face() {
    let read =
        detail("valley up 0 mm; valley along 20 mm; grade up -60 mm paved; sheltered up 2 m to 3 m\npiece p plywood");
    let valleys: Vec<_> = read.valleys.iter().map(|v| (v.axis, number(v.at))).collect();
    assert_eq!(valleys, [(Axis::Up, 0.0), (Axis::Along, 0.02)]);
    assert!(read.paved && read.grade.is_some_and(|grade| number(grade.value) == -0.06));
    let sheltered = read.sheltered.expect("a band");
    assert_eq!((sheltered.low.map(number), sheltered.high.map(number)), (Some(2.0), Some(3.0)));
    assert!(!detail("grade up 0 mm\npiece p plywood").paved);
}

#[test]
fn each_bond_says_what_holds_it() {
    use headlap::model::Hold;
    let read = detail(
        "piece a plywood\npiece b plywood\npiece p wrap-open bonds a bonds b, c welded bonds d clamped\npiece c plywood\npiece d plywood",
    );
    let held: Vec<_> = read.pieces[2].bonds.iter().map(|bond| (bond.index, bond.hold)).collect();
    assert_eq!(held, [(0, Hold::Adhesive), (1, Hold::Weld), (3, Hold::Weld), (4, Hold::Clamp)]);
}

#[test]
fn a_joint_has_a_width_a_depth_and_a_backer() {
    let read = detail(
        "piece a plywood along to 0 in\npiece b plywood along from 3/8 in\nseal a to b with butyl-bead along 0 in width 3/8 in depth 1/4 in on mineral-wool",
    );
    let seal = &read.seals[0];
    assert_eq!((seal.width.map(number), seal.depth.map(number)), (Some(0.009525), Some(0.00635)));
    assert_eq!(seal.backer.as_ref().map(|(backer, _)| &*backer.name), Some("mineral-wool"));
}

#[test]
fn a_row_is_two_pieces_that_lap() {
    let read = detail("piece s plywood up 0 in to 12 in every 5 in\npiece q wrap-open over s bonds s");
    let ups: Vec<_> = read.pieces[..2].iter().map(|p| (p.up.low.map(number), p.up.high.map(number))).collect();
    assert_eq!(ups, [(Some(0.0), Some(0.3048)), (Some(0.127), None)], "the next runs off the detail");
    assert_eq!(read.pieces.iter().map(|p| &*p.name).collect::<Vec<_>>(), ["s", "s", "q"]);
    let named = |list: Vec<usize>| list;
    assert_eq!(named(read.pieces[2].over.iter().map(|r| r.index).collect()), [0, 1], "a row is named as a whole");
    assert_eq!(named(read.pieces[2].bonds.iter().map(|r| r.index).collect()), [0, 1]);
    let stepped = detail("fold up 0 in base\npiece s plywood up -4 in to 4 in along 0 in to 7 in every 5 in");
    let along = &stepped.pieces[1].along;
    assert_eq!((along.low.map(number), along.high.map(number)), (Some(0.127), None), "a bent piece repeats sideways");
    let climbing = detail(
        "fold up 0 in sill\nfold along 0 in jamb\npiece s plywood up -2 in to 6 in along -4 in to 1 in every 5 in",
    );
    let up = &climbing.pieces[1].up;
    assert_eq!((up.low.map(number), up.high.map(number)), (Some(0.0762), None), "one that bends over a jamb climbs it");
    let eave = detail("piece s plywood up 0 in to 12 in every 5 in\nfold up 30 in eave");
    assert_eq!(eave.pieces[1].up.high.map(number), Some(0.762), "a row ends at the next fold");
}

#[test]
fn a_row_needs_a_size() {
    let reading = read(
        "include \"stock.detail\"\nassembly A existing { outside; layer plywood; inside }\ndetail D course joins A {\npiece s plywood up from 0 in every 5 in\n}",
    );
    let said = reported(&reading.source, &reading.findings);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("every 5 in"), "{said:?}");
}

#[test]
fn a_detail_may_join_three_assemblies() {
    let reading = read(
        "assembly A existing { outside; inside }\nassembly B existing { outside; inside }\nassembly C opening { outside; inside }\n\
         detail D sill joins A to B, C { }",
    );
    assert_eq!(reported(&reading.source, &reading.findings), [""; 0]);
    let joined: Vec<&str> = reading.library.details[0].joins.iter().map(|join| &*join.assembly.name).collect();
    assert_eq!(joined, ["A", "B", "C"]);
}

#[test]
fn a_labeled_resistance_stands_beside_a_conductivity() {
    let reading = read(
        "material x board { thickness 2 in; resistance R 5 per in; conductivity 0.034 W/m.K }\n\
         material y board { thickness 1 in; resistance R 6.5; conductivity 0.025 W/m.K; double-sided }\n\
         material z board { resistance R 4 per 25.4 mm }",
    );
    assert_eq!(reported(&reading.source, &reading.findings), [""; 0]);
    let [x, y, z] = &reading.library.materials[..] else { panic!("three materials") };
    let labeled = |m: &headlap::model::Material, t| m.labeled(t).map(|r| r.to_string());
    // R 5 per inch is R 10 for two inches and R 15 for three.
    assert_eq!(labeled(x, None).as_deref(), Some("R 10"));
    assert_eq!(labeled(x, Some(0.0762)).as_deref(), Some("R 15"));
    assert_eq!(x.conductivity.map(|c| c.si), Some(0.034), "physics keeps its own value");
    assert_eq!(labeled(y, Some(0.0508)).as_deref(), Some("R 13"));
    assert!(y.double_sided && !x.double_sided);
    assert_eq!(labeled(z, None), None, "without a thickness there is nothing to label");
    // 25.4 mm at R 4: 0.0254 / (4 x 0.17611) W/(m K).
    assert!(z.conductivity.is_some_and(|c| (c.si - 0.0254 / (4.0 * 0.1761102)).abs() < 1e-9));
}

#[test]
fn a_face_has_so_many_slopes_and_no_more() {
    let lines: String = (0..150).map(|n| format!("slope 2 % up {n} mm to {} mm\nvalley up {n} mm\n", n + 1)).collect();
    let reading = read(&format!("assembly A existing {{ outside; inside }}\ndetail D course joins A {{\n{lines}}}"));
    assert_eq!(reading.library.details[0].slopes.len(), 100);
    assert_eq!(reading.library.details[0].valleys.len(), 100);
    assert!(reading.library.details[0].doubtful && !reading.findings.is_empty());
}
