//! What is worked out of an assembly layer by layer. Values follow from R = d / λ and from what the materials state.

use std::sync::Arc;

use headlap::facts::AssemblyFacts;
use headlap::model::Shelf;
use headlap::text::{FileId, Source};

use crate::review::pack;

/// The last assembly of a text, with the built-in materials.
fn derived(text: &str) -> AssemblyFacts {
    let fetch = |_: &str| Err("there is no such file".to_owned());
    let shelf = Shelf::new(&fetch, &pack().words);
    let text = format!("include \"stock.detail\"\n{text}");
    let reading = shelf.read(Arc::new(Source::new(FileId(0), "a.detail", text)));
    AssemblyFacts::derive(reading.library.assemblies.last().expect("an assembly").clone())
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
    // Of another thickness the conductivity tells: 0.02 / 0.04; without one, half the thickness has half of it.
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
fn an_assembly_with_a_layer_that_nobody_knows_or_can_read_is_doubtful() {
    let doubtful = |layer: &str| derived(&format!("assembly W wall {{\n  outside\n  {layer}\n  inside\n}}")).doubtful();
    assert!(!doubtful("layer plywood 12 mm"));
    assert!(doubtful("layer plywoood 12 mm"));
    assert!(doubtful("layer plywood 12 parsecs"));
}
