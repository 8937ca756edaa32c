//! Heat and vapor in an assembly: formulas only, in SI units and on plain numbers.
//!
//! Layers run from inside to outside, as in ISO 13788. Months count from 0, January.
//! A caller builds a [`Slab`] from layers and asks [`profile()`], [`condensation()`], [`drying()`], [`surface_factor`] and
//! [`drying_permeance`] about it; [`resistance`] takes framed layers as they are. A framed wall has two slabs, one between
//! the frames and one through them; [`steel_studs`] has what is published of metal frames.
//!
//! | symbol | meaning | unit |
//! |---|---|---|
//! | `t` | temperature (theta of the standards) | C |
//! | `p`, `psat` | vapor pressure, saturation pressure | Pa |
//! | `phi` | relative humidity, 0 to 1 | - |
//! | `d` | thickness | m |
//! | `lambda` | thermal conductivity | W/(m K) |
//! | `R`, `Rsi`, `Rse` | thermal resistance; of the inner and outer surface | m2 K/W |
//! | `U` | thermal transmittance, 1 / R total | W/(m2 K) |
//! | `mu` | vapor resistance factor | - |
//! | `sd` | equivalent air layer, mu d | m |
//! | `delta0` | vapor permeability of air | kg/(m s Pa) |
//! | `W` | vapor permeance, delta0 / sd | kg/(m2 s Pa) |
//! | `g` | vapor flow density | kg/(m2 s) |
//! | `M` | mass of water per area | kg/m2 |
//! | `f` | share of the area that frames take | - |
//! | `fRsi` | surface temperature factor | - |

mod climate;
mod condensation;
mod design;
mod drying;
mod error;
pub mod hourly;
mod paths;
mod profile;
mod slab;
mod steel;
mod surface;
mod u_value;
mod vapor;

pub use climate::{Air, HumidityClass, Indoor, MONTH_DAYS, Month, Year};
pub use condensation::{Condensation, Outlook, Plane, condensation};
pub use design::{DesignPeriod, DryingPeriod, Spell, WetPlane, design_period};
pub use drying::{Drying, Wetting, drying};
pub use error::Error;
pub use paths::drying_permeance;
pub use profile::{Point, Profile, profile};
pub use slab::{Layer, Slab, SlabPlace, Surfaces, Ventilation};
pub use steel::steel_studs;
pub use surface::{SurfaceFactor, surface_factor};
pub use u_value::{Frame, HeatFlow, Resistance, ThermalLayer, air_layer, resistance};
pub use vapor::{
    AIR_LAYER_SD, DELTA0, PERM, RetarderClass, TIGHT_SD, retarder_class, saturation_pressure,
    saturation_pressure_over_water, saturation_temperature,
};
