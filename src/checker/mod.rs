//! The face of the package for others: texts and a day go in, a review comes out.

mod cure;
mod drawing;
mod item;
mod review;
mod texts;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::civil::Date;

use crate::finding::Finding;
use crate::model::{Fetch, SourceMap, no_text};
use crate::report::Report;
use crate::review::{Files, Given, Memory, Reviewer, Run, run};
use crate::rules::Pack;
use crate::settings;
use crate::text::{FileId, Source};

pub use cure::Cure;
pub use drawing::Drawing;
pub use item::{Item, ItemKind};
pub use review::Review;
pub use texts::Texts;

/// The rules that texts are held against, read and checked once for any number of reviews.
///
/// ```
/// use headlap::{Checker, Date, Texts};
///
/// let mut texts = Texts::new();
/// texts.add("wall.detail", "include \"stock.detail\"\n");
/// let checker = Checker::stock();
/// let review = checker.review(&texts, ["wall.detail"], Date::constant(2026, 5, 4));
/// assert!(review.report().findings.is_empty());
/// ```
pub struct Checker {
    pack: Pack,
    /// Folders with adjustments of their own, outer ones first, each with all that holds there.
    folders: Vec<(PathBuf, Pack)>,
    memory: Option<Memory>,
}

impl Checker {
    /// The rules that are built in.
    ///
    /// ```
    /// assert!(headlap::Checker::stock().rules().any(|id| id == "reverse-lap"));
    /// ```
    pub fn stock() -> Checker {
        Checker { pack: Pack::load(&[]).expect("what is built in has been tested"), folders: Vec::new(), memory: None }
    }

    /// The rules that are built in, and a firm's own files of rules on top.
    ///
    /// ```
    /// use headlap::{Checker, Texts};
    ///
    /// let mut rules = Texts::new();
    /// rules.add("firm.toml", "[[rule]]\nid = \"x\"\n");
    /// let report = Checker::with_rules(&rules).err().expect("this rule has no title");
    /// assert!(report.findings.iter().all(|finding| finding.span.start > 0));
    /// ```
    ///
    /// # Errors
    /// A report of all that is wrong with the files, each at its place.
    pub fn with_rules(rules: &Texts) -> Result<Checker, Report> {
        let renumbered = |(number, source): (usize, &Arc<Source>)| {
            Arc::new(Source::new(FileId::firm_rules(number), source.name.as_str(), source.text.as_str()))
        };
        let firm: Vec<Arc<Source>> = rules.iter().enumerate().map(renumbered).collect();
        let pack = Pack::load(&firm).map_err(|findings| wrong(findings, &firm))?;
        Ok(Checker { pack, folders: Vec::new(), memory: None })
    }

    /// The rules of a library as its `headlap.toml` has them. `settings` is its text among `texts`, by its name; the firm's rules and the
    /// climate that it names are there too. A list of known findings is not read.
    ///
    /// ```
    /// use headlap::{Checker, Texts};
    ///
    /// let mut texts = Texts::new();
    /// texts.add("headlap.toml", "unit = \"us\"\n");
    /// let report = Checker::with_settings(&texts, "headlap.toml").err().expect("there is no such setting");
    /// assert!(report.findings[0].message.contains("`unit`"));
    /// ```
    ///
    /// # Errors
    /// A report of all that is wrong with the settings and the rules, each at its place.
    pub fn with_settings(texts: &Texts, settings: &str) -> Result<Checker, Report> {
        let text = texts.source(settings).map_or("", |source| &source.text);
        let source = Arc::new(Source::new(FileId::SETTINGS, settings, text));
        let root = Path::new(ROOT).join(settings).parent().map(Path::to_path_buf).unwrap_or_default();
        let own = std::slice::from_ref(&source);
        let config = settings::of(source.clone(), root).map_err(|findings| wrong(findings, own))?;
        let refused = |span, message: settings::Message<'_>| wrong(vec![message.at(span)], own);
        let named = |path: &Path| {
            let inside = |source: &&Arc<Source>| Path::new(ROOT).join(&source.name).starts_with(path);
            let rules =
                |source: &&Arc<Source>| source.name.ends_with(".toml") && !source.name.ends_with(settings::NAME);
            texts.iter().filter(inside).filter(rules).collect::<Vec<_>>()
        };
        let mut firm = Vec::new();
        for (path, span) in &config.rules {
            let found = named(path);
            if found.is_empty() {
                return Err(refused(*span, settings::Message::NoRules));
            }
            for source in found {
                let id = FileId::firm_rules(firm.len());
                firm.push(Arc::new(Source::new(id, source.name.as_str(), source.text.as_str())));
            }
        }
        let read = |name: &str| {
            let path = settings::plain(Path::new(name), &config.root);
            let found = texts.iter().find(|source| Path::new(ROOT).join(&source.name) == path);
            found.map(|source| source.text.clone()).ok_or_else(|| no_text::NO_FILE.to_owned())
        };
        let climate = config.climate.as_ref().map(|(name, span)| {
            settings::climate(name, &read).map_err(|why| refused(*span, settings::Message::NoClimate { why: &why }))
        });
        let packs = settings::packs(&config, &firm, climate.transpose()?.as_ref());
        let (pack, folders) = packs.map_err(|(findings, sources)| wrong(findings, &sources))?;
        Ok(Checker { pack, folders, memory: None })
    }

    /// Keeps what the last review of each text worked out, so that the next one works out anew only the details that have changed: for
    /// pages and editors. What a review finds is the same.
    ///
    /// ```
    /// use headlap::{Checker, Date, Texts};
    ///
    /// let (checker, today) = (Checker::stock().remembering(), Date::constant(2026, 5, 4));
    /// let mut texts = Texts::new();
    /// for top in ["100 mm", "150 mm"] {
    ///     texts.add("a.detail", format!("include \"stock.detail\"\ndetail A course {{ piece deck plywood up to {top} }}\n"));
    ///     let review = checker.review(&texts, ["a.detail"], today);
    ///     assert_eq!(review.json(), Checker::stock().review(&texts, ["a.detail"], today).json());
    /// }
    /// ```
    pub fn remembering(self) -> Checker {
        Checker { memory: Some(Memory::default()), ..self }
    }

    /// The rules that hold for a text.
    fn rules_for(&self, name: &str) -> &Pack {
        let path = Path::new(ROOT).join(name);
        self.folders.iter().rev().find(|(folder, _)| path.starts_with(folder)).map_or(&self.pack, |(_, pack)| pack)
    }

    /// The ids of all rules, sorted.
    ///
    /// ```
    /// let checker = headlap::Checker::stock();
    /// assert!(checker.rules().is_sorted());
    /// ```
    pub fn rules(&self) -> impl Iterator<Item = &str> {
        self.pack.rules.iter().map(|rule| &*rule.id)
    }

    /// Reviews the named texts and all that they include. What is wrong with a text, or with an include, is a finding.
    /// Waivers end on days, so a review has one.
    ///
    /// ```
    /// use headlap::{Checker, Date, Level, Texts};
    ///
    /// let mut texts = Texts::new();
    /// texts.add("wall.detail", "detial W1 base-of-wall\n");
    /// let checker = Checker::stock();
    /// let review = checker.review(&texts, ["wall.detail"], Date::constant(2026, 5, 4));
    /// assert_eq!(review.report().findings[0].level, Level::Error);
    /// ```
    pub fn review<'t>(&self, texts: &Texts, names: impl IntoIterator<Item = &'t str>, today: Date) -> Review<'_> {
        let mut named: Vec<&Arc<Source>> = names.into_iter().filter_map(|name| texts.source(name)).collect();
        let rules = |source: &&Arc<Source>| std::ptr::from_ref(self.rules_for(&source.name));
        named.sort_by_key(rules);
        let alike = named.chunk_by(|a, b| rules(a) == rules(b));
        let runs: Vec<Run> = alike.map(|named| self.run(texts, named, today)).collect();
        Review::new(&self.pack, Run::together(runs), today)
    }

    /// What is built in has been read before.
    fn source_map<'a>(&'a self, fetch: &'a Fetch<'a>, pack: &'a Pack) -> SourceMap<'a> {
        SourceMap::new(fetch, &pack.words).knowing(self.memory.as_ref().map(|memory| &memory.built_ins))
    }

    /// Texts for which the same rules hold.
    fn run(&self, texts: &Texts, named: &[&Arc<Source>], today: Date) -> Run {
        let pack = named.first().map_or(&self.pack, |source| self.rules_for(&source.name));
        let fetch = |path: &str| texts.fetch(path);
        let source_map = self.source_map(&fetch, pack);
        let reviewer = Reviewer::new(&source_map, pack, today).remembering(self.memory.as_ref());
        let read = |number: usize| Given::Text(named[number].clone());
        let has = |name: &str| named.iter().any(|source| source.name == name);
        run(&reviewer, &Files { count: named.len(), read: &read, has: &has }, true)
    }
}

/// Names of texts count from here where settings speak of paths.
const ROOT: &str = "/";

fn wrong(findings: Vec<Finding>, sources: &[Arc<Source>]) -> Report {
    let sources = sources.iter().map(|source| (source.id, source.clone()));
    Report { findings, files: 1, sources: sources.collect(), ..Report::default() }
}
