//! How easily a layer dries to one side, from the sd of everything that vapor has to cross there (ISO 13788, 3.1).

use crate::physics::{DELTA0, Ventilation};

/// Permeance of a drying path, kg/(m2 s Pa): that of the layers between the drying layer and the outdoors or the room, nearest
/// first, up to a well-ventilated one. It is infinite where there is no layer.
///
/// Each layer comes with its sd in m by wet-cup values, since a drying wall is wet. The drying layer is not part of the path:
/// how slowly it releases its own water is computed by [`crate::physics::drying()`].
///
/// # Errors
/// The first sd on the path that is not known.
pub fn drying_permeance<E>(path: impl IntoIterator<Item = (Ventilation, Result<f64, E>)>) -> Result<f64, E> {
    let closed = path.into_iter().take_while(|(ventilation, _)| *ventilation != Ventilation::Well);
    // sd = sd1 + sd2 + ...; W = delta0 / sd
    let sd = closed.map(|(_, sd)| sd).try_fold(0.0, |sum, sd| Ok(sum + sd?))?;
    Ok(DELTA0 / sd)
}
