//! What is fuzzed, over the committed corpus: chosen texts, and every crash that was ever found.

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

#[path = "../../fuzz/src/lib.rs"]
pub mod targets;

use targets::TARGETS;

/// Bytes of the whole corpus; more would be a burden on every copy of the project.
const MOST_BYTES: usize = 300_000;

#[test]
fn every_file_of_the_corpus_holds() {
    let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus");
    let (mut failed, mut total) = (Vec::new(), 0);
    for (name, target) in TARGETS {
        let files = fs::read_dir(corpus.join(name)).expect("each target has a corpus");
        let mut paths: Vec<_> = files.map(|file| file.expect("the corpus can be read").path()).collect();
        paths.sort();
        assert!(paths.len() > 4, "{name} has hardly a corpus");
        for path in paths {
            let bytes = fs::read(&path).expect("the corpus can be read");
            total += bytes.len();
            if catch_unwind(AssertUnwindSafe(|| target(&bytes))).is_err() {
                failed.push(path);
            }
        }
    }
    assert!(failed.is_empty(), "{failed:#?}");
    assert!(total < MOST_BYTES, "{total} bytes");
    let folders = fs::read_dir(&corpus).expect("the corpus can be read").count();
    assert_eq!(folders, TARGETS.len(), "a folder of the corpus belongs to no target");
}
