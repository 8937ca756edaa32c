//! The texts that changes are made in, and which of their items are clean.

use std::sync::{Arc, LazyLock};

use headlap::finding::Finding;
use headlap::model::{Material, SourceMap};
use headlap::report::Checked;
use headlap::review::{Files, Given, Memory, Reviewer, run};
use headlap::text::{FileId, Source};

use super::text::Page;
use crate::review::{TODAY, pack};

/// Items without a mistake. That they are clean is what their author says, and `tests/suite/demo.rs` with him; C2 has a
/// waived one.
pub const CLEAN: &[&str] = &[
    "FOUNDATION",
    "WALL",
    "A1",
    "F1",
    "G1",
    "W1",
    "W2",
    "R1",
    "O1",
    "E1",
    "E0",
    "B1",
    "G1-F1",
    "B2",
    "K3",
    "X1",
    "F1-E0",
    "O1-W1",
    "V1",
    "K2",
    "WR1",
    "RW1",
    "CH1",
    "C1",
    "C2",
    "K1",
    "P1",
    "L1",
    "R2",
    "V2",
    "W4",
    "R3",
    "B4",
    "RW3",
    "P4",
    "K4",
    "set",
];

/// Items with a mistake of their own, and its rule: not for defects, and as good as the others for harmless changes.
pub const FLAWED: &[(&str, &str)] = &[
    ("A2", "reverse-lap"),
    ("W3", "vapor-trap"),
    ("X2", "unsealed-transition"),
    ("O2-W1", "reverse-lap"),
    ("RW2", "missing-kick-out"),
    ("S1", "tape-over-fastener"),
];

/// The set needs every other file, so that it is reviewed with all of them.
pub const SET: &str = "millrace/drawing-set.detail";

const FILES: &[(&str, &str)] = &[
    ("start/assemblies.detail", include_str!("../../../rules/start/assemblies.detail")),
    ("start/details.detail", include_str!("../../../rules/start/details.detail")),
    ("millrace/assemblies.detail", include_str!("../../../examples/millrace/assemblies.detail")),
    ("millrace/base.detail", include_str!("../../../examples/millrace/base.detail")),
    ("millrace/brick.detail", include_str!("../../../examples/millrace/brick.detail")),
    ("millrace/existing.detail", include_str!("../../../examples/millrace/existing.detail")),
    ("millrace/link.detail", include_str!("../../../examples/millrace/link.detail")),
    ("millrace/openings.detail", include_str!("../../../examples/millrace/openings.detail")),
    ("millrace/roof.detail", include_str!("../../../examples/millrace/roof.detail")),
    ("millrace/walls.detail", include_str!("../../../examples/millrace/walls.detail")),
    ("seeded/shingles.detail", include_str!("shingles.detail")),
    (SET, include_str!("../../../examples/millrace/drawing-set.detail")),
];

/// The files as they are read. The assemblies know one more climate, for a wall to be moved to.
///
/// The rules are read first, on the thread of the test: reading them shares work among the workers, and a worker that waits for
/// another one to read them would never get its share done.
pub fn pages() -> &'static [Page] {
    pack();
    static PAGES: LazyLock<Vec<Page>> = LazyLock::new(|| {
        let more = |name: &str| {
            if name == "millrace/assemblies.detail" { "include \"climates/miami-1a.detail\"\n" } else { "" }
        };
        FILES.iter().map(|(name, text)| Page::read(name, &format!("{text}{}", more(name)))).collect()
    });
    &PAGES
}

/// What a review finds in this text of a file. What it includes is read once for all reviews.
pub fn reviewed(name: &str, text: &str) -> Vec<Finding> {
    checked(name, text).findings
}

static SHELF: LazyLock<SourceMap<'static>> = LazyLock::new(|| SourceMap::new(&fetch, &pack().words));

/// A change is in one detail of a file, so that the others are what they were: `remembered` holds that this makes no difference.
static REVIEWER: LazyLock<Reviewer<'static>> = LazyLock::new(|| {
    static MEMORY: LazyLock<Memory> = LazyLock::new(Memory::default);
    Reviewer::new(&SHELF, pack(), TODAY).remembering(Some(&MEMORY))
});

/// The same with all facts.
pub fn checked(name: &str, text: &str) -> Checked {
    REVIEWER.check(Arc::new(Source::new(FileId::detail(0), name, text)))
}

/// What the text of a file may name.
pub fn materials(name: &str, text: &str) -> Vec<Arc<Material>> {
    let reading = SHELF.read(Arc::new(Source::new(FileId::detail(0), name, text)));
    reading.library.all_materials().into_iter().cloned().collect()
}

/// What a review of the whole set finds when one of its files reads so.
pub fn reviewed_in_set(name: &str, text: &str) -> Vec<Finding> {
    if name == SET {
        return in_set(&REVIEWER, Arc::new(Source::new(FileId::detail(999), name, text)));
    }
    let fetch = |path: &str| match path {
        path if path == name => Ok(Arc::new(Source::new(FileId::detail(999), name, text))),
        path => fetch(path),
    };
    let source_map = SourceMap::new(&fetch, &pack().words);
    in_set(&Reviewer::new(&source_map, pack(), TODAY), fetch(SET).unwrap_or_else(|why| panic!("{why}")))
}

fn in_set(reviewer: &Reviewer<'_>, set: Arc<Source>) -> Vec<Finding> {
    let read = |_| Given::Text(set.clone());
    run(reviewer, &Files { count: 1, read: &read, has: &|name| name == SET }, false).report.findings
}

fn fetch(path: &str) -> Result<Arc<Source>, String> {
    let place = pages().iter().position(|page| page.source.name == path).ok_or("there is no such file")?;
    Ok(Arc::new(Source::new(FileId::detail(1 + place), path, &*pages()[place].source.text)))
}
