//! Which findings of a run to show.

use foldhash::HashSet;

use crate::cli::args::Filter;
use crate::cli::failure::Failure;
use crate::finding::{Finding, Level, PAGES};
use crate::model::{Detail, Name};
use crate::review::Run;
use crate::rules::Pack;
use crate::text::{FileId, nearest};

impl Filter {
    /// Something is left out.
    pub fn narrows(&self) -> bool {
        let Filter { rule, not_rule, level, item, sheet } = self;
        !(rule.is_empty() && not_rule.is_empty() && level.is_none() && item.is_empty() && sheet.is_empty())
    }

    /// Removes the other findings from a run. Unreadable text stays: it could have been anything.
    pub fn apply(&self, run: &mut Run) {
        if !self.narrows() {
            return;
        }
        let sheets = self.on_sheets(run);
        let level = self.level.as_deref().and_then(Level::from_word);
        run.report.findings.retain(|finding| {
            let named = |list: &[String], name: &str| list.is_empty() || list.iter().any(|other| other == name);
            let item = finding.item.as_deref().unwrap_or("");
            let wanted = named(&self.rule, &finding.rule)
                && !self.not_rule.iter().any(|rule| **rule == *finding.rule)
                && level.is_none_or(|least| finding.level >= least)
                && named(&self.item, item)
                && (self.sheet.is_empty() || lies_in(&sheets, finding));
            wanted || finding.unread()
        });
    }

    /// The details of the wanted sheets, each with its file.
    fn on_sheets(&self, run: &Run) -> HashSet<(FileId, Name)> {
        let details = run.checked.iter().flat_map(|checked| &checked.facts.details).map(|facts| &facts.detail);
        let wanted = details.filter(|detail| names_of_sheet(detail).any(|name| self.sheet.iter().any(|s| s == name)));
        wanted.map(|detail| (detail.name_span.file, detail.name.clone())).collect()
    }

    /// Refuses items and sheets that no file of the run has: a name that is misspelled must not look like a pass.
    ///
    /// # Errors
    /// In words, with the nearest name.
    pub fn check_names(&self, runs: &[Run]) -> Result<(), Failure> {
        let files = || runs.iter().flat_map(|run| &run.checked);
        let details = || files().flat_map(|file| &file.facts.details).map(|facts| &facts.detail);
        let of_findings =
            runs.iter().flat_map(|run| &run.report.findings).filter_map(|finding| finding.item.as_deref());
        let of_assemblies = files().flat_map(|file| &file.facts.assemblies).map(|facts| &*facts.assembly.name);
        let items = of_findings.chain(of_assemblies).chain(details().map(|detail| &*detail.name));
        let sheets = details().flat_map(|detail| names_of_sheet(detail));
        stranger("item", &self.item, &items.collect())?;
        stranger("sheet", &self.sheet, &sheets.collect())
    }

    /// Refuses ids that no rule and no error of a text has.
    ///
    /// # Errors
    /// In words, with the nearest id.
    pub fn check(&self, pack: &Pack) -> Result<(), Failure> {
        let known = || pack.rules.iter().map(|rule| &*rule.id).chain(PAGES.iter().map(|page| page.id));
        let stranger = self.rule.iter().chain(&self.not_rule).find(|id| known().all(|known| known != id.as_str()));
        let Some(id) = stranger else { return Ok(()) };
        let near = nearest(id, known()).map_or(String::new(), |near| format!("; did you mean \"{near}\"?"));
        Err(format!("there is no rule \"{id}\"{near}").into())
    }
}

/// What a sheet can be called: `3/A-501`, the third detail on its sheet, or `A-501`, the whole of it.
fn names_of_sheet(detail: &Detail) -> impl Iterator<Item = &str> {
    let sheet = detail.sheet.as_deref();
    sheet.into_iter().chain(sheet.and_then(|sheet| sheet.split_once('/')).map(|(_, whole)| whole))
}

fn stranger(what: &str, wanted: &[String], known: &HashSet<&str>) -> Result<(), Failure> {
    let Some(name) = wanted.iter().find(|name| !known.contains(name.as_str())) else { return Ok(()) };
    let near = nearest(name, known.iter().copied()).map_or(String::new(), |near| format!("; did you mean \"{near}\"?"));
    Err(format!("no file in this run has the {what} \"{name}\"{near}").into())
}

fn lies_in(details: &HashSet<(FileId, Name)>, finding: &Finding) -> bool {
    finding.item.as_ref().is_some_and(|item| details.contains(&(finding.span.file, item.clone())))
}
