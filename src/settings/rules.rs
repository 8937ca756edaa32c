//! The rules of a library: the built-in ones and the firm's own, as its settings pin and adjust them.

use std::path::PathBuf;
use std::sync::Arc;

use crate::finding::Finding;
use crate::model::{Climate, SourceMap, Words, builtin, builtin_names, no_text};
use crate::rules::{Adjustment, Pack, edition};
use crate::settings::{Config, NoClimate};
use crate::text::{FileId, Source, nearest};

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
            if let Err(findings) = pack.adjust(adjustments) {
                return Err((findings, pack.sources().values().chain([&config.source]).cloned().collect()));
            }
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
/// Why there is none.
pub fn climate(name: &str, read: &dyn Fn(&str) -> Result<String, String>) -> Result<Arc<Climate>, NoClimate> {
    let words = Words::default();
    let read_all = |source: Arc<Source>| {
        let fetch = |path: &str| Err(no_text::in_climate(path));
        SourceMap::new(&fetch, &words).read(source).library.climates
    };
    if !name.ends_with(".detail") {
        let built_in = builtin_names().filter(|file| file.starts_with("climates/")).filter_map(builtin);
        let all: Vec<Arc<Climate>> = built_in.flat_map(read_all).collect();
        let found = all.iter().find(|climate| &*climate.name == name);
        return found.cloned().ok_or_else(|| {
            let near = nearest(name, all.iter().map(|climate| &*climate.name));
            NoClimate::Unknown { name: name.to_owned(), near: near.map(str::to_owned) }
        });
    }
    let text = read(name).map_err(|why| NoClimate::Unreadable { why })?;
    let mut climates = read_all(Arc::new(Source::new(FileId::CLIMATE, name, text)));
    match (climates.pop(), climates.is_empty()) {
        (Some(climate), true) => Ok(climate),
        (Some(_), false) => Err(NoClimate::SeveralInFile),
        (None, _) => Err(NoClimate::NoneInFile),
    }
}
