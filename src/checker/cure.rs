//! What cures a finding, and what is known of a word: for a page or an editor over texts in memory.

use std::sync::Arc;

use jiff::civil::Date;

use crate::about::{Surroundings, about};
use crate::checker::{Checker, Review, Texts};
use crate::finding::Edit;
use crate::mend::{self, Context, ReviewedCopy};
use crate::model::{Material, Reading};
use crate::syntax;
use crate::text::Span;

/// Edits of one text that clear a finding, as [`Checker::cures`] gives them.
///
/// ```
/// use headlap::{Checker, Date, Texts};
///
/// let text = "include \"stock.detail\"\nassembly W1 wall {\n  layer plywod 12 mm\n}\n";
/// let mut texts = Texts::new();
/// texts.add("a.detail", text);
/// let (checker, today) = (Checker::stock(), Date::constant(2026, 5, 4));
/// let review = checker.review(&texts, ["a.detail"], today);
/// let cure = &checker.cures(&texts, &review, 0, today)[0];
/// let edit = &cure.edits[0];
/// assert_eq!((&text[edit.span.range()], &*edit.text), ("plywod", "plywood"));
/// assert!(cure.proved);
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Cure {
    /// What it does.
    pub title: String,
    /// The edits, all with places in the text before any of them.
    pub edits: Vec<Edit>,
    /// It was made on a copy, and the review of the copy lost the finding and brought no other. Otherwise it is a waiver whose reason is
    /// left to its author.
    pub proved: bool,
}

impl Checker {
    /// The cures of a finding of a review of these texts, by its place in the report: the likeliest first, a waiver last.
    ///
    /// ```
    /// use headlap::{Checker, Date, Texts};
    ///
    /// let mut texts = Texts::new();
    /// texts.add("a.detail", "include \"stock.detail\"\nassembly W1 wall {\n  layer plywod 12 mm\n}\n");
    /// let (checker, today) = (Checker::stock(), Date::constant(2026, 5, 4));
    /// let review = checker.review(&texts, ["a.detail"], today);
    /// let cures = checker.cures(&texts, &review, 0, today);
    /// assert_eq!(cures[0].title, "Change plywod to plywood");
    /// ```
    pub fn cures(&self, texts: &Texts, review: &Review<'_>, finding: usize, today: Date) -> Vec<Cure> {
        let Some(finding) = review.report().findings.get(finding).filter(|finding| finding.open()) else {
            return Vec::new();
        };
        let files = &review.run.checked;
        let Some(checked) = files.iter().find(|checked| checked.source.id == finding.span.file) else {
            return Vec::new();
        };
        let name = checked.source.name.as_str();
        let (document, _) = syntax::read(&checked.source);
        let materials: Vec<Arc<Material>> = self
            .reading(texts, name)
            .map_or(Vec::new(), |reading| reading.library.all_materials().into_iter().cloned().collect());
        let context = Context {
            source: &checked.source,
            document: &document,
            facts: checked.facts.details.iter().find(|facts| finding.item.as_deref() == Some(&facts.detail.name)),
            materials: &materials,
            pack: self.rules_for(name),
            finding,
        };
        let again = |text: &str| {
            let mut changed = texts.clone();
            changed.add(name, text);
            let run = self.review(&changed, [name], today).run;
            ReviewedCopy {
                findings: run.report.findings,
                details: run.checked.into_iter().flat_map(|own| own.facts.details).collect(),
            }
        };
        let proved = mend::cures(&context, &again).into_iter().map(|cure| (cure, true));
        let all = proved.chain(mend::waiver(&context).map(|cure| (cure, false)));
        all.map(|(cure, proved)| Cure { title: cure.title, edits: cure.edits, proved }).collect()
    }

    /// What is known of the word at a place of a text, counted in bytes, as lines of Markdown; and the words that it is about, if they
    /// are a name.
    ///
    /// ```
    /// use headlap::{Checker, Date, Texts};
    ///
    /// let mut texts = Texts::new();
    /// texts.add("a.detail", "include \"stock.detail\"\nassembly W1 wall {\n  layer plywood 12 mm\n}\n");
    /// let (checker, today) = (Checker::stock(), Date::constant(2026, 5, 4));
    /// let review = checker.review(&texts, ["a.detail"], today);
    /// let (markdown, _) = checker.about(&texts, &review, "a.detail", 55).expect("a material");
    /// assert!(markdown.contains("**material** `plywood`"));
    /// ```
    pub fn about(
        &self,
        texts: &Texts,
        review: &Review<'_>,
        name: &str,
        offset: usize,
    ) -> Option<(String, Option<Span>)> {
        let (source, reading) = (texts.source(name)?, self.reading(texts, name)?);
        let all = &review.run.checked;
        let checked = all.iter().find(|checked| checked.source.name == name);
        let known = Surroundings { source, checked, all, library: &reading.library, pack: self.rules_for(name) };
        source.text.is_char_boundary(offset).then(|| about(&known, offset)).flatten()
    }

    fn reading(&self, texts: &Texts, name: &str) -> Option<Reading> {
        let fetch = |path: &str| texts.fetch(path);
        Some(self.source_map(&fetch, self.rules_for(name)).read(texts.source(name)?.clone()))
    }
}
