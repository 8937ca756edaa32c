//! The numbers of files, given out here alone: each kind of text has a stretch of its own.

use crate::text::FileId;

/// Details and what they include count up from 0 to the list of known findings.
const KNOWN: u32 = SETTINGS - 1;
const SETTINGS: u32 = 1 << 31;
const BUILT_IN: u32 = 3 << 30;
/// Stock rules count down from the top, and those of former editions from far enough below.
const STOCK: u32 = u32::MAX;
const FORMER: u32 = STOCK - 100_000;

impl FileId {
    /// The list of known findings.
    pub const KNOWN_LIST: FileId = FileId(KNOWN);
    /// The file of a project's climate.
    pub const CLIMATE: FileId = FileId(KNOWN - 1);
    /// A project's settings.
    pub const SETTINGS: FileId = FileId(SETTINGS);

    /// A file of details, or one that they include.
    pub fn detail(number: usize) -> FileId {
        FileId(number as u32)
    }

    /// A file of a firm's rules.
    pub fn firm_rules(number: usize) -> FileId {
        FileId(SETTINGS + 1 + number as u32)
    }

    /// A built-in library of materials or climates.
    pub fn built_in(number: usize) -> FileId {
        FileId(BUILT_IN + number as u32)
    }

    /// A file of stock rules.
    pub fn stock_rules(number: usize) -> FileId {
        FileId(STOCK - number as u32)
    }

    /// A file of rules as a former edition had them.
    pub fn former_rules(number: usize) -> FileId {
        FileId(FORMER - number as u32)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hundred_thousand_of_each_kind_share_no_number() {
        const MOST: usize = 99_999;
        let kinds = [FileId::detail, FileId::firm_rules, FileId::built_in, FileId::stock_rules, FileId::former_rules];
        let ends = |kind: fn(usize) -> FileId| {
            let (a, b) = (kind(0).0, kind(MOST).0);
            (a.min(b), a.max(b))
        };
        let single = [FileId::KNOWN_LIST, FileId::CLIMATE, FileId::SETTINGS].map(|id| (id.0, id.0));
        let mut all: Vec<(u32, u32)> = kinds.map(ends).into_iter().chain(single).collect();
        all.sort_unstable();
        assert!(all.windows(2).all(|pair| pair[0].1 < pair[1].0), "{all:?}");
    }
}
