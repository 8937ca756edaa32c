//! What is worked out of an assembly layer by layer. Values follow from R = d / λ and from what the materials state.

use std::sync::Arc;

use headlap::facts::AssemblyFacts;
use headlap::model::SourceMap;
use headlap::text::{FileId, Source};

use crate::review::pack;

/// The last assembly of a text, with the built-in materials.
fn derived(text: &str) -> AssemblyFacts {
    let fetch = |_: &str| Err("there is no such file".to_owned());
    let source_map = SourceMap::new(&fetch, &pack().words);
    let text = format!("include \"stock.detail\"\n{text}");
    let reading = source_map.read(Arc::new(Source::new(FileId::detail(0), "a.detail", text)));
    AssemblyFacts::derive(reading.library.assemblies.last().expect("an assembly").clone(), &crate::review::assumed())
}

/// m2 K/W of a layer, or the property that it would need.
fn resistance(material: &str, layer: &str) -> Result<f64, &'static str> {
    let facts = derived(&format!("{material}\nassembly W wall {{ outside; layer {layer}; inside }}"));
    facts.layers[0].resistance.as_ref().copied().map_err(|lack| lack.property)
}

#[test]
fn a_resistance_holds_for_the_thickness_that_it_is_given_for() {
    let sold = "material foam board { thickness 40 mm; resistance 2 m2.K/W";
    let near = |got: Result<f64, &str>, want: f64| assert!((got.expect("known") - want).abs() < 1e-9, "{got:?} {want}");
    // What the maker says of the board as it is sold goes before what its conductivity gives, which would be 1.
    near(resistance(&format!("{sold}; conductivity 0.04 W/m.K }}"), "foam"), 2.0);
    near(resistance(&format!("{sold}; conductivity 0.04 W/m.K }}"), "foam 40 mm"), 2.0);
    // For another thickness the conductivity decides: 0.02 / 0.04. Without one, half the thickness has half of it.
    near(resistance(&format!("{sold}; conductivity 0.04 W/m.K }}"), "foam 20 mm"), 0.5);
    near(resistance(&format!("{sold} }}"), "foam 20 mm"), 1.0);
    near(resistance("material foam board { resistance 2 m2.K/W }", "foam 20 mm"), 2.0);
}

#[test]
fn what_a_resistance_lacks_is_named_and_membranes_are_too_thin_to_matter() {
    assert_eq!(resistance("material foam board { conductivity 0.04 W/m.K }", "foam"), Err("thickness"));
    assert_eq!(resistance("material foam board { }", "foam 20 mm"), Err("conductivity"));
    for kind in ["sheet", "tape", "coat", "flashing"] {
        assert_eq!(resistance(&format!("material skin {kind} {{ }}"), "skin"), Ok(0.0), "{kind}");
    }
}

/// NIST SP 811, appendix B: 1 perm at 0 C is 5.72135e-11 kg/(Pa s m2), and an inch of 1 perm inch has one perm. What the air lets
/// through, 2e-10 kg/(Pa s m), over that is 3.496 m. EPS 60 mm with mu 60 has 3.6 m by definition.
#[test]
fn a_layer_of_air_holds_back_as_much_vapor_as_each_measure_says() {
    for (vapor, layer, want) in [
        ("permeance 1 perm", "skin", 3.496),
        ("permeability 1 perm.in", "skin 1 in", 3.496),
        ("mu 60", "skin 60 mm", 3.6),
        ("sd 2 m", "skin 60 mm", 2.0),
    ] {
        let facts = derived(&format!("material skin board {{ {vapor} }}\nassembly W wall {{ layer {layer} }}"));
        let got = facts.layers[0].sd.as_ref().map(|sd| sd.dry).map_err(|lack| lack.property);
        assert!(got.is_ok_and(|got| (got - want).abs() < 0.0005), "{vapor}: {got:?}, not {want}");
    }
}

#[test]
fn the_sides_of_the_insulation_end_at_a_vented_gap_and_at_the_room() {
    let facts = derived(
        "assembly W wall {\n  outside\n  layer cedar-boards 19 mm\n  layer vented-gap 19 mm\n  layer plywood 12 mm\n  \
         layer mineral-wool 140 mm\n  layer kraft-facing\n  layer gypsum 12.5 mm\n  inside\n}",
    );
    assert_eq!(facts.insulation(), Some(3));
    // The gap stands for the outdoor air, and is the last of what lies outboard.
    assert_eq!((facts.outboard(), facts.inboard()), (1..3, 4..6));
}

#[test]
fn an_assembly_with_an_undefined_or_unreadable_layer_is_doubtful() {
    let doubtful = |layer: &str| derived(&format!("assembly W wall {{\n  outside\n  {layer}\n  inside\n}}")).doubtful();
    assert!(!doubtful("layer plywood 12 mm"));
    assert!(doubtful("layer plywoood 12 mm"));
    assert!(doubtful("layer plywood 12 parsecs"));
}

#[test]
fn heat_leaves_through_the_surfaces_of_the_direction_that_it_flows_in() {
    // ISO 6946, table 7: inner surfaces of 0.10, 0.13 and 0.17 m2 K/W for heat that rises, goes across and descends.
    for (kind, inner) in [("roof", 0.10), ("wall", 0.13), ("floor", 0.17)] {
        let foam = "material foam board { conductivity 1 W/m.K }";
        let facts = derived(&format!("{foam}\nassembly A {kind} {{ outside; layer foam 1 m; inside }}"));
        let total = facts.thermal.expect("known").expect("a sum").mean;
        assert!((total - (inner + 1.0 + 0.04)).abs() < 1e-9, "{kind} {total}");
    }
}

#[test]
fn each_property_that_is_wanting_is_named_once() {
    let facts = derived(
        "material a board { }\nmaterial b board { conductivity 0.1 W/m.K }\nassembly W wall {\n  outside\n  layer a 20 mm\n  \
         layer b 20 mm\n  layer a 20 mm\n  inside\n}",
    );
    let lacks: Vec<String> =
        facts.lacks.iter().map(|lack| format!("{} {}", lack.material.name, lack.property)).collect();
    assert_eq!(lacks, ["a conductivity", "a permeance", "b permeance"]);
}

#[test]
fn permeability_is_of_the_substance_and_goes_with_the_thickness() {
    // By the definition of the unit, 2 in of 6 perm.in let through what 1 in of 3 does: 3 perm.
    let sd = |layer: &str| {
        let text =
            "material m board { permeability 6 perm.in }\nmaterial n sheet { permeance 3 perm; thickness 0.2 mm }";
        derived(&format!("{text}\nassembly W wall {{ outside; layer {layer}; inside }}")).layers[0]
            .sd
            .clone()
            .expect("known")
            .dry
    };
    let (thick, thin, sold) = (sd("m 2 in"), sd("m 1 in"), sd("n"));
    assert!((thick / sold - 1.0).abs() < 1e-6 && (thick / thin - 2.0).abs() < 1e-9, "{thick} {thin} {sold}");
}

/// Six degrees of frost in July and hardly any vapor in the room: nothing condenses, and July is the month to show. In a
/// room that is humid June, a degree warmer but full of vapor outside, is the one in which most stays.
#[test]
fn the_month_that_decides_is_shown() {
    let month = |room: &str| {
        let facts = derived(&format!(
            "climate south {{\n  indoor 20 C {room} %\n  outdoor jan 16 C 50 %\n  outdoor feb 15 C 50 %\n  outdoor mar 12 C 50 %\n  \
             outdoor apr 8 C 50 %\n  outdoor may 4 C 50 %\n  outdoor jun -5 C 95 %\n  outdoor jul -6 C 30 %\n  outdoor aug 0 C 50 %\n  \
             outdoor sep 6 C 50 %\n  outdoor oct 10 C 50 %\n  outdoor nov 13 C 50 %\n  outdoor dec 15 C 50 %\n}}\n\
             material skin sheet {{ thickness 0.2 mm; sd 0.2 m }}\nmaterial lining sheet {{ thickness 0.2 mm; sd 2 m }}\n\
             assembly W wall {{\n  climate south\n  outside\n  layer skin\n  layer mineral-wool 140 mm\n  layer lining\n  inside\n}}"
        ));
        let year = facts.sections()[0].year.clone().expect("a year");
        (year.month, year.condensation.peak > 0.0)
    };
    assert_eq!(month("5"), (6, false));
    assert_eq!(month("60"), (5, true));
}

#[test]
fn code_tables_count_the_label_and_the_numbers_the_design_value() {
    let facts = derived(
        "material foam board { conductivity 0.04 W/m.K; resistance R 5 per in }\n\
         assembly W wall {\n  outside\n  layer foam 2 in\n  layer plywood 12 mm\n  \
         layer mineral-wool 140 mm between spruce 38 mm at 400 mm\n  inside\n}",
    );
    let foam = &facts.layers[0];
    assert!((foam.resistance.as_ref().expect("known") - 0.0508 / 0.04).abs() < 1e-9);
    assert!((foam.labeled.as_ref().expect("known") - 10.0 * 0.17611).abs() < 1e-4);
    assert!((facts.continuous_insulation().expect("known") - 10.0 * 0.17611).abs() < 1e-4);
}

/// Labelled R of what keeps the sheathing warm, over the R of one inch of the foam.
fn inches_of_foam(layers: &str) -> f64 {
    let foam = "material foam fill { holds air, thermal; conductivity 0.025 W/m.K; resistance R 6 per in }";
    let facts = derived(&format!("{foam}\nassembly W wall {{\n  outside\n  {layers}\n  inside\n}}"));
    facts.continuous_insulation().expect("known") / (6.0 * 0.17611)
}

#[test]
fn foam_against_the_sheathing_counts_as_insulation_outboard_of_the_batts() {
    let studs = "between spruce 38 mm at 400 mm";
    let near = |got: f64, want: f64| assert!((got - want).abs() < 1e-3, "{got} {want}");
    near(
        inches_of_foam(&format!("layer plywood 12 mm; layer foam 2 in {studs}; layer mineral-wool 90 mm {studs}")),
        2.0,
    );
    // Inboard of the batts it keeps nothing warm.
    near(
        inches_of_foam(&format!("layer plywood 12 mm; layer mineral-wool 90 mm {studs}; layer foam 2 in {studs}")),
        0.0,
    );
    // Alone it fills the cavity, and no air of the room gets past it.
    near(inches_of_foam(&format!("layer plywood 12 mm; layer foam 4 in {studs}")), 4.0);
}

#[test]
fn batts_without_a_stated_frame_lie_in_a_cavity_and_those_on_a_massive_wall_do_not() {
    let cavity = |layers: &str| {
        let facts = derived(&format!("assembly W wall {{ outside; {layers}; inside }}"));
        (0..facts.layers.len()).any(|layer| facts.is_cavity(layer))
    };
    assert!(cavity("layer plywood 12 mm; layer mineral-wool 140 mm; layer gypsum 12.5 mm"));
    assert!(!cavity("layer mineral-wool 140 mm; layer concrete 200 mm"));
    assert!(!cavity("layer eps 100 mm; layer plywood 12 mm"));
}

#[test]
fn steel_studs_take_no_mean_of_parallel_paths() {
    let wall = |frame: &str| {
        let layers =
            format!("layer glass-mat-sheathing 16 mm; layer glass-wool 5-1/2 in between {frame}; layer gypsum 16 mm");
        derived(&format!("assembly W wall {{ outside; {layers}; inside }}")).thermal.expect("known")
    };
    // 0.13 and 0.04 of the surfaces, two boards of 16 mm at 0.25, and of the table for R-19 at 16 in.
    let total = wall("steel-stud 1-5/8 in at 16 in").expect("a sum").mean;
    assert!((total - (0.17 + 2.0 * 0.016 / 0.25 + 7.1 * 0.17611)).abs() < 0.001, "{total}");
    assert!(wall("steel-stud 1-5/8 in at 12 in").is_none(), "the table has no studs that close");
}

/// Nothing is in the way of a layer at the air: not even a sum of nothing, which is a negative zero.
#[test]
fn a_layer_at_the_air_dries_without_limit() {
    let facts = derived(
        "assembly W wall { outside; layer plywood 12 mm; layer vented-gap 25 mm; layer plywood 12 mm; inside }",
    );
    let dries = |layer: usize| (facts.dries_out(layer).expect("known"), facts.dries_in(layer).expect("known"));
    assert_eq!((dries(0).0, dries(2).1), (f64::INFINITY, f64::INFINITY));
    assert!(dries(0).1 > 0.0 && dries(2).0 > 0.0);
}
