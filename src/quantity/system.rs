//! Metric and US customary units.

use crate::quantity::unit::unit_named;
use crate::quantity::{Dimension, Quantity};

/// The two systems that a building trade measures in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    Metric,
    Us,
}

impl System {
    pub fn word(self) -> &'static str {
        match self {
            System::Metric => "metric",
            System::Us => "us",
        }
    }

    /// The same quantity in the system's usual unit. Lengths stay: their authors write them on purpose. So does what
    /// both systems measure alike, such as a ratio, days or condensate in g/m2.
    pub fn show(self, quantity: Quantity) -> Quantity {
        let (metric, us) = match quantity.dimension() {
            Dimension::Temperature => ("C", "F"),
            Dimension::Permeance => ("ng/Pa.s.m2", "perm"),
            Dimension::Permeability => ("ng/Pa.s.m", "perm.in"),
            Dimension::Conductivity => ("W/m.K", "Btu.in/h.ft2.F"),
            Dimension::Resistance => ("m2.K/W", "R"),
            Dimension::Density => ("kg/m3", "lb/ft3"),
            Dimension::Pressure => ("Pa", "psf"),
            Dimension::AirFlow => ("L/s.m2", "cfm/ft2"),
            _ => return quantity,
        };
        let symbol = if self == System::Metric { metric } else { us };
        Quantity::from_si(quantity.si, unit_named(symbol).unwrap_or(quantity.unit))
    }
}

#[cfg(test)]
mod tests {
    use super::System;
    use crate::quantity::parse_quantity;

    #[test]
    fn one_perm_is_57_ng() {
        // ASTM E96: 1 US perm = 57.2135 ng/(Pa s m2).
        let perm = parse_quantity("1 perm").expect("a quantity");
        assert_eq!(System::Metric.show(perm).to_string(), "57.21 ng/Pa.s.m2");
        let wrap = parse_quantity("286.07 ng/Pa.s.m2").expect("a quantity");
        assert_eq!(System::Us.show(wrap).to_string(), "5 perm");
        let lap = parse_quantity("6 in").expect("a quantity");
        assert_eq!(System::Metric.show(lap).to_string(), "6 in");
    }
}
