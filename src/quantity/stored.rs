//! How quantities are kept in what the build script prepares.

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::quantity::{Quantity, UNITS};

impl Serialize for Quantity {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let unit = UNITS.iter().position(|unit| unit == self.unit).expect("each unit stands in the table");
        (self.si, unit as u32).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Quantity {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Quantity, D::Error> {
        let (si, unit) = <(f64, u32)>::deserialize(deserializer)?;
        let unit = UNITS.get(unit as usize).ok_or_else(|| D::Error::custom("there is no such unit"))?;
        Ok(Quantity { si, unit })
    }
}
