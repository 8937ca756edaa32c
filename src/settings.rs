//! A library's settings: what `headlap.toml` says, and the rules that come of it. The module touches no files.

use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use toml::de::{DeTable, DeValue};

use crate::finding::{Finding, Level};
use crate::model::{Climate, Shelf, Words, builtin, builtin_names};
use crate::quantity::System;
use crate::rules::{ASSUMED, Adjustment, Pack, edition, editions, read_adjustments};
use crate::text::{FileId, Source, Span, nearest};

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

/// Checks the text of a `headlap.toml` in the folder `root`.
///
/// # Errors
/// All that is wrong with it, each at its place.
pub fn of(source: Arc<Source>, root: PathBuf) -> Result<Config, Vec<Finding>> {
    let mut reader = Reader { source: &source, problems: Vec::new() };
    let (table, errors) = DeTable::parse_recoverable(&source.text);
    for error in errors.iter().take(20) {
        let span = reader.span(error.span().unwrap_or(0..0));
        reader.problems.push(refusal(span, error.message().trim()));
    }
    if !errors.is_empty() {
        return Err(reader.problems);
    }
    let mut config = Config {
        root,
        source: source.clone(),
        rules: Vec::new(),
        edition: None,
        climate: None,
        units: None,
        fail_on: None,
        known: None,
        docs_url: None,
        layers: BTreeMap::new(),
        adjustments: Vec::new(),
        folders: Vec::new(),
        places: BTreeMap::new(),
    };
    for (key, value) in table.get_ref().iter() {
        let (span, word) = (reader.span(value.span()), value.get_ref().as_str());
        if let Some(name) = KEYS.iter().find(|name| **name == &**key.get_ref()) {
            config.places.insert(name, reader.span(key.span()));
        }
        match (&**key.get_ref(), value.get_ref()) {
            ("rules", DeValue::Array(list)) => {
                for path in list.iter() {
                    let span = reader.span(path.span());
                    match path.get_ref().as_str() {
                        Some(path) => config.rules.push((plain(Path::new(path), &config.root), span)),
                        None => reader.refuse(span, "`rules` has to be a list of paths in quotes"),
                    }
                }
            }
            ("rules", _) => reader.refuse(span, "`rules` has to be a list of paths: `rules = [\"firm-rules\"]`"),
            ("climate", DeValue::String(name)) => config.climate = Some((name.to_string(), span)),
            ("climate", _) => reader.refuse(span, "`climate` has to be the name of a climate, in quotes"),
            ("units", _) => match word {
                Some("metric") => config.units = Some(System::Metric),
                Some("us") => config.units = Some(System::Us),
                _ => reader.refuse(span, "`units` has to be \"metric\" or \"us\""),
            },
            ("fail-on", _) => match word.map(fail_on) {
                Some(Some(level)) => config.fail_on = Some(level),
                _ => reader.refuse(span, "`fail-on` has to be \"error\", \"warning\", \"note\" or \"never\""),
            },
            ("required-version", DeValue::String(wanted)) => required(&mut reader, span, wanted),
            ("required-version", _) => {
                reader.refuse(span, "`required-version` has to be a version in quotes, such as \">=0.1, <0.3\"")
            }
            ("rules-edition", _) => match word.filter(|name| editions().any(|known| known == *name)) {
                Some(name) => config.edition = Some(name.to_owned()),
                None => {
                    let known: Vec<String> = editions().map(|name| format!("\"{name}\"")).collect();
                    let finding = refusal(span, "there is no such edition of the stock rules");
                    reader.problems.push(finding.fix(format!("The editions are {}.", known.join(", "))));
                }
            },
            ("known", DeValue::String(path)) => config.known = Some(plain(Path::new(&**path), &config.root)),
            ("known", _) => reader.refuse(span, "`known` has to be the path of the list of known findings, in quotes"),
            ("docs-url", _) => match word.filter(|url| is_address(url)) {
                Some(url) => config.docs_url = Some(url.trim_end_matches('/').to_owned()),
                None => reader.refuse(
                    span,
                    "`docs-url` has to be a web address in quotes, such as \"https://example.org/headlap\"",
                ),
            },
            ("layers", DeValue::Table(layers)) => config.layers = read_layers(&mut reader, layers),
            ("layers", _) => {
                reader.refuse(span, "`layers` is a table of names: `[layers]`, then `membranes = \"Membranes\"`")
            }
            ("adjust", DeValue::Table(adjust)) => match read_adjustments(&source, adjust) {
                Ok(adjustments) => config.adjustments = adjustments,
                Err(problems) => reader.problems.extend(problems),
            },
            ("adjust", _) => reader.refuse(span, "an adjustment has to be a table: `[adjust.RULE]`"),
            ("folder", DeValue::Array(list)) => {
                for folder in list.iter() {
                    let span = reader.span(folder.span());
                    match folder.get_ref().as_table() {
                        Some(table) => config.folders.extend(read_folder(&mut reader, table, span, &config.root)),
                        None => reader.refuse(span, "`folder` has to be written as `[[folder]]`, once for each folder"),
                    }
                }
            }
            ("folder", _) => reader.refuse(span, "`folder` has to be written as `[[folder]]`, once for each folder"),
            (unknown, _) => {
                let said = format!("{NAME} has no setting `{unknown}`");
                reader.unknown(reader.span(key.span()), said, unknown, &KEYS);
            }
        }
    }
    if let Some(first) = config.folders.get(MOST_FOLDERS) {
        let message = format!("more than {MOST_FOLDERS} folders have adjustments of their own");
        let fix = "Adjust a folder above several of them, or give some a headlap.toml of their own.";
        reader.problems.push(refusal(first.span, message).fix(fix));
    }
    config.folders.sort_by(|a, b| a.path.cmp(&b.path));
    reader.problems.sort_by_key(|finding| finding.span);
    if reader.problems.is_empty() { Ok(config) } else { Err(reader.problems) }
}

/// Each of them is held against rules of its own, which have to be read and kept.
const MOST_FOLDERS: usize = 100;

/// What is wrong, with the texts that it is in.
pub type Wrong = (Vec<Finding>, Vec<Arc<Source>>);

/// The rules of a library: the built-in ones and the firm's, adjusted for all of it, and for each folder that has adjustments of its own.
///
/// # Errors
/// All that is wrong with the rules and the adjustments.
pub fn packs(
    config: &Config,
    firm: &[Arc<Source>],
    climate: Option<&Arc<Climate>>,
) -> Result<(Pack, Vec<(PathBuf, Pack)>), Wrong> {
    let pack = |adjustments: &[&[Adjustment]]| -> Result<Pack, Wrong> {
        let pinned = config.edition.as_deref().and_then(edition);
        let mut pack = Pack::stock(pinned.as_ref(), firm).map_err(|findings| (findings, firm.to_vec()))?;
        pack.units = config.units;
        pack.words.climate = climate.cloned();
        for adjustments in adjustments {
            let sources: Vec<Arc<Source>> = pack.sources.values().cloned().chain([config.source.clone()]).collect();
            pack.adjust(adjustments).map_err(|findings| (findings, sources))?;
        }
        Ok(pack)
    };
    let mut folders = Vec::new();
    for (number, folder) in config.folders.iter().enumerate() {
        let outer = config.folders[..number].iter().filter(|outer| folder.path.starts_with(&outer.path));
        let all = outer.chain([folder]).map(|folder| &*folder.adjustments);
        let all: Vec<&[Adjustment]> = [&*config.adjustments].into_iter().chain(all).collect();
        folders.push((folder.path.clone(), pack(&all)?));
    }
    Ok((pack(&[&config.adjustments])?, folders))
}

/// The climate of a project: a built-in one by its name, or the only one of a file, by its path from the root.
///
/// # Errors
/// In words, why there is none.
pub fn climate(name: &str, read: &dyn Fn(&str) -> Result<String, String>) -> Result<Arc<Climate>, String> {
    let words = Words::default();
    let read_all = |source: Arc<Source>| {
        let fetch =
            |path: &str| Err(format!("a climate file cannot include another file, and this one includes {path}"));
        Shelf::new(&fetch, &words).read(source).library.climates
    };
    if !name.ends_with(".detail") {
        let built_in = builtin_names().filter(|file| file.starts_with("climates/")).filter_map(builtin);
        let all: Vec<Arc<Climate>> = built_in.flat_map(read_all).collect();
        let found = all.iter().find(|climate| &*climate.name == name);
        return found.cloned().ok_or_else(|| {
            let near = nearest(name, all.iter().map(|climate| &*climate.name));
            let near = near.map_or(String::new(), |near| format!("; did you mean `{near}`?"));
            format!("`{name}` is neither a built-in climate nor a `.detail` file{near}")
        });
    }
    let text = read(name)?;
    let mut climates = read_all(Arc::new(Source::new(FileId::CLIMATE, name, text)));
    match (climates.pop(), climates.is_empty()) {
        (Some(climate), true) => Ok(climate),
        (Some(_), false) => Err("the file has more than one climate".to_owned()),
        (None, _) => Err("the file has no climate".to_owned()),
    }
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

/// The settings that there are.
pub const KEYS: [&str; 11] = [
    "required-version",
    "rules-edition",
    "rules",
    "climate",
    "units",
    "fail-on",
    "known",
    "docs-url",
    "layers",
    "adjust",
    "folder",
];

/// The layers that drawings have.
pub const LAYERS: [&str; 25] = [
    "structure",
    "boards",
    "insulation",
    "cavities",
    "cladding",
    "membranes",
    "tapes",
    "flashings",
    "coatings",
    "sealants",
    "fasteners",
    "openings",
    "bonds",
    "weeps",
    "hatches",
    "tones",
    "covered",
    "folds",
    "ground",
    "breaks",
    "water",
    "water-behind",
    "dimensions",
    "words",
    "findings",
];

/// Signs that no name of a layer may have in a DXF file.
const NOT_IN_LAYERS: &str = "<>/\\\":;?*|=,`";

fn read_layers(reader: &mut Reader<'_>, layers: &DeTable<'_>) -> BTreeMap<String, String> {
    let mut names = BTreeMap::new();
    for (key, value) in layers {
        let at = reader.span(value.span());
        if !LAYERS.contains(&&**key.get_ref()) {
            let said = format!("drawings have no layer `{}`", key.get_ref());
            reader.unknown(reader.span(key.span()), said, key.get_ref(), &LAYERS);
            continue;
        }
        let fits = |name: &str| {
            let sign = |c: char| c.is_control() || NOT_IN_LAYERS.contains(c);
            !name.trim().is_empty() && name.chars().count() <= 255 && !name.contains(sign)
        };
        match value.get_ref().as_str().filter(|name| fits(name)) {
            Some(name) => _ = names.insert(key.get_ref().to_string(), name.to_owned()),
            None => {
                let said = format!(
                    "the name of a layer stands in quotes, is no longer than 255 letters, and has none of {NOT_IN_LAYERS}"
                );
                reader.refuse(at, &said);
            }
        }
    }
    names
}

/// Whether this may stand in a link. It goes to terminals as it is, so it holds nothing that a terminal acts on.
fn is_address(url: &str) -> bool {
    let known = ["https://", "http://", "file:///"].iter().find_map(|scheme| url.strip_prefix(scheme));
    known.is_some_and(|rest| {
        !rest.is_empty() && rest.bytes().all(|byte| byte.is_ascii_graphic() && !b"\"<>?#".contains(&byte))
    })
}

/// Refuses settings that were made for another version of this program.
fn required(reader: &mut Reader<'_>, span: Span, wanted: &str) {
    let own = env!("CARGO_PKG_VERSION");
    match semver::VersionReq::parse(wanted) {
        Err(why) => reader.refuse(span, &format!("this version cannot be read: {why}")),
        Ok(range) if semver::Version::parse(own).is_ok_and(|own| range.matches(&own)) => {}
        Ok(_) => {
            let finding = refusal(span, format!("this library requires headlap {wanted}; this is {own}"));
            reader.problems.push(finding.fix("Install a matching version, or change the setting."));
        }
    }
}

/// `path` and the adjustments that hold below it.
fn read_folder(reader: &mut Reader<'_>, table: &DeTable<'_>, span: Span, root: &Path) -> Option<Folder> {
    let mut folder = Folder { path: PathBuf::new(), span, adjustments: Vec::new() };
    for (key, value) in table.iter() {
        let at = reader.span(value.span());
        match (&**key.get_ref(), value.get_ref()) {
            ("path", DeValue::String(path)) => {
                folder = Folder { path: plain(Path::new(&**path), root), span: at, ..folder };
                if !folder.path.starts_with(root) {
                    reader.refuse(at, "this folder is outside the library");
                }
            }
            ("path", _) => reader.refuse(at, "`path` has to be a folder of the library, in quotes"),
            ("adjust", DeValue::Table(adjust)) => match read_adjustments(reader.source, adjust) {
                Ok(adjustments) => {
                    for of_all in adjustments.iter().filter(|adjustment| *adjustment.rule == *ASSUMED) {
                        let said = "assumed values hold for the whole library; move them to `[adjust.assumed]`";
                        reader.refuse(of_all.rule_span, said);
                    }
                    folder.adjustments = adjustments;
                }
                Err(problems) => reader.problems.extend(problems),
            },
            ("adjust", _) => reader.refuse(at, "an adjustment has to be a table: `[folder.adjust.RULE]`"),
            (unknown, _) => {
                let said = format!("a folder has no setting `{unknown}`");
                reader.unknown(reader.span(key.span()), said, unknown, &["path", "adjust"]);
            }
        }
    }
    if !table.contains_key("path") {
        reader.refuse(span, "a folder needs its `path`");
        return None;
    }
    Some(folder)
}

/// The lowest level that fails a run, by its word; `never` gives an inner `None`.
pub fn fail_on(word: &str) -> Option<Option<Level>> {
    if word == "never" { Some(None) } else { Level::from_word(word).map(Some) }
}

/// A setting that cannot be used.
pub fn refusal(span: Span, message: impl Into<String>) -> Finding {
    Finding::on_page("project-setting", span, message)
}

struct Reader<'s> {
    source: &'s Arc<Source>,
    problems: Vec<Finding>,
}

impl Reader<'_> {
    /// A range that the TOML reader gave, inside of the text and on character boundaries.
    fn span(&self, range: std::ops::Range<usize>) -> Span {
        let text = &self.source.text;
        let inside = |mut at: usize| {
            at = at.min(text.len());
            while !text.is_char_boundary(at) {
                at -= 1;
            }
            at
        };
        let (start, end) = (inside(range.start), inside(range.end));
        Span::new(self.source.id, start, end.max(start))
    }

    fn unknown(&mut self, span: Span, said: String, word: &str, known: &[&'static str]) {
        let finding = refusal(span, said);
        self.problems.push(match nearest(word, known.iter().copied()) {
            Some(near) => finding.fix(format!("Did you mean `{near}`?")),
            None => finding.fix(format!("The settings are {}.", known.join(", "))),
        });
    }

    fn refuse(&mut self, span: Span, message: &str) {
        self.problems.push(refusal(span, message));
    }
}
