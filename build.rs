//! The stock rules are built into the binary, in the form that the program starts from; a new file among them has to be
//! noticed. And a print of all that the program is made of, so that results which another program kept are never taken for
//! its own.

use std::collections::hash_map::DefaultHasher;
use std::fs;
use std::hash::{Hash, Hasher};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rules::written::{is_stock, prepare, read_without_examples};
use text::{FileId, Source};

// What reads the rule files of firms when the program runs. There is no second reader.
#[allow(dead_code, unused_imports)]
#[path = "src/finding/mod.rs"]
mod finding;
#[allow(dead_code, unused_imports)]
#[path = "src/quantity/mod.rs"]
mod quantity;
#[allow(dead_code, unused_imports)]
#[path = "src/text/mod.rs"]
mod text;
mod rules {
    #[allow(dead_code, unused_imports)]
    #[path = "../src/rules/written/mod.rs"]
    pub mod written;
}

fn main() {
    let mut hasher = DefaultHasher::new();
    for part in ["build.rs", "Cargo.toml", "Cargo.lock", "grammar", "rules", "src"] {
        println!("cargo:rerun-if-changed={part}");
        add(Path::new(part), &mut hasher);
    }
    println!("cargo:rustc-env=HEADLAP_BUILD={:016x}", hasher.finish());
    let out = PathBuf::from(std::env::var_os("OUT_DIR").expect("cargo says where to write"));
    fs::write(out.join("rules"), prepare_stock()).expect("the stock rules can be written");
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

/// In the order in which the program numbers the files.
fn prepare_stock() -> Vec<u8> {
    let mut files = Vec::new();
    gather(Path::new("rules"), &mut files);
    files.sort();
    let numbered = files.into_iter().enumerate();
    let sources = numbered.map(|(at, (path, text))| Arc::new(Source::new(FileId::stock_rules(at), path, text)));
    let sources: Vec<Arc<Source>> = sources.collect();
    // The tests report what is wrong with a stock rule, with its place.
    prepare(&sources.iter().map(|source| read_without_examples(source).0).collect::<Vec<_>>())
}

fn gather(folder: &Path, files: &mut Vec<(String, String)>) {
    for entry in fs::read_dir(folder).expect("the rules can be read").filter_map(Result::ok) {
        let path = entry.path();
        let inside = path.strip_prefix("rules").expect("it was found there");
        let name = inside.to_str().expect("its name is text").replace('\\', "/");
        if path.is_dir() {
            gather(&path, files);
        } else if is_stock(&name) {
            files.push((name, fs::read_to_string(&path).expect("the rules can be read")));
        }
    }
}
