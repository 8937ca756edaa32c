//! Mold on the inner surface (ISO 13788, clause 5).

use crate::physics::{Error, Slab, Year, saturation_temperature};

/// Temperature factors of the inner surface: 0 is as cold as outdoors, 1 as warm as the room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurfaceFactor {
    /// fRsi,max: the factor that the worst month requires; 0 if no month requires any. Above 1, no insulation is enough.
    pub needed: f64,
    pub month: Option<usize>,
    /// fRsi of the slab.
    pub reached: f64,
}

impl SurfaceFactor {
    /// Whether the surface stays dry enough all year.
    #[cfg_attr(sealed, expect(dead_code, reason = "tests ask it; rules compare the two factors"))]
    pub fn passes(&self) -> bool {
        self.reached >= self.needed
    }
}

/// Rsi behind furniture and curtains, m2 K/W (ISO 13788, 4.4.1).
const SHELTERED_RSI: f64 = 0.25;

/// Relative humidity at the surface that mold needs (ISO 13788, 5.3).
const MOLD_HUMIDITY: f64 = 0.8;

/// The surface factor of `slab` and the one that the worst month requires (ISO 13788, 5.3). Months that are as warm outdoors as
/// indoors require nothing.
pub fn surface_factor(slab: &Slab, year: &Year) -> Result<SurfaceFactor, Error> {
    let mut needed = (0.0, None);
    for (number, month) in year.months().iter().enumerate() {
        let (inside, outside) = (month.indoor.temperature, month.outdoor.temperature);
        if month.indoor.pressure <= 0.0 || inside <= outside {
            continue;
        }
        // psat(tsi) >= pi / 0.8
        let least = saturation_temperature(month.indoor.pressure / MOLD_HUMIDITY)?;
        // fRsi,min = (tsi,min - te) / (ti - te)
        let factor = (least - outside) / (inside - outside);
        if factor > needed.0 {
            needed = (factor, Some(number));
        }
    }
    // fRsi = (RT - Rsi) / RT
    let beyond = slab.resistance() - slab.surfaces().inside;
    Ok(SurfaceFactor { needed: needed.0, month: needed.1, reached: beyond / (beyond + SHELTERED_RSI) })
}
