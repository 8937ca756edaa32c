//! `headlap review --watch`: again after every change.

use std::path::PathBuf;
use std::time::Duration;
use std::{iter, thread};

use crate::cli::args::{Page, Review};
use crate::cli::{Done, Message, print};
use crate::project;

/// How often to look for changes: as often as anyone saves and reads.
const PAUSE: Duration = Duration::from_millis(300);

/// Reviews, waits for a change, and reviews again, until it is stopped.
pub fn run(review: &Review, page: &Page, once: impl Fn() -> Done) -> Done {
    let working = project::working()?;
    let paths: Vec<PathBuf> = if review.paths.is_empty() { vec![PathBuf::from(".")] } else { review.paths.clone() };
    if paths.iter().any(|path| !path.exists()) {
        // Nothing would ever change there.
        return once();
    }
    loop {
        let before = project::stamp_of(&paths, &working);
        if let Err(failure) = once() {
            failure.report(page);
        }
        print::aside(&Message::WaitingForChanges.words());
        // The list may change while it is looked at, so that two looks have to agree.
        let settled = |stamp: u64| {
            thread::sleep(PAUSE);
            (project::stamp_of(&paths, &working) == stamp).then_some(stamp)
        };
        let looks = iter::repeat_with(|| {
            thread::sleep(PAUSE);
            project::stamp_of(&paths, &working)
        });
        let _ = looks.filter(|stamp| *stamp != before).find_map(settled);
    }
}
