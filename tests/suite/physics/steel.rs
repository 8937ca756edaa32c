//! Steel studs against the rows of the published table.

use headlap::physics::steel_studs;

use super::near;

const INCH: f64 = 0.0254;
const R: f64 = 0.17611;

/// ASHRAE 90.1, table A3.3, from memory: spacing and depth in inches, labeled R, effective R.
const ROWS: [(f64, f64, f64, f64); 8] = [
    (16.0, 3.5, 13.0, 6.0),
    (16.0, 3.5, 15.0, 6.4),
    (16.0, 5.5, 19.0, 7.1),
    (16.0, 6.0, 21.0, 7.4),
    (24.0, 3.5, 13.0, 7.2),
    (24.0, 3.5, 15.0, 7.8),
    (24.0, 6.0, 19.0, 8.6),
    (24.0, 6.0, 21.0, 9.0),
];

#[test]
fn steel_studs_have_what_the_table_prints() {
    for (spacing, depth, between, effective) in ROWS {
        let got = steel_studs(between * R, depth * INCH, spacing * INCH).expect("a row");
        near(&format!("{spacing} {depth} R {between}"), got / R, effective, 0.005);
    }
}

#[test]
fn what_lies_between_the_rows_is_taken_as_the_lower_one_and_nothing_is_made_up_below_them() {
    let of = |between: f64, depth: f64, spacing: f64| steel_studs(between * R, depth, spacing).map(|r| r / R);
    // 140 mm at 600 mm is 5-1/2 in at 24 in; R-23 is more than the table has.
    near("metric", of(23.0, 0.140, 0.6).expect("a row"), 9.0, 0.005);
    near("R-20", of(20.0, 0.140, 0.4).expect("a row"), 7.1, 0.005);
    assert_eq!(of(10.0, 0.090, 0.4), None);
    assert_eq!(of(13.0, 0.090, 0.3), None);
}
