//! Laps of the demo library, worked out by hand from the drawings: where each piece begins and ends.

use std::path::Path;

use serde_json::Value;

use crate::command::headlap;

fn json(args: &[&str]) -> Value {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let output = headlap().current_dir(root).args(args).output();
    serde_json::from_slice(&output.expect("the program runs").stdout).expect("it writes JSON")
}

/// Laps as `over/under run length`, with `+` when shingled and `s` when sealed.
fn laps(file: &str, detail: &str) -> Vec<String> {
    let facts = json(&["facts", "--format", "json", &format!("examples/millrace/{file}")]);
    let details = facts["details"].as_array().expect("details");
    let detail = details.iter().find(|d| d["name"] == detail).expect("the detail");
    let mut laps: Vec<String> = detail["laps"].as_array().expect("laps").iter().map(lap).collect();
    laps.sort();
    laps
}

fn lap(lap: &Value) -> String {
    let word = |key: &str| lap[key].as_str().unwrap_or_default().to_owned();
    let shingled = if lap["shingled"] == true { " +" } else { "" };
    let sealed = if lap["sealed"] == true { " s" } else { "" };
    format!(
        "{}/{} {} {}{shingled}{sealed}",
        word("over"),
        word("under"),
        word("run"),
        lap["length_mm"].as_f64().unwrap_or(-1.0)
    )
}

#[test]
fn laps_of_the_demo_library_are_those_of_the_drawings() {
    // wrap from -25, strip -75 to 75, boards from -40, all over a stem that ends at 0.
    assert_eq!(
        laps("base.detail", "B1"),
        [
            "boards/stem head 40 +",
            "boards/strip head 115 +",
            "strip/deck head 75 s",
            "strip/stem head 75 + s",
            "wrap/stem head 25 +",
            "wrap/strip head 100 + s",
        ]
    );
    // low to 250, cap -40 to 150 over a ledger that ends at 0, high from 50.
    assert_eq!(laps("walls.detail", "L1"), ["cap/ledger head 40 +", "high/cap head 100 +", "high/low head 200 + s"]);
    // left to 160, right from 0, band -40 to 40.
    assert_eq!(laps("walls.detail", "S1"), ["band/right side 40 s", "right/left side 160"]);
    // brick to 260 and from there on, membrane to 200, step -110 to 150, counter 90 to 300 tucked behind the upper brick.
    assert_eq!(
        laps("roof.detail", "RW2"),
        [
            "brick-top/counter head 40 + s",
            "counter/brick head 170 +",
            "counter/membrane head 110 +",
            "counter/step head 60 +",
            "membrane/brick head 200 s",
            "step/brick head 150",
            "step/roof head 110 +",
        ]
    );
    // membrane from -50 over a wrap that ends at 150.
    let top = laps("roof.detail", "WR1");
    assert!(top.contains(&"membrane/wrap head 200 + s".to_owned()), "{top:?}");
}
