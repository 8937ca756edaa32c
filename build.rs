//! The stock rules, materials and climates are built into the binary, in the form that the program starts from; a new file
//! among them has to be noticed. And a print of all that the program is made of, so that results which another program kept
//! are never taken for its own.

use std::collections::hash_map::DefaultHasher;
use std::fs;
use std::hash::{Hash, Hasher};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rules::written::{is_stock, prepare, read_without_examples};
use text::{FileId, Source};

// What reads the rule files and the texts of firms when the program runs. There is no second reader.
#[allow(dead_code, unused_imports)]
#[path = "src/finding/mod.rs"]
mod finding;
#[allow(dead_code, unused_imports)]
#[path = "src/quantity/mod.rs"]
mod quantity;
#[allow(dead_code, unused_imports)]
#[path = "src/syntax/mod.rs"]
mod syntax;
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
    fs::write(out.join("texts"), prepare_texts()).expect("the built-in texts can be written");
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
    let files = gather(Path::new("rules"), &is_stock);
    let numbered = files.into_iter().enumerate();
    let sources = numbered.map(|(at, (path, text))| Arc::new(Source::new(FileId::stock_rules(at), path, text)));
    let sources: Vec<Arc<Source>> = sources.collect();
    // The tests report what is wrong with a stock rule, with its place.
    prepare(&sources.iter().map(|source| read_without_examples(source).0).collect::<Vec<_>>())
}

/// The stock materials, then the climates in the order of their names.
fn prepare_texts() -> Vec<u8> {
    let is_library = |name: &str| name.ends_with(".detail") && !name.starts_with("start/");
    let mut files = gather(Path::new("rules"), &is_library);
    files.sort_by_key(|(name, _)| name.contains('/'));
    let numbered = files.into_iter().enumerate();
    let sources: Vec<Source> =
        numbered.map(|(at, (name, text))| Source::new(FileId::built_in(at), name, text)).collect();
    syntax::prepare(&sources)
}

/// The files of the folder `rules` that are wanted, in the order of their names.
fn gather(folder: &Path, wanted: &dyn Fn(&str) -> bool) -> Vec<(String, String)> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).expect("the rules can be read").filter_map(Result::ok) {
        let path = entry.path();
        let inside = path.strip_prefix("rules").expect("it was found there");
        let name = inside.to_str().expect("its name is text").replace('\\', "/");
        if path.is_dir() {
            files.extend(gather(&path, wanted));
        } else if wanted(&name) {
            files.push((name, fs::read_to_string(&path).expect("the rules can be read")));
        }
    }
    files.sort();
    files
}
