//! The face of the package for others: texts and a day go in, a review comes out.

mod drawing;
mod item;
mod review;
mod texts;

use std::sync::Arc;

use jiff::civil::Date;

use crate::model::Shelf;
use crate::report::Report;
use crate::review::{Files, Given, Reviewer, run};
use crate::rules::Pack;
use crate::text::{FileId, Source};

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
}

impl Checker {
    /// The rules that are built in.
    ///
    /// ```
    /// assert!(headlap::Checker::stock().rules().any(|id| id == "reverse-lap"));
    /// ```
    pub fn stock() -> Checker {
        Checker { pack: Pack::load(&[]).expect("what is built in has been tested") }
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
        let pack = Pack::load(&firm).map_err(|findings| Report {
            findings,
            files: firm.len(),
            sources: firm.iter().map(|source| (source.id, source.clone())).collect(),
            ..Report::default()
        })?;
        Ok(Checker { pack })
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
        let named: Vec<&Arc<Source>> = names.into_iter().filter_map(|name| texts.source(name)).collect();
        let fetch = |path: &str| texts.fetch(path);
        let shelf = Shelf::new(&fetch, &self.pack.words);
        let reviewer = Reviewer::new(&shelf, &self.pack, today);
        let read = |number: usize| Given::Text(named[number].clone());
        let has = |name: &str| named.iter().any(|source| source.name == name);
        let run = run(&reviewer, &Files { count: named.len(), read: &read, has: &has }, true);
        Review::new(&self.pack, run, today)
    }
}
