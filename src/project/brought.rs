//! Settings that a submittal brings along: listed, and never applied.

use std::path::Path;

use crate::project::home::folder_of;
use crate::project::load::{above, load};
use crate::project::shown::shown;
use crate::project::{Notice, Unsaved, read, rule_files};
use crate::rules::Adjustment;
use crate::settings::{Config, NAME};
use crate::text::FileId;

/// What the settings of a submittal say and the issued ones do not, those of folders within it among them. None of it counts.
pub fn brought_settings(issued: Option<&Config>, submitted: &Path, working: &Path) -> Vec<String> {
    let folder = folder_of(submitted, working);
    let within = walkdir::WalkDir::new(&folder).min_depth(2).sort_by_file_name().into_iter().filter_map(Result::ok);
    let within = within.filter(|entry| entry.file_name() == NAME && entry.file_type().is_file());
    let files = above(&folder).into_iter().chain(within.map(walkdir::DirEntry::into_path));
    let known = issued.map(says).unwrap_or_default();
    let mut said = Vec::new();
    for file in files.filter(|file| issued.is_none_or(|config| file.parent() != Some(&config.root))) {
        let name = shown(&file, working);
        match load(&file, FileId::SETTINGS, working, &Unsaved::default()) {
            Ok(config) => {
                let new = says(&config).into_iter().filter(|said| !known.contains(said));
                said.extend(new.map(|(said, _)| format!("{name}: {said}")));
            }
            Err(_) => said.push(Notice::SettingsUnreadable { name: &name }.words()),
        }
    }
    said
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
    said.extend(config.edition.iter().map(|name| format!("rules-edition = \"{name}\"")));
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
    format!("adjust.{}: {}, because \"{}\"", adjustment.rule, adjustment.change(), adjustment.because)
}

/// Distinguishes texts within one run.
fn print_of(texts: &[String]) -> u64 {
    use std::hash::{Hash, Hasher};
    let mut hasher = siphasher::sip::SipHasher13::new();
    texts.hash(&mut hasher);
    hasher.finish()
}
