//! The included texts that files share, until they are too many.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, OnceLock};

use foldhash::HashMap;

use crate::model::source_map::IncludedText;
use crate::model::source_map::unit::MergedNames;
use crate::text::FileId;

/// Bytes of included texts that a run holds at once. What is made of them takes some fifteen times as much.
const ROOM: usize = 1024 * 1024;

/// A shelf holds at least this many times what one file includes, so that what all files include is not read anew for each of them.
const TREES: usize = 8;

/// Where the first include that needs a text puts it; or why the text cannot be read.
pub(super) type LoadedOnce = OnceLock<Result<Arc<IncludedText>, String>>;

/// What files that are read about the same time share: memory must not grow with the library, and files that include the same mostly
/// lie in one folder. A full shelf gives way to an empty one.
#[derive(Default)]
pub(super) struct Shelf {
    pub(super) kept: Mutex<HashMap<String, Arc<LoadedOnce>>>,
    pub(super) merged: Mutex<HashMap<Vec<FileId>, Arc<MergedNames>>>,
    /// Held while reaches are found: what one thread has found in part would mislead another.
    pub(super) reaching: Mutex<()>,
    bytes: AtomicUsize,
}

impl Shelf {
    pub(super) fn holds_more(&self, bytes: usize) {
        self.bytes.fetch_add(bytes, Ordering::Relaxed);
    }

    /// `largest_tree` is in bytes.
    pub(super) fn is_full(&self, largest_tree: usize) -> bool {
        self.bytes.load(Ordering::Relaxed) > ROOM.max(TREES * largest_tree)
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::sync::{Arc, Weak};

    use super::{ROOM, TREES};
    use crate::model::{SourceMap, Words};
    use crate::text::{FileId, Source};

    /// A text of a third of the room, whose number is its name.
    fn included(number: usize) -> Arc<Source> {
        let text = format!("material m{number} sheet {{ mu 5 }}\n#{}\n", "x".repeat(ROOM / 3));
        Arc::new(Source::new(FileId::detail(number), format!("{number}.detail"), text))
    }

    fn including(number: usize) -> Arc<Source> {
        let text =
            format!("include \"{number}.detail\"\nassembly A existing {{ outside; layer m{number} 1 mm; inside }}\n");
        Arc::new(Source::new(FileId::detail(1000 + number), format!("of-{number}.detail"), text))
    }

    #[test]
    fn texts_that_files_read_long_ago_included_are_let_go_and_read_again_when_they_are_wanted() {
        let fetched = AtomicUsize::new(0);
        let fetch = |path: &str| {
            fetched.fetch_add(1, Ordering::Relaxed);
            Ok(included(path.trim_end_matches(".detail").parse().unwrap()))
        };
        let words = Words::default();
        let map = SourceMap::new(&fetch, &words);
        let read = |number: usize| -> Weak<Source> {
            let reading = map.read(including(number));
            assert!(reading.findings.is_empty() && reading.library.material(&format!("m{number}")).is_some());
            Arc::downgrade(&reading.included[0])
        };
        let first = read(0);
        read(0);
        assert_eq!((fetched.load(Ordering::Relaxed), first.upgrade().is_some()), (1, true));
        let many = 2 * TREES;
        (1..many).for_each(|number| drop(read(number)));
        assert!(first.upgrade().is_none());
        read(0);
        assert_eq!(fetched.load(Ordering::Relaxed), many + 1);
    }
}
