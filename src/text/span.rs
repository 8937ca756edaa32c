//! A stretch of bytes in one file.

/// Names one file of a run; the numbers carry no meaning beyond being different.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// Bytes `start..end` of a file, on character boundaries.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    pub file: FileId,
    pub start: u32,
    pub end: u32,
}

impl Span {
    pub fn new(file: FileId, start: usize, end: usize) -> Span {
        // Sources over 4 GiB are refused when they are read, so the cast loses nothing.
        Span { file, start: start as u32, end: end as u32 }
    }

    /// The smallest span that covers both; both must lie in one file.
    pub fn to(self, other: Span) -> Span {
        debug_assert_eq!(self.file, other.file);
        Span { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }

    pub fn contains(self, offset: usize) -> bool {
        self.range().contains(&offset)
    }
}
