//! A library made ready: its root, its settings, its rules.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::finding::Finding;
use crate::model::{Climate, Shelf, Words, builtin, builtin_names};
use crate::project::config::{Config, above, load, refusal};
use crate::project::shown::{plain, shown};
use crate::project::{Unreadable, read, rule_files};
use crate::report::Report;
use crate::rules::{Adjustment, Pack};
use crate::text::{FileId, Source, Span, nearest};

/// What a review needs to know besides the files themselves.
pub struct Project {
    /// No include leads out of this folder.
    pub root: PathBuf,
    pub config: Option<Config>,
    /// Built-in rules, the firm's on top, adjusted as the project says.
    pub pack: Pack,
    /// Folders with adjustments of their own, outer ones first, each with all that holds there.
    pub folders: Vec<(PathBuf, Pack)>,
}

/// Numbers of settings and rule files lie out of the way of details (from 0 up) and built-in rules (from the top down).
const FIRST: u32 = 1 << 31;

/// The file of the project's climate.
const CLIMATE: FileId = FileId(FIRST - 2);

/// Opens the project that a folder belongs to. Without a `headlap.toml` in it or above it, the folder itself is the
/// root and the built-in rules hold.
///
/// # Errors
/// A report of all that is wrong with the settings and the firm's rules; nothing can be reviewed then.
pub fn open(folder: &Path, working: &Path) -> Result<Project, Report> {
    let Some(file) = above(folder) else {
        let pack = rules(&[], working)?;
        return Ok(Project { root: folder.to_path_buf(), config: None, pack, folders: Vec::new() });
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
    let climate = match &config.climate {
        Some((name, span)) => Some(climate(name, &config.root).map_err(|why| {
            told(vec![refusal(*span, format!("this climate cannot be used: {why}"))], [config.source.clone()])
        })?),
        None => None,
    };
    let pack = |adjustments: &[&[Adjustment]]| -> Result<Pack, Report> {
        let mut pack = rules(&paths, working)?;
        pack.units = config.units;
        pack.words.climate = climate.clone();
        for adjustments in adjustments {
            let sources = || pack.sources.values().cloned().chain([config.source.clone()]).collect::<Vec<_>>();
            let sources = sources();
            pack.adjust(adjustments).map_err(|findings| told(findings, sources))?;
        }
        Ok(pack)
    };
    let mut folders = Vec::new();
    for (number, folder) in config.folders.iter().enumerate() {
        if !folder.path.is_dir() {
            let finding = refusal(folder.span, "there is no such folder");
            return Err(told(vec![finding], [config.source.clone()]));
        }
        let outer = config.folders[..number].iter().filter(|outer| folder.path.starts_with(&outer.path));
        let all = outer.chain([folder]).map(|folder| &*folder.adjustments);
        let all: Vec<&[Adjustment]> = [&*config.adjustments].into_iter().chain(all).collect();
        folders.push((folder.path.clone(), pack(&all)?));
    }
    let pack = pack(&[&config.adjustments])?;
    Ok(Project { root: config.root.clone(), config: Some(config), pack, folders })
}

/// Opens the project that all of the named paths belong to. Without a `headlap.toml`, its root is the folder that
/// they have in common.
///
/// # Errors
/// In words: paths of different projects. Then, as `open`.
pub fn open_for(paths: &[PathBuf], working: &Path) -> Result<Result<Project, Report>, String> {
    let mut folders = paths.iter().map(|path| folder_of(path, working));
    let first = folders.next().unwrap_or_else(|| working.to_path_buf());
    let (settings, mut common) = (above(&first), first.clone());
    for (folder, path) in folders.zip(paths.iter().skip(1)) {
        if above(&folder) != settings {
            let (one, other) = (paths[0].display(), path.display());
            return Err(format!("{one} and {other} belong to different projects; review each by itself"));
        }
        while !folder.starts_with(&common) && common.pop() {}
    }
    Ok(open(if settings.is_some() { &first } else { &common }, working))
}

/// Opens the project of the issued details as it judges a submittal. Settings that the submittal brings change nothing
/// but the folder that its includes have to lie in; folders with adjustments are found by their place below either side.
///
/// # Errors
/// As `open_for`.
pub fn open_submittal(issued: &Path, submitted: &Path, working: &Path) -> Result<Result<Project, Report>, String> {
    let (from, to) = (folder_of(issued, working), folder_of(submitted, working));
    let opened = open_for(&[issued.to_path_buf()], working)?;
    Ok(opened.map(|project| {
        let root = above(&to).and_then(|file| file.parent().map(Path::to_path_buf)).unwrap_or_else(|| to.clone());
        let place = |folder: PathBuf| match folder.strip_prefix(&from) {
            Ok(inner) => Some(to.join(inner)),
            Err(_) => from.starts_with(&folder).then(|| to.clone()),
        };
        let folders = project.folders.into_iter().filter_map(|(folder, pack)| Some((place(folder)?, pack))).collect();
        Project { root, folders, ..project }
    }))
}

/// What the settings of a submittal say and the issued ones do not. None of it counts.
pub fn brought_settings(issued: Option<&Config>, submitted: &Path, working: &Path) -> Vec<String> {
    let Some(file) = above(&folder_of(submitted, working)) else { return Vec::new() };
    if issued.is_some_and(|config| file.parent() == Some(&config.root)) {
        return Vec::new();
    }
    let name = shown(&file, working);
    let Ok(config) = load(&file, FileId(FIRST), working) else {
        return vec![format!("{name}: these settings cannot be read")];
    };
    let known = issued.map(says).unwrap_or_default();
    let new = says(&config).into_iter().filter(|said| !known.contains(said));
    new.map(|(said, _)| format!("{name}: {said}")).collect()
}

/// Each setting in words, the rules with a print of what their files hold.
fn says(config: &Config) -> Vec<(String, u64)> {
    let inside = |path: &Path| shown(path.strip_prefix(&config.root).unwrap_or(path), Path::new(""));
    let mut rules_said = Vec::new();
    for (path, _) in &config.rules {
        let texts: Vec<String> =
            rule_files(path).unwrap_or_default().iter().filter_map(|file| read(file).ok()).collect();
        let rules = texts.iter().map(|text| text.matches("[[rule]]").count()).sum::<usize>();
        rules_said.push((format!("rules = [\"{}\"], {rules} rules", inside(path)), print_of(&texts)));
    }
    let mut said = Vec::new();
    said.extend(config.climate.iter().map(|(name, _)| format!("climate = \"{name}\"")));
    said.extend(config.units.iter().map(|units| format!("units = \"{}\"", units.word())));
    said.extend(config.fail_on.iter().map(|level| format!("fail-on = \"{}\"", level.map_or("never", |l| l.word()))));
    said.extend(config.known.iter().map(|path| format!("known = \"{}\"", inside(path))));
    said.extend(config.adjustments.iter().map(adjusts));
    for folder in &config.folders {
        said.extend(folder.adjustments.iter().map(|a| format!("in {}, {}", inside(&folder.path), adjusts(a))));
    }
    rules_said.into_iter().chain(said.into_iter().map(|said| (said, 0))).collect()
}

/// `adjust.short-head-lap: least = 50 mm, because "…"`
fn adjusts(adjustment: &Adjustment) -> String {
    let constants = adjustment.constants.iter().map(|(name, _, value, _)| format!("{name} = {}", value.show()));
    let level = adjustment.level.map(|level| format!("level = {}", level.word()));
    let parts: Vec<String> = constants.chain(level).chain(adjustment.off.then(|| "off".to_owned())).collect();
    format!("adjust.{}: {}, because \"{}\"", adjustment.rule, parts.join(", "), adjustment.because)
}

/// Tells texts apart within one run.
fn print_of(texts: &[String]) -> u64 {
    use std::hash::{Hash, Hasher};
    let mut hasher = siphasher::sip::SipHasher13::new();
    texts.hash(&mut hasher);
    hasher.finish()
}

/// The folder that a named path stands for.
fn folder_of(path: &Path, working: &Path) -> PathBuf {
    let path = plain(path, working);
    if path.is_dir() { path } else { path.parent().map_or(working.to_path_buf(), Path::to_path_buf) }
}

impl Project {
    /// The rules that hold for a file.
    pub fn rules_for(&self, path: &Path) -> &Pack {
        self.folders.iter().rev().find(|(folder, _)| path.starts_with(folder)).map_or(&self.pack, |(_, pack)| pack)
    }
}

/// The climate of a project: a built-in one by its name, or the only one of a file, by its path from the root.
fn climate(name: &str, root: &Path) -> Result<Arc<Climate>, String> {
    let words = Words::default();
    let read_all = |source: Arc<Source>| {
        let fetch = |path: &str| Err(format!("a file of a climate includes nothing, and this one {path}"));
        Shelf::new(&fetch, &words).read(source).library.climates
    };
    if !name.ends_with(".detail") {
        let built_in = builtin_names().filter(|file| file.starts_with("climates/")).filter_map(builtin);
        let all: Vec<Arc<Climate>> = built_in.flat_map(read_all).collect();
        let found = all.iter().find(|climate| &*climate.name == name);
        return found.cloned().ok_or_else(|| {
            let near = nearest(name, all.iter().map(|climate| &*climate.name));
            let near = near.map_or(String::new(), |near| format!("; did you mean `{near}`?"));
            format!("`{name}` is neither a built-in climate nor a file `….detail`{near}")
        });
    }
    let text = read(&plain(Path::new(name), root)).map_err(|unreadable| unreadable.why)?;
    let mut climates = read_all(Arc::new(Source::new(CLIMATE, name, text)));
    match (climates.pop(), climates.is_empty()) {
        (Some(climate), true) => Ok(climate),
        (Some(_), false) => Err("the file holds more than one".to_owned()),
        (None, _) => Err("the file holds none".to_owned()),
    }
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
