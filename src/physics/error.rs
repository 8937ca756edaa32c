//! Invalid input of formulas.

use std::fmt;

/// What is wrong with the numbers. Layers count from 0, inside first.
#[derive(Clone, Debug, PartialEq)]
pub enum Error {
    /// There is no layer to compute with.
    NoLayers,
    /// A value that has to be finite and at least zero is not.
    BadLayer { layer: usize, quantity: &'static str, value: f64 },
    /// A layer number beyond the slab.
    NoSuchLayer { layer: usize, layers: usize },
    /// Surface resistances that are negative or not finite.
    BadSurface { value: f64 },
    /// The resistances add up to zero, or to no finite number.
    NoResistance,
    /// A share of frames outside 0 to 1.
    BadShare { layer: usize, value: f64 },
    /// So many framed layers that there would be too many sections.
    TooManyFrames { frames: usize },
    /// An air layer thicker than the table of ISO 6946, or of negative thickness, m.
    AirLayer { thickness: f64 },
    /// A temperature outside -100 to 100 C.
    Temperature { value: f64 },
    /// A relative humidity outside 0 to 1.
    Humidity { value: f64 },
    /// A vapor pressure that is negative, above 100 kPa or not finite.
    Pressure { value: f64 },
    /// A year needs twelve months.
    Months { given: usize },
    /// Humidity classes run from 1 to 5.
    HumidityClass { value: u8 },
    /// A duration, mass, vapor property or the like that has to be finite and at least zero.
    Negative { quantity: &'static str, value: f64 },
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Error::NoLayers => write!(f, "there are no layers to compute with"),
            Error::BadLayer { layer, quantity, value } => {
                write!(f, "layer {}: {quantity} is {value}; expected a number of at least zero", layer + 1)
            }
            Error::NoSuchLayer { layer, layers } => write!(f, "there is no layer {}; there are {layers}", layer + 1),
            Error::BadSurface { value } => write!(f, "a surface resistance of {value} m2K/W is impossible"),
            Error::NoResistance => write!(f, "the thermal resistances add up to zero or are not numbers"),
            Error::BadShare { layer, value } => {
                write!(f, "layer {}: frames take {value} of the area; expected a share between 0 and 1", layer + 1)
            }
            Error::TooManyFrames { frames } => write!(f, "{frames} framed layers are too many to combine"),
            Error::AirLayer { thickness } => {
                write!(f, "an air layer of {thickness} m is outside the table of ISO 6946, which ends at 0.3 m")
            }
            Error::Temperature { value } => write!(f, "a temperature of {value} C is outside -100 to 100 C"),
            Error::Humidity { value } => write!(f, "a relative humidity of {value} is outside 0 to 1"),
            Error::Pressure { value } => write!(f, "a vapor pressure of {value} Pa is impossible"),
            Error::Months { given } => write!(f, "a year needs 12 months, and {given} are given"),
            Error::HumidityClass { value } => write!(f, "there is no humidity class {value}; they run from 1 to 5"),
            Error::Negative { quantity, value } => {
                write!(f, "{quantity} is {value}; expected a number of at least zero")
            }
        }
    }
}

impl std::error::Error for Error {}

/// `value` if it is finite and at least zero.
pub(super) fn at_least_zero(quantity: &'static str, value: f64) -> Result<f64, Error> {
    if value.is_finite() && value >= 0.0 { Ok(value) } else { Err(Error::Negative { quantity, value }) }
}
