//! What came of a review.

use std::io::Write;

use jiff::civil::Date;

use crate::checker::item::Item;
use crate::output;
use crate::report::Report;
use crate::review::Run;
use crate::rules::Pack;
use crate::text::Span;

/// The findings of a run, with the details and assemblies that they are about.
///
/// ```
/// use headlap::{Checker, Date, Texts};
///
/// let mut texts = Texts::new();
/// texts.add("wall.detail", "include \"stock.detial\"\n");
/// let checker = Checker::stock();
/// let review = checker.review(&texts, ["wall.detail"], Date::constant(2026, 5, 4));
/// for finding in &review.report().findings {
///     let (file, at) = review.report().place(finding.span).expect("a place");
///     println!("{file}:{}: {}", at.line, finding.message);
/// }
/// ```
pub struct Review<'c> {
    pack: &'c Pack,
    pub(in crate::checker) run: Run,
    today: Date,
}

impl<'c> Review<'c> {
    pub(in crate::checker) fn new(pack: &'c Pack, run: Run, today: Date) -> Review<'c> {
        Review { pack, run, today }
    }

    /// All findings, in the order of reports, with the texts that they point into.
    pub fn report(&self) -> &Report {
        &self.run.report
    }

    /// The details and assemblies of each text, details first.
    ///
    /// ```
    /// use headlap::{Checker, Date, Texts};
    ///
    /// let mut texts = Texts::new();
    /// texts.add("wall.detail", "include \"stock.detail\"\nassembly W1 wall {\n  layer gypsum-board 12.7 mm\n}\n");
    /// let checker = Checker::stock();
    /// let review = checker.review(&texts, ["wall.detail"], Date::constant(2026, 5, 4));
    /// assert_eq!(review.items().map(|item| item.name().to_owned()).collect::<Vec<_>>(), ["W1"]);
    /// ```
    pub fn items(&self) -> impl Iterator<Item = Item<'_>> {
        self.run.checked.iter().flat_map(|file| {
            let details = file.facts.details.iter().map(|facts| Item::detail(&self.run.report, facts));
            details.chain(file.facts.assemblies.iter().map(|facts| Item::assembly(&self.run.report, facts)))
        })
    }

    /// The line, from 1, of a span that lies in the text of this name.
    pub fn line(&self, name: &str, span: Span) -> Option<usize> {
        let source = self.run.checked.iter().map(|file| &file.source).find(|source| source.id == span.file)?;
        (source.name == name).then(|| source.position(span.start as usize).line)
    }

    /// The lines, from 1, of the statements of the pieces or layers of an item, in the order in which drawings number them.
    pub fn statements(&self, item: &Item<'_>) -> Vec<usize> {
        let source =
            |span: Span| self.run.checked.iter().map(|file| &file.source).find(|source| source.id == span.file);
        let line = |span: Span| source(span).map_or(0, |source| source.position(span.start as usize).line);
        item.statements().into_iter().map(line).collect()
    }

    /// The findings as JSON, as `headlap review --format json` writes them.
    pub fn json(&self) -> String {
        written(|out| output::json(&self.run.report, out))
    }

    /// The facts of all details and assemblies as JSON, as `headlap facts --format json` writes them.
    pub fn facts_json(&self) -> String {
        written(|out| output::facts::json(&self.run.checked, &[], out))
    }

    /// The report as one HTML page that needs nothing else.
    pub fn html(&self) -> String {
        let Run { report, checked, needs, .. } = &self.run;
        let input = output::html::Input { report, checked, needs, pack: self.pack, today: self.today };
        written(|out| output::html::html(&input, out))
    }
}

/// What an output writes.
fn written(write: impl FnOnce(&mut dyn Write) -> std::io::Result<()>) -> String {
    let mut out = Vec::new();
    write(&mut out).expect("memory takes what is written");
    String::from_utf8(out).expect("every output writes UTF-8")
}
