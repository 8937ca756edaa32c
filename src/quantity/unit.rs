//! The unit table: every unit that a file may write, and how it turns into SI.

use crate::quantity::Dimension::{self, *};

/// `si = written * factor + offset`.
#[derive(Debug, PartialEq)]
pub struct Unit {
    pub symbol: &'static str,
    pub dimension: Dimension,
    pub factor: f64,
    pub offset: f64,
    /// Written before the number, as in `R 14`.
    pub prefix: bool,
}

const fn unit(symbol: &'static str, dimension: Dimension, factor: f64) -> Unit {
    Unit { symbol, dimension, factor, offset: 0.0, prefix: false }
}

const fn prefix(symbol: &'static str, dimension: Dimension, factor: f64) -> Unit {
    Unit { symbol, dimension, factor, offset: 0.0, prefix: true }
}

/// All units. The first of each dimension is the one used when an author wrote none.
///
/// Sources: international foot and pound (NIST SP 811, appendix B); 1 US perm at 0 C = 5.72135e-11
/// kg/(Pa s m2) (ASTM E96); 1 ft2 h F/Btu = 0.17611 m2 K/W and 1 Btu in/(h ft2 F) = 0.14423 W/(m K)
/// (NIST SP 811); slopes and percentages are ratios.
pub const UNITS: &[Unit] = &[
    unit("", Number, 1.0),
    unit("%", Ratio, 0.01),
    unit("mm", Length, 1e-3),
    unit("cm", Length, 1e-2),
    unit("m", Length, 1.0),
    unit("in", Length, 0.0254),
    unit("ft", Length, 0.3048),
    unit("mil", Length, 2.54e-5),
    unit("um", Length, 1e-6),
    unit("days", Duration, 86_400.0),
    unit("day", Duration, 86_400.0),
    Unit { symbol: "C", dimension: Temperature, factor: 1.0, offset: 273.15, prefix: false },
    Unit { symbol: "F", dimension: Temperature, factor: 5.0 / 9.0, offset: 459.67 * 5.0 / 9.0, prefix: false },
    unit("K", TemperatureDifference, 1.0),
    unit("deg", Slope, 1.0),
    unit("slope", Slope, 1.0),
    unit("in per ft", Slope, 1.0 / 12.0),
    unit("mm per m", Slope, 1e-3),
    unit("cm per m", Slope, 1e-2),
    unit("perm", Permeance, 5.721_35e-11),
    unit("perms", Permeance, 5.721_35e-11),
    unit("ng/Pa.s.m2", Permeance, 1e-12),
    unit("perm.in", Permeability, 5.721_35e-11 * 0.0254),
    unit("ng/Pa.s.m", Permeability, 1e-12),
    unit("W/m.K", Conductivity, 1.0),
    unit("Btu.in/h.ft2.F", Conductivity, 0.144_227_9),
    unit("m2.K/W", Resistance, 1.0),
    prefix("RSI", Resistance, 1.0),
    prefix("R", Resistance, 0.176_110_2),
    unit("kg/m3", Density, 1.0),
    unit("lb/ft3", Density, 16.018_463),
    unit("Pa", Pressure, 1.0),
    unit("psf", Pressure, 47.880_26),
    unit("L/s.m2", AirFlow, 1e-3),
    unit("cfm/ft2", AirFlow, 5.08e-3),
    unit("g/m2", MassPerArea, 1e-3),
    unit("kg/m2", MassPerArea, 1.0),
];

pub fn unit_named(symbol: &str) -> Option<&'static Unit> {
    UNITS.iter().find(|u| u.symbol == symbol)
}

pub fn units_of(dimension: Dimension) -> impl Iterator<Item = &'static Unit> {
    UNITS.iter().filter(move |u| u.dimension == dimension)
}

/// The unit of a dimension where the text states none.
pub fn base_unit(dimension: Dimension) -> &'static Unit {
    units_of(dimension).next().expect("every dimension has a unit in the table")
}
