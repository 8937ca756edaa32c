//! What kind of thing a quantity measures.

/// The dimensions that wall details need. They are kept apart by meaning, not by exponents: a vapor
/// permeance reduces to seconds per metre, which nobody would compare with a slowness.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dimension {
    Number,
    Ratio,
    Length,
    Duration,
    Temperature,
    TemperatureDifference,
    Slope,
    Permeance,
    Permeability,
    Conductivity,
    Resistance,
    Density,
    Pressure,
    AirFlow,
    MassPerArea,
}

use Dimension::*;

impl Dimension {
    /// The name as a sentence uses it, with its article where it takes one.
    pub fn phrase(self) -> &'static str {
        match self {
            Number => "a plain number",
            Ratio => "a percentage",
            Length => "a length",
            Duration => "a number of days",
            Temperature => "a temperature",
            TemperatureDifference => "a temperature difference",
            Slope => "a slope",
            Permeance => "a vapor permeance",
            Permeability => "a vapor permeability",
            Conductivity => "a thermal conductivity",
            Resistance => "a thermal resistance",
            Density => "a density",
            Pressure => "a pressure",
            AirFlow => "an air flow through an area",
            MassPerArea => "a mass on an area",
        }
    }

    /// What a sum of the two is, if they can be added at all.
    pub fn plus(self, other: Dimension) -> Option<Dimension> {
        match (self, other) {
            (Temperature, Temperature) => None,
            (Temperature, TemperatureDifference) | (TemperatureDifference, Temperature) => Some(Temperature),
            (a, b) if a == b => Some(a),
            _ => None,
        }
    }

    pub fn minus(self, other: Dimension) -> Option<Dimension> {
        match (self, other) {
            (Temperature, Temperature) => Some(TemperatureDifference),
            (Temperature, TemperatureDifference) => Some(Temperature),
            (a, b) if a == b => Some(a),
            _ => None,
        }
    }

    pub fn times(self, other: Dimension) -> Option<Dimension> {
        match (self, other) {
            (Temperature, _) | (_, Temperature) => None,
            (Number | Ratio, x) | (x, Number | Ratio) => Some(x),
            (Resistance, Conductivity) | (Conductivity, Resistance) => Some(Length),
            (Permeance, Length) | (Length, Permeance) => Some(Permeability),
            _ => None,
        }
    }

    pub fn over(self, other: Dimension) -> Option<Dimension> {
        match (self, other) {
            (Temperature, _) | (_, Temperature) => None,
            (x, Number | Ratio) => Some(x),
            (Length, Conductivity) => Some(Resistance),
            (Length, Resistance) => Some(Conductivity),
            (Permeability, Length) => Some(Permeance),
            (Permeability, Permeance) => Some(Length),
            (a, b) if a == b => Some(Number),
            _ => None,
        }
    }
}
