//! A number with its unit.

use crate::quantity::{Dimension, Unit, base_unit};

/// A value in SI with the unit that its author wrote.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    pub si: f64,
    pub unit: &'static Unit,
}

impl Quantity {
    /// From a number in a unit: `Quantity::of(150.0, mm)`.
    pub fn of(number: f64, unit: &'static Unit) -> Quantity {
        let si = if unit.symbol == "deg" { number.to_radians().tan() } else { number * unit.factor + unit.offset };
        Quantity { si, unit }
    }

    /// From an SI value, to be shown in `unit`.
    pub fn from_si(si: f64, unit: &'static Unit) -> Quantity {
        Quantity { si, unit }
    }

    pub fn in_base_unit(si: f64, dimension: Dimension) -> Quantity {
        Quantity { si, unit: base_unit(dimension) }
    }

    pub fn dimension(self) -> Dimension {
        self.unit.dimension
    }

    /// The number as written in the unit.
    pub fn number(self) -> f64 {
        if self.unit.symbol == "deg" {
            return self.si.atan().to_degrees();
        }
        (self.si - self.unit.offset) / self.unit.factor
    }
}
