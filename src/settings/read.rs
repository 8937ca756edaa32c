//! Reads `headlap.toml`: each setting checked, all that is wrong said at its place.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use toml::de::{DeTable, DeValue};

use crate::finding::Finding;
use crate::quantity::System;
use crate::rules::{ASSUMED, TomlReader, editions, read_adjustments, read_table};
use crate::settings::{Config, Folder, Message, fail_on, plain};
use crate::text::{Source, Span};

/// Checks the text of a `headlap.toml` in the folder `root`.
///
/// # Errors
/// All that is wrong with it, each at its place.
pub fn of(source: Arc<Source>, root: PathBuf) -> Result<Config, Vec<Finding>> {
    let mut reader = TomlReader { source: &source, problems: Vec::new() };
    let (table, errors) = read_table(&source, &source.text);
    errors.iter().for_each(|(span, why)| reader.problem(Message::NotToml { why }.at(*span)));
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
                        None => reader.problem(Message::RulesNotPaths.at(span)),
                    }
                }
            }
            ("rules", _) => reader.problem(Message::RulesNotAList.at(span)),
            ("climate", DeValue::String(name)) => config.climate = Some((name.to_string(), span)),
            ("climate", _) => reader.problem(Message::ClimateNotAName.at(span)),
            ("units", _) => match word {
                Some("metric") => config.units = Some(System::Metric),
                Some("us") => config.units = Some(System::Us),
                _ => reader.problem(Message::UnknownUnits.at(span)),
            },
            ("fail-on", _) => match word.map(fail_on) {
                Some(Some(level)) => config.fail_on = Some(level),
                _ => reader.problem(Message::UnknownLevel.at(span)),
            },
            ("required-version", DeValue::String(wanted)) => required(&mut reader, span, wanted),
            ("required-version", _) => reader.problem(Message::VersionNotText.at(span)),
            ("rules-edition", _) => match word.filter(|name| editions().any(|known| known == *name)) {
                Some(name) => config.edition = Some(name.to_owned()),
                None => {
                    let known: Vec<&str> = editions().collect();
                    reader.problem(Message::UnknownEdition { known: &known }.at(span));
                }
            },
            ("known", DeValue::String(path)) => config.known = Some(plain(Path::new(&**path), &config.root)),
            ("known", _) => reader.problem(Message::KnownNotAPath.at(span)),
            ("docs-url", _) => match word.filter(|url| is_address(url)) {
                Some(url) => config.docs_url = Some(url.trim_end_matches('/').to_owned()),
                None => reader.problem(Message::NotAnAddress.at(span)),
            },
            ("layers", DeValue::Table(layers)) => config.layers = read_layers(&mut reader, layers),
            ("layers", _) => reader.problem(Message::LayersNotATable.at(span)),
            ("adjust", DeValue::Table(adjust)) => match read_adjustments(&source, adjust) {
                Ok(adjustments) => config.adjustments = adjustments,
                Err(problems) => reader.problems.extend(problems),
            },
            ("adjust", _) => reader.problem(Message::AdjustmentNotATable { form: "[adjust.RULE]" }.at(span)),
            ("folder", DeValue::Array(list)) => {
                for folder in list.iter() {
                    let span = reader.span(folder.span());
                    match folder.get_ref().as_table() {
                        Some(table) => config.folders.extend(read_folder(&mut reader, table, span, &config.root)),
                        None => reader.problem(Message::FolderNotATable.at(span)),
                    }
                }
            }
            ("folder", _) => reader.problem(Message::FolderNotATable.at(span)),
            (unknown, _) => {
                reader.problem(Message::UnknownSetting { name: unknown }.at(reader.span(key.span())));
            }
        }
    }
    if let Some(first) = config.folders.get(MOST_FOLDERS) {
        reader.problem(Message::TooManyFolders { most: MOST_FOLDERS }.at(first.span));
    }
    config.folders.sort_by(|a, b| a.path.cmp(&b.path));
    reader.problems.sort_by_key(|finding| finding.span);
    if reader.problems.is_empty() { Ok(config) } else { Err(reader.problems) }
}

/// Each of them is held against rules of its own, which have to be read and kept.
const MOST_FOLDERS: usize = 100;

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

fn read_layers(reader: &mut TomlReader<'_>, layers: &DeTable<'_>) -> BTreeMap<String, String> {
    let mut names = BTreeMap::new();
    for (key, value) in layers {
        let at = reader.span(value.span());
        if !LAYERS.contains(&&**key.get_ref()) {
            reader.problem(Message::UnknownLayer { name: key.get_ref() }.at(reader.span(key.span())));
            continue;
        }
        let fits = |name: &str| {
            let sign = |c: char| c.is_control() || NOT_IN_LAYERS.contains(c);
            !name.trim().is_empty() && name.chars().count() <= 255 && !name.contains(sign)
        };
        match value.get_ref().as_str().filter(|name| fits(name)) {
            Some(name) => _ = names.insert(key.get_ref().to_string(), name.to_owned()),
            None => reader.problem(Message::LayerName { without: NOT_IN_LAYERS }.at(at)),
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
fn required(reader: &mut TomlReader<'_>, span: Span, wanted: &str) {
    let own = env!("CARGO_PKG_VERSION");
    match semver::VersionReq::parse(wanted) {
        Err(why) => reader.problem(Message::UnreadableVersion { why: &why.to_string() }.at(span)),
        Ok(range) if semver::Version::parse(own).is_ok_and(|own| range.matches(&own)) => {}
        Ok(_) => reader.problem(Message::OtherVersion { wanted, own }.at(span)),
    }
}

/// `path` and the adjustments that hold below it.
fn read_folder(reader: &mut TomlReader<'_>, table: &DeTable<'_>, span: Span, root: &Path) -> Option<Folder> {
    let mut folder = Folder { path: PathBuf::new(), span, adjustments: Vec::new() };
    for (key, value) in table.iter() {
        let at = reader.span(value.span());
        match (&**key.get_ref(), value.get_ref()) {
            ("path", DeValue::String(path)) => {
                folder = Folder { path: plain(Path::new(&**path), root), span: at, ..folder };
                if !folder.path.starts_with(root) {
                    reader.problem(Message::FolderOutside.at(at));
                }
            }
            ("path", _) => reader.problem(Message::PathNotAFolder.at(at)),
            ("adjust", DeValue::Table(adjust)) => match read_adjustments(reader.source, adjust) {
                Ok(adjustments) => {
                    for of_all in adjustments.iter().filter(|adjustment| *adjustment.rule == *ASSUMED) {
                        reader.problem(Message::AssumedInFolder.at(of_all.rule_span));
                    }
                    folder.adjustments = adjustments;
                }
                Err(problems) => reader.problems.extend(problems),
            },
            ("adjust", _) => reader.problem(Message::AdjustmentNotATable { form: "[folder.adjust.RULE]" }.at(at)),
            (unknown, _) => {
                reader.problem(Message::UnknownOfFolder { name: unknown }.at(reader.span(key.span())));
            }
        }
    }
    if !table.contains_key("path") {
        reader.problem(Message::FolderWithoutPath.at(span));
        return None;
    }
    Some(folder)
}
