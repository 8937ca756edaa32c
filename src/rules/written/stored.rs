//! How places, quantities and sources are kept in the prepared form.

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::finding::{Basis, Known};
use crate::quantity::{Quantity, UNITS};
use crate::text::{FileId, Span};

impl Serialize for Span {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // Files of stock rules count down from the top: their distance from it is short.
        (u32::MAX - self.file.0, self.start, self.end - self.start).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Span {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Span, D::Error> {
        let (file, start, length) = <(u32, u32, u32)>::deserialize(deserializer)?;
        Ok(Span { file: FileId(u32::MAX - file), start, end: start + length })
    }
}

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

impl Serialize for Known {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.word().serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Known {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Known, D::Error> {
        Known::from_word(<&str>::deserialize(deserializer)?).ok_or_else(|| D::Error::custom("there is no such word"))
    }
}

impl Serialize for Basis {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        (&self.source, &self.clause, &self.says, self.known).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Basis {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Basis, D::Error> {
        let (source, clause, says, known) = Deserialize::deserialize(deserializer)?;
        Ok(Basis { source, clause, says, known })
    }
}
