//! Walks a library and reads its files, and does nothing else: what a review is measured against.
//! `read_library DIR`

use std::path::{Path, PathBuf};

use headlap::project;
use rayon::prelude::*;

fn main() {
    let Some(folder) = std::env::args_os().nth(1) else {
        eprintln!("read_library DIR");
        std::process::exit(2);
    };
    let root = Path::new("/");
    let walked = project::walk(&[PathBuf::from(folder)], root);
    let bytes: usize =
        walked.files.par_iter().map(|found| project::read(&found.path(root)).map_or(0, |text| text.len())).sum();
    println!("{} files, {bytes} bytes", walked.files.len());
}
