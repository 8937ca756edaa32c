//! `headlap lsp`: sessions of an editor, over the real program.

mod client;
mod features;
mod findings;
mod odd;
mod soak;

use std::path::PathBuf;

use client::Client;

use crate::command::{scratch, write};

/// One interface, right.
const RIGHT: &str = "include \"stock.detail\"
assembly W wall \"Wand 𝄞\" { outside; layer wrap-open controls water; layer plywood 12 mm controls air; inside }
detail A course \"Fuß 𝄞\" joins W {
  piece deck   plywood   of W
  piece lower  wrap-open of W  up to 150 mm
  piece upper  wrap-open of W  up from 0 mm  # oben
  fasten upper with cap-staple every 400 mm up from 160 mm
}
";

/// The same with the upper sheet installed first.
fn wrong() -> String {
    let lines: Vec<&str> = RIGHT.split_inclusive('\n').collect();
    [&lines[..4], &[lines[5], lines[4]], &lines[6..]].concat().concat()
}

/// A folder that is a library of its own, wherever the tests run.
fn library(name: &str) -> PathBuf {
    let folder = scratch(name);
    write(&folder, "headlap.toml", "");
    folder
}
