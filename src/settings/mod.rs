//! A library's settings: what `headlap.toml` says, and the rules that come of it. The module touches no files.

mod message;
mod read;
mod rules;

use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use crate::finding::Level;
use crate::quantity::System;
use crate::rules::Adjustment;
use crate::text::{Source, Span};

pub use message::{Message, NoClimate};
pub use read::{KEYS, LAYERS, of};
pub use rules::{Wrong, climate, packs};

/// The file's name.
pub const NAME: &str = "headlap.toml";

/// The settings of a project. All of them were checked except the names of rules, which only a pack of rules knows.
#[derive(Clone, Debug)]
pub struct Config {
    /// The folder of the file: the root of the library.
    pub root: PathBuf,
    pub source: Arc<Source>,
    /// Files and folders of the firm's own rules, absolute, with the words that name them.
    pub rules: Vec<(PathBuf, Span)>,
    /// The edition of the stock rules that is pinned.
    pub edition: Option<String>,
    /// The climate of assemblies that name none: one that is built in, or the path of a file.
    pub climate: Option<(String, Span)>,
    pub units: Option<System>,
    /// The least level that fails a run; the inner `None` is `never`.
    pub fail_on: Option<Option<Level>>,
    /// The list of known findings, absolute.
    pub known: Option<PathBuf>,
    /// Where the pages on the rules are published, without a slash at the end.
    pub docs_url: Option<String>,
    /// What drawings call their layers, by the names that these have by themselves.
    pub layers: BTreeMap<String, String>,
    pub adjustments: Vec<Adjustment>,
    /// Outer folders before those inside them.
    pub folders: Vec<Folder>,
    /// Where each setting of the top is written.
    pub places: BTreeMap<&'static str, Span>,
}

/// What holds for the details below one folder alone.
#[derive(Clone, Debug)]
pub struct Folder {
    /// Absolute.
    pub path: PathBuf,
    pub span: Span,
    pub adjustments: Vec<Adjustment>,
}

/// An absolute path without `.` and with each `..` taken back from the part before it, so that one file has one name.
/// Links are not followed: a file keeps the name under which it was found.
pub fn plain(path: &Path, working: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in working.join(path).components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir => {
                plain.pop();
            }
            part => plain.push(part),
        }
    }
    plain
}

/// The lowest level that fails a run, by its word; `never` gives an inner `None`.
pub fn fail_on(word: &str) -> Option<Option<Level>> {
    if word == "never" { Some(None) } else { Level::from_word(word).map(Some) }
}
