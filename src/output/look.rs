//! How text is to look where it is read.

/// The choices that depend on the place where the text is shown, not on what was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    pub color: bool,
    /// Lines and marks beyond ASCII may be drawn. Names from files are shown as they are, either way.
    pub unicode: bool,
    /// Characters in a line.
    pub width: usize,
    /// Whole sentences without drawn lines, for a screen reader.
    pub narrate: bool,
    /// Findings alone: neither what was accepted nor the count nor the caution.
    pub quiet: bool,
    /// Text ends with the caution. The log of a gate need not repeat it in every run.
    pub caution: bool,
}

impl Look {
    /// Without color and 100 characters wide: for files, pipes and tests.
    pub const PLAIN: Look =
        Look { color: false, unicode: true, width: 100, narrate: false, quiet: false, caution: true };
}
