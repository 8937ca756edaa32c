//! A library made ready: its root, its settings, its rules.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::finding::Finding;
use crate::project::config::{Config, above, load, refusal};
use crate::project::shown::shown;
use crate::project::{Unreadable, read, rule_files};
use crate::report::Report;
use crate::rules::Pack;
use crate::text::{FileId, Source, Span};

/// What a review needs to know besides the files themselves.
pub struct Project {
    /// No include leads out of this folder.
    pub root: PathBuf,
    pub config: Option<Config>,
    /// Built-in rules, the firm's on top, adjusted as the project says.
    pub pack: Pack,
}

/// Numbers of settings and rule files lie out of the way of details (from 0 up) and built-in rules (from the top down).
const FIRST: u32 = 1 << 31;

/// Opens the project that a folder belongs to. Without a `headlap.toml` in it or above it, the folder itself is the
/// root and the built-in rules hold.
///
/// # Errors
/// A report of all that is wrong with the settings and the firm's rules; nothing can be reviewed then.
pub fn open(folder: &Path, working: &Path) -> Result<Project, Report> {
    let Some(file) = above(folder) else {
        let pack = rules(&[], working)?;
        return Ok(Project { root: folder.to_path_buf(), config: None, pack });
    };
    let config = load(&file, FileId(FIRST), working).map_err(|(source, findings)| told(findings, [source]))?;
    let mut paths = Vec::new();
    for (path, span) in &config.rules {
        match rule_files(path) {
            Ok(found) => paths.extend(found),
            Err(why) => {
                let finding = refusal(*span, format!("{}: {why}", shown(path, working)));
                return Err(told(vec![finding], [config.source.clone()]));
            }
        }
    }
    let mut pack = rules(&paths, working)?;
    pack.adjust(&config.adjustments)
        .map_err(|findings| told(findings, pack.sources.values().cloned().chain([config.source.clone()])))?;
    Ok(Project { root: config.root.clone(), config: Some(config), pack })
}

/// The built-in rules and those of the named files.
///
/// # Errors
/// A report of all that is wrong with the files.
pub fn rules(paths: &[PathBuf], working: &Path) -> Result<Pack, Report> {
    let mut firm = Vec::new();
    for (number, path) in paths.iter().enumerate() {
        let id = FileId(FIRST + 1 + number as u32);
        let name = shown(path, working);
        match read(path) {
            Ok(text) => firm.push(Arc::new(Source::new(id, name, text))),
            Err(Unreadable { why, text, at, .. }) => {
                let finding = refusal(Span::new(id, at.start, at.end), format!("{name}: {why}"));
                return Err(told(vec![finding], [Arc::new(Source::new(id, name, text))]));
            }
        }
    }
    Pack::load(&firm).map_err(|findings| told(findings, firm.iter().cloned()))
}

fn told(findings: Vec<Finding>, sources: impl IntoIterator<Item = Arc<Source>>) -> Report {
    let sources: std::collections::BTreeMap<_, _> = sources.into_iter().map(|source| (source.id, source)).collect();
    let files = findings.iter().map(|finding| finding.span.file).collect::<std::collections::BTreeSet<_>>().len();
    Report { findings, sources, files }
}
