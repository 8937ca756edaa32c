//! The design condition as programs read it, against the textbook's example.

use std::path::Path;

use serde_json::Value;

use super::near;
use crate::command::headlap;

/// T1: a textbook of building physics, chapter on moisture, example a; tolerances are the printed digits.
#[test]
fn programs_get_the_design_condition_as_the_textbook_has_it() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut command = headlap();
    let output = command.current_dir(root).args(["facts", "--format", "json", "tests/physics/design_condition.detail"]);
    let facts: Value = serde_json::from_slice(&output.output().expect("it runs").stdout).expect("it writes JSON");
    let assembly = &facts["assemblies"][0];
    let design = &assembly["design_condition"];
    let number = |value: &Value| value.as_f64().expect("a number");
    near("condensate", number(&design["condensate_kg_m2"]), 0.27, 0.005);
    near("drying", number(&design["drying_kg_m2"]), 0.659, 0.0005);
    near("residue", number(&design["residue_kg_m2"]), 0.0, 0.0);
    let interfaces = design["interfaces"].as_array().expect("interfaces");
    let temperatures = [18.6, 17.8, 17.8, -4.0, -4.8];
    assert_eq!(interfaces.len(), temperatures.len());
    for (interface, temperature) in interfaces.iter().zip(temperatures) {
        near(interface["at"].as_str().expect("a place"), number(&interface["temperature_C"]), temperature, 0.05);
    }
    let wet: Vec<&str> =
        interfaces.iter().filter(|i| i["condenses"] == true).filter_map(|i| i["at"].as_str()).collect();
    assert_eq!(wet, ["wool | outer-board"]);
    assert_eq!(assembly["climate_source"], "DIN 4108-3");
}
