//! The weather and the room that an assembly stands between.

use crate::model::Name;
use crate::quantity::Quantity;
use crate::text::Span;

/// As a climate names them.
pub const MONTHS: [&str; 12] = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

#[derive(Clone, Debug)]
pub struct Climate {
    pub name: Name,
    pub title: Option<String>,
    /// Climate zone of the energy codes, such as `6A` or `4C`.
    pub zone: Option<Name>,
    pub indoor: Option<Indoor>,
    /// January to December, or nothing.
    pub months: Option<[Outdoor; 12]>,
    pub design: Option<DesignCondition>,
    pub drying: Option<DryingPeriod>,
    /// Where the months come from, and who chose the room.
    pub source: Option<String>,
    pub name_span: Span,
}

/// A monthly mean outdoors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outdoor {
    pub temperature: Quantity,
    /// Relative humidity, a ratio.
    pub humidity: Quantity,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Indoor {
    Fixed {
        temperature: Quantity,
        humidity: Quantity,
    },
    /// Humidity class 1 to 5 of ISO 13788, with 20 C.
    Class(u8),
}

/// One steady condition for a number of days, instead of months.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DesignCondition {
    pub outdoor: Outdoor,
    pub indoor: Outdoor,
    pub days: Quantity,
}

/// The period in which the moisture of the design condition has to leave again.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DryingPeriod {
    /// Vapor pressure on both sides.
    pub vapor: Quantity,
    /// Saturation pressure at the wet plane.
    pub saturation: Quantity,
    pub days: Quantity,
}
