//! Steel studs: averaging parallel paths does not give the heat that they conduct, so their values come from a published table.

const INCH: f64 = 0.0254;
/// 1 h ft2 F/Btu in m2 K/W.
const R: f64 = 0.176_110;

/// ASHRAE 90.1, table A3.3, from memory: spacing and depth of the studs in inches, labeled R between them, R of the whole
/// layer, both in h ft2 F/Btu. An empty layer has one value at every depth.
const TABLE: [(f64, f64, f64, f64); 14] = [
    (16.0, 0.0, 0.0, 0.79),
    (16.0, 3.5, 11.0, 5.5),
    (16.0, 3.5, 13.0, 6.0),
    (16.0, 3.5, 15.0, 6.4),
    (16.0, 5.5, 19.0, 7.1),
    (16.0, 5.5, 21.0, 7.4),
    (16.0, 8.0, 25.0, 7.8),
    (24.0, 0.0, 0.0, 0.91),
    (24.0, 3.5, 11.0, 6.6),
    (24.0, 3.5, 13.0, 7.2),
    (24.0, 3.5, 15.0, 7.8),
    (24.0, 5.5, 19.0, 8.6),
    (24.0, 5.5, 21.0, 9.0),
    (24.0, 8.0, 25.0, 9.6),
];

/// R in m2 K/W of a layer of steel studs with insulation of `between` in m2 K/W, as labeled; `depth` and `spacing` in m. It is
/// that of the best row that the layer reaches; `None` where it reaches none, such as studs closer than 16 in.
pub fn steel_studs(between: f64, depth: f64, spacing: f64) -> Option<f64> {
    // Metric drawings say 400 and 600 mm for 16 and 24 in, and 90, 140 and 200 mm for the depths.
    let reaches = |given: f64, inches: f64| given >= 0.97 * inches * INCH;
    let rows = TABLE.iter().filter(|(apart, deep, r, _)| {
        let filled = if between == 0.0 { *r == 0.0 } else { *r > 0.0 && between >= (*r - 0.05) * R };
        reaches(spacing, *apart) && reaches(depth, *deep) && filled
    });
    rows.map(|(.., effective)| effective * R).reduce(f64::max)
}
