//! How easily a layer dries to one side: the sd of all that vapor has to cross there (ISO 13788, 3.1).

use crate::physics::{DELTA0, Ventilation};

/// Permeance of a drying path, kg/(m2 s Pa): of the layers between one that dries and the outdoors or the room, nearest first,
/// up to a well-ventilated one. Infinite where nothing is in the way.
///
/// Each layer comes with its sd in m by wet-cup values, since drying happens wet. The layer that dries is no part of the path:
/// how slowly it gives its own water away is for [`crate::physics::drying()`].
///
/// # Errors
/// The first sd on the path that is not known.
pub fn drying_permeance<E>(path: impl IntoIterator<Item = (Ventilation, Result<f64, E>)>) -> Result<f64, E> {
    let closed = path.into_iter().take_while(|(ventilation, _)| *ventilation != Ventilation::Well);
    // sd = sd1 + sd2 + ...; W = delta0 / sd
    let sd = closed.map(|(_, sd)| sd).try_fold(0.0, |sum, sd| Ok(sum + sd?))?;
    Ok(DELTA0 / sd)
}
