//! A stretch of bytes in one file.

/// Names one file of a run. The numbers only have to differ; `number.rs` alone makes them.
///
/// ```
/// use headlap::FileId;
///
/// assert_ne!(FileId::detail(0), FileId::firm_rules(0));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub(crate) u32);

/// Bytes `start..end` of a file, on character boundaries.
///
/// ```
/// use headlap::{FileId, Span};
///
/// let file = FileId::detail(0);
/// let whole = Span::new(file, 2, 4).to(Span::new(file, 7, 9));
/// assert_eq!(whole.range(), 2..9);
/// assert!(whole.contains(5) && !whole.contains(9));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file that the bytes are in.
    pub file: FileId,
    /// The first byte.
    pub start: u32,
    /// The byte behind the last.
    pub end: u32,
}

impl Span {
    /// Bytes of a file.
    pub fn new(file: FileId, start: usize, end: usize) -> Span {
        // Sources over 4 GiB are refused when they are read, so the cast loses nothing.
        Span { file, start: start as u32, end: end as u32 }
    }

    /// The smallest span that covers both; both must lie in one file.
    pub fn to(self, other: Span) -> Span {
        debug_assert_eq!(self.file, other.file);
        Span { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// The bytes alone, to cut them out of a text.
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }

    /// Whether a byte lies inside.
    pub fn contains(self, offset: usize) -> bool {
        self.range().contains(&offset)
    }
}
