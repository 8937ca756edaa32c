//! Quantities with units: SI inside, the author's unit kept for showing.

mod dimension;
mod parse;
mod show;
mod stored;
mod system;
mod unit;
mod value;

pub use dimension::Dimension;
pub use parse::{NumberError, parse_number, parse_quantity};
pub use system::System;
pub use unit::{UNITS, Unit, base_unit, unit_named, units_of};
pub use value::Quantity;
