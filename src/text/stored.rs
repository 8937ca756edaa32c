//! How places are kept in what the build script prepares.

use serde::{Deserialize, Deserializer, Serialize, Serializer};

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
