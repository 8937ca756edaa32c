//! Saturation, dew point, and the measures of how much a layer resists vapor.

use crate::physics::Error;

/// Vapor permeability of still air, kg/(m s Pa) (ISO 13788:2012, 3.2, with the barometric pressure left out).
pub const DELTA0: f64 = 2.0e-10;

/// One US perm, grain/(h ft2 inHg), at 0 C, kg/(m2 s Pa) (ASTM E96).
pub const PERM: f64 = 5.72135e-11;

/// Equivalent air layer of any air layer, m: convection makes its thickness matter little (ISO 13788, 4.3).
pub const AIR_LAYER_SD: f64 = 0.01;

/// The finite value used for an infinite `sd`, m: a layer without any permeance still has to be computed with.
pub const TIGHT_SD: f64 = 1.0e5;

/// Saturation pressure over water at and above 0 C, over ice below, Pa, of `t` in C (ISO 13788, E.1 and E.2).
pub fn saturation_pressure(t: f64) -> f64 {
    if t >= 0.0 {
        saturation_pressure_over_water(t)
    } else {
        // psat = 610.5 exp(21.875 t / (265.5 + t))
        610.5 * (21.875 * t / (265.5 + t)).exp()
    }
}

/// The branch over liquid water, Pa, also for undercooled water below 0 C: weather stations refer relative humidity
/// to it at every temperature (WMO-No. 8).
pub fn saturation_pressure_over_water(t: f64) -> f64 {
    // psat = 610.5 exp(17.269 t / (237.3 + t))
    610.5 * (17.269 * t / (237.3 + t)).exp()
}

/// Temperature in C at which `p` in Pa saturates: the inverse of [`saturation_pressure`] (ISO 13788, E.3 and E.4).
///
/// Errors: `Pressure` for a pressure that is not positive, or beyond 100 kPa.
pub fn saturation_temperature(p: f64) -> Result<f64, Error> {
    if !(p > 0.0 && p <= 1.0e5) {
        return Err(Error::Pressure { value: p });
    }
    let ln = (p / 610.5).ln();
    if ln >= 0.0 {
        // t = 237.3 ln(p/610.5) / (17.269 - ln(p/610.5))
        Ok(237.3 * ln / (17.269 - ln))
    } else {
        // t = 265.5 ln(p/610.5) / (21.875 - ln(p/610.5))
        Ok(265.5 * ln / (21.875 - ln))
    }
}

/// Vapor retarder class of US codes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RetarderClass {
    I,
    II,
    III,
    /// Above 10 perm: no retarder.
    Open,
}

/// Class of a `permeance` in kg/(m2 s Pa): at most 0.1, 1.0 and 10 perm (IRC R702.7, by dry-cup value).
pub fn retarder_class(permeance: f64) -> RetarderClass {
    // A value written as 0.1 perm belongs to class I, however its last bit was rounded.
    let perms = permeance / PERM * (1.0 - 1e-9);
    match perms {
        w if w <= 0.1 => RetarderClass::I,
        w if w <= 1.0 => RetarderClass::II,
        w if w <= 10.0 => RetarderClass::III,
        _ => RetarderClass::Open,
    }
}
