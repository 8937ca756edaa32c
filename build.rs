//! The stock rules are built into the binary; a new file among them has to be noticed. And a print of all that the
//! program is made of, so that results which another program kept are never taken for its own.

use std::collections::hash_map::DefaultHasher;
use std::fs;
use std::hash::{Hash, Hasher};
use std::path::Path;

fn main() {
    let mut hasher = DefaultHasher::new();
    for part in ["build.rs", "Cargo.toml", "Cargo.lock", "grammar", "rules", "src"] {
        println!("cargo:rerun-if-changed={part}");
        add(Path::new(part), &mut hasher);
    }
    println!("cargo:rustc-env=HEADLAP_BUILD={:016x}", hasher.finish());
}

/// A file, or all files below a folder in the order of their names. What is not there (a lock file) adds nothing.
fn add(path: &Path, hasher: &mut DefaultHasher) {
    if let Ok(folder) = fs::read_dir(path) {
        let mut inside: Vec<_> = folder.filter_map(Result::ok).map(|entry| entry.path()).collect();
        inside.sort();
        inside.iter().for_each(|path| add(path, hasher));
    } else if let Ok(bytes) = fs::read(path) {
        path.hash(hasher);
        bytes.hash(hasher);
    }
}
