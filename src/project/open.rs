//! A library made ready: its root, its settings, its rules.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::finding::Finding;
use crate::project::home::{Home, home_of};
use crate::project::load::{above, load};
use crate::project::shown::{plain, real, shown};
use crate::project::{Notice, Unreadable, Unsaved, rule_files};
use crate::report::{Off, Report};
use crate::rules::Pack;
use crate::settings::{Config, Message, climate, packs};
use crate::text::{FileId, Source, Span};

/// What a review needs to know besides the files themselves.
pub struct Project {
    /// No include may leave this folder.
    pub root: PathBuf,
    pub config: Option<Config>,
    /// Built-in rules, the firm's on top, adjusted as the project says.
    pub pack: Arc<Pack>,
    /// Folders with adjustments of their own, outer ones first, each with all that holds there.
    pub folders: Vec<(PathBuf, Pack)>,
}

/// Opens the project that a folder belongs to. Without a `headlap.toml` in it or above it, the folder itself is the
/// root and the built-in rules hold.
///
/// # Errors
/// A report of all that is wrong with the settings and the firm's rules; nothing can be reviewed then.
pub fn open(folder: &Path, working: &Path) -> Result<Project, Report> {
    open_at(&above(folder).map_or_else(|| Home::Folder(folder.to_path_buf()), Home::Settings), working)
}

/// Opens the project of one library.
///
/// # Errors
/// As `open`.
pub fn open_at(home: &Home, working: &Path) -> Result<Project, Report> {
    open_over(home, working, &Unsaved::default())
}

/// The same with the settings and rules as an editor holds them.
///
/// # Errors
/// As `open`.
pub fn open_over(home: &Home, working: &Path, unsaved: &Unsaved) -> Result<Project, Report> {
    let file = match home {
        Home::Settings(file) => file,
        Home::Folder(folder) => {
            return Ok(Project { root: folder.clone(), config: None, pack: Pack::built_in(), folders: Vec::new() });
        }
    };
    let config =
        load(file, FileId::SETTINGS, working, unsaved).map_err(|(source, findings)| report(findings, [source]))?;
    let known = config.known.iter().map(|path| (path, config.places.get("known").copied().unwrap_or_default()));
    let root = real(&config.root);
    let inside = |path: &Path, span: Span| match real(path).starts_with(&root) {
        true => Ok(()),
        false => {
            let outside = Message::Outside { path: &shown(path, working) };
            Err(report(vec![outside.at(span)], [config.source.clone()]))
        }
    };
    let climates = config.climate.iter().filter(|(name, _)| name.ends_with(".detail"));
    let climates: Vec<_> = climates.map(|(name, span)| (plain(Path::new(name), &config.root), *span)).collect();
    let named = config.rules.iter().chain(&climates).map(|(path, span)| (path, *span)).chain(known);
    named.into_iter().try_for_each(|(path, span)| inside(path, span))?;
    let mut paths = Vec::new();
    for (path, span) in &config.rules {
        match rule_files(path) {
            Ok(found) => {
                found.iter().try_for_each(|file| inside(file, *span))?;
                paths.extend(found);
            }
            Err(why) => {
                let finding = Message::Unreadable { path: &shown(path, working), why: &why.words() }.at(*span);
                return Err(report(vec![finding], [config.source.clone()]));
            }
        }
    }
    let own =
        |name: &str| unsaved.read(&plain(Path::new(name), &config.root)).map_err(|unreadable| unreadable.why.words());
    let climate = match &config.climate {
        Some((name, span)) => Some(
            climate(name, &own)
                .map_err(|why| report(vec![Message::NoClimate { why: &why }.at(*span)], [config.source.clone()]))?,
        ),
        None => None,
    };
    if let Some(folder) = config.folders.iter().find(|folder| !folder.path.is_dir()) {
        let finding = Message::NoFolder.at(folder.span);
        return Err(report(vec![finding], [config.source.clone()]));
    }
    let firm = sources_of(&paths, working, unsaved)?;
    let (pack, folders) =
        packs(&config, &firm, climate.as_ref()).map_err(|(findings, sources)| report(findings, sources))?;
    Ok(Project { root: config.root.clone(), config: Some(config), pack: Arc::new(pack), folders })
}

/// The project of issued details as it judges a submittal. Settings that the submittal brings change nothing but the folder
/// that its includes have to lie in; folders with adjustments are found by their place below either side.
pub fn for_submittal(project: Project, (from, to): (&Path, &Path)) -> Project {
    let root = home_of(to, to).root();
    let place = |folder: PathBuf| match folder.strip_prefix(from) {
        Ok(inner) => Some(to.join(inner)),
        Err(_) => from.starts_with(&folder).then(|| to.to_path_buf()),
    };
    let folders = project.folders.into_iter().filter_map(|(folder, pack)| Some((place(folder)?, pack))).collect();
    Project { root, folders, ..project }
}

impl Project {
    /// The rules that the settings switch off, and in which folder.
    pub fn off(&self, working: &Path) -> Vec<Off> {
        let Some(config) = &self.config else { return Vec::new() };
        let everywhere = config.adjustments.iter().map(|adjustment| (None, adjustment));
        let folders = config.folders.iter().flat_map(|folder| {
            let name = shown(&folder.path, working);
            folder.adjustments.iter().map(move |adjustment| (Some(name.clone()), adjustment))
        });
        let off = everywhere.chain(folders).filter(|(_, adjustment)| adjustment.off);
        let off = off.map(|(folder, a)| Off { rule: a.rule.clone(), folder, because: a.because.clone() });
        let pinned = self.pack.edition.iter().flat_map(|edition| {
            let because = Notice::LaterThanEdition { edition }.words();
            let later = self.pack.rules.iter().filter(|rule| rule.off && rule.adjusted.is_empty());
            later.map(move |rule| Off { rule: rule.id.clone(), folder: None, because: because.clone() })
        });
        off.chain(pinned).collect()
    }

    /// The address of the page on each rule that found something, in the book that `docs-url` names.
    pub fn pages(&self, findings: &[Finding]) -> BTreeMap<Arc<str>, String> {
        let Some(base) = self.config.as_ref().and_then(|config| config.docs_url.as_deref()) else {
            return BTreeMap::new();
        };
        let page = |finding: &Finding| {
            let topic = self.pack.rule(&finding.rule).map_or("text", |rule| self.pack.topic(rule));
            format!("{base}/rules/{}.html#{}", percent(topic), finding.rule)
        };
        findings.iter().map(|finding| (finding.rule.clone(), page(finding))).collect()
    }

    /// The rules that hold for a file.
    pub fn rules_for(&self, path: &Path) -> &Pack {
        self.folders.iter().rev().find(|(folder, _)| path.starts_with(folder)).map_or(&*self.pack, |(_, pack)| pack)
    }
}

/// A folder's name as a part of a web address.
fn percent(name: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-_.~".contains(&byte);
    let one = |byte: u8| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") };
    name.bytes().map(one).collect()
}

/// The built-in rules and those of the named files.
///
/// # Errors
/// A report of all that is wrong with the files.
pub fn rules(paths: &[PathBuf], working: &Path) -> Result<Pack, Report> {
    rules_over(paths, working, &Unsaved::default())
}

/// The same with the rule files as an editor holds them.
///
/// # Errors
/// As `rules`.
pub fn rules_over(paths: &[PathBuf], working: &Path, unsaved: &Unsaved) -> Result<Pack, Report> {
    let firm = sources_of(paths, working, unsaved)?;
    Pack::load(&firm).map_err(|findings| report(findings, firm.iter().cloned()))
}

/// The texts of the firm's rule files.
fn sources_of(paths: &[PathBuf], working: &Path, unsaved: &Unsaved) -> Result<Vec<Arc<Source>>, Report> {
    let mut firm = Vec::new();
    for (number, path) in paths.iter().enumerate() {
        let id = FileId::firm_rules(number);
        let name = shown(path, working);
        match unsaved.read(path) {
            Ok(text) => firm.push(Arc::new(Source::new(id, name, text))),
            Err(Unreadable { why, text, at, .. }) => {
                let span = Span::new(id, at.start, at.end);
                let finding = Message::Unreadable { path: &name, why: &why.words() }.at(span);
                return Err(report(vec![finding], [Arc::new(Source::new(id, name, text))]));
            }
        }
    }
    Ok(firm)
}

fn report(findings: Vec<Finding>, sources: impl IntoIterator<Item = Arc<Source>>) -> Report {
    let sources: std::collections::BTreeMap<_, _> = sources.into_iter().map(|source| (source.id, source)).collect();
    let files = findings.iter().map(|finding| finding.span.file).collect::<std::collections::BTreeSet<_>>().len();
    Report { findings, sources, files, ..Report::default() }
}
