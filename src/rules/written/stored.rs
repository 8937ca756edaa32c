//! How sources are kept in the prepared form.

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::finding::{Basis, Known};

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
