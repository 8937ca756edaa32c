//! The vapor resistance of a material, from whichever measure its author gave.

use crate::model::{Material, VaporUnit};
pub use crate::physics::PERM;
use crate::physics::{DELTA0, RetarderClass, retarder_class};
use crate::quantity::{Dimension, Quantity, base_unit};

/// Equivalent still-air layer sd in meters, dry-cup and wet-cup.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirLayer {
    pub dry: f64,
    pub wet: f64,
}

/// sd of a thickness of the material, or the name of the property that would be needed.
///
/// A single value counts for both cups. `mu` and permeability belong to the substance and need a thickness; permeance and `sd`
/// belong to the product as it is sold.
pub fn air_layer(material: &Material, thickness: Option<f64>) -> Result<AirLayer, &'static str> {
    let given = material.vapor.ok_or("permeance")?;
    let sd = |value: f64| match given.unit {
        VaporUnit::Permeance => Ok(DELTA0 / value),
        VaporUnit::AirLayer => Ok(value),
        VaporUnit::Mu => thickness.map(|d| value * d).ok_or("thickness"),
        VaporUnit::Permeability => thickness.map(|d| DELTA0 * d / value).ok_or("thickness"),
    };
    let dry = sd(given.dry.si)?;
    let wet = given.wet.map_or(Ok(dry), |wet| sd(wet.si))?;
    Ok(AirLayer { dry, wet })
}

/// Permeance in kg/(Pa s m2) of an sd in meters.
pub fn permeance(sd: f64) -> f64 {
    DELTA0 / sd
}

/// A permeance in perms for a column of numbers: two decimals, and two digits where that would be none.
pub fn perms(permeance: f64) -> String {
    let value = permeance / PERM;
    let digits = if value == 0.0 { 2 } else { (1 - value.abs().log10().floor() as i32).clamp(2, 6) as usize };
    format!("{value:.digits$}")
}

/// Class of a vapor retarder by its dry-cup permeance, as rules name it.
pub fn class(permeance: f64) -> &'static str {
    match retarder_class(permeance) {
        RetarderClass::I => "I",
        RetarderClass::II => "II",
        RetarderClass::III => "III",
        RetarderClass::Open => "open",
    }
}

/// Whether it is more than 1 perm. A class I or II retarder whose wet-cup value is counts as responsive (IRC R702.7).
pub fn over_one_perm(sd: f64) -> bool {
    retarder_class(permeance(sd)) > RetarderClass::II
}

/// A permeance in the unit that the author of the material uses, perm for one who gave another measure.
pub fn shown(permeance: f64, material: &Material) -> Quantity {
    let written = material.vapor.filter(|v| v.unit == VaporUnit::Permeance).map(|v| v.dry.unit);
    Quantity::from_si(permeance, written.unwrap_or_else(|| base_unit(Dimension::Permeance)))
}
