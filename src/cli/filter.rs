//! Which findings of a run to show.

use foldhash::HashSet;

use crate::cli::Message;
use crate::cli::args::Filter;
use crate::cli::failure::Failure;
use crate::cli::task::Task;
use crate::finding::{Finding, Level, PAGES};
use crate::project::{self, Defined};
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
    fn on_sheets(&self, run: &Run) -> HashSet<(FileId, String)> {
        if self.sheet.is_empty() {
            return HashSet::default();
        }
        let wanted = |defined: &Defined| defined.names_of_sheet().any(|name| self.sheet.iter().any(|s| s == name));
        let sources = run.report.sources.values();
        let all = sources.flat_map(|source| project::defined(source).into_iter().map(|defined| (source.id, defined)));
        all.filter(|(_, defined)| wanted(defined)).map(|(file, defined)| (file, defined.name)).collect()
    }

    /// Refuses items and sheets that no file of the run has: a name that is misspelled must not look like a pass.
    ///
    /// # Errors
    /// In words, with the nearest name.
    pub fn check_names(&self, runs: &[Run], task: &Task) -> Result<(), Failure> {
        let found = || runs.iter().flat_map(|run| &run.report.findings).filter_map(|finding| finding.item.as_deref());
        if self.sheet.is_empty() && self.item.iter().all(|item| found().any(|name| name == item)) {
            return Ok(());
        }
        // What has no finding is looked for in the texts, and then in those that they include.
        let texts = task.parts.iter().flat_map(|part| project::defined_in(&part.walked, &task.working));
        let (mut items, mut sheets): (HashSet<String>, HashSet<String>) = (HashSet::default(), HashSet::default());
        for defined in texts {
            sheets.extend(defined.names_of_sheet().map(str::to_owned));
            items.insert(defined.name);
        }
        items.extend(found().map(str::to_owned));
        let all_there = |wanted: &[String], there: &HashSet<String>| wanted.iter().all(|name| there.contains(name));
        if !(all_there(&self.item, &items) && all_there(&self.sheet, &sheets)) {
            let run = task.run(true);
            items.extend(run.names().map(str::to_owned));
            let details = run.checked.iter().flat_map(|file| &file.facts.details).map(|facts| &facts.detail);
            let included = details.map(|detail| Defined { name: String::new(), sheet: detail.sheet.clone() });
            included.for_each(|defined| sheets.extend(defined.names_of_sheet().map(str::to_owned)));
        }
        stranger("item", &self.item, &items)?;
        stranger("sheet", &self.sheet, &sheets)
    }

    /// Refuses ids that no rule and no error of a text has.
    ///
    /// # Errors
    /// In words, with the nearest id.
    pub fn check(&self, pack: &Pack) -> Result<(), Failure> {
        let known = || pack.rules.iter().map(|rule| &*rule.id).chain(PAGES.iter().map(|page| page.id));
        let stranger = self.rule.iter().chain(&self.not_rule).find(|id| known().all(|known| known != id.as_str()));
        let Some(id) = stranger else { return Ok(()) };
        Err(Message::NoRule { id, near: nearest(id, known()) }.into())
    }
}

fn stranger(what: &str, wanted: &[String], known: &HashSet<String>) -> Result<(), Failure> {
    let Some(name) = wanted.iter().find(|name| !known.contains(*name)) else { return Ok(()) };
    let near = nearest(name, known.iter().map(String::as_str));
    Err(Message::NoneInRun { what, name, near }.into())
}

fn lies_in(details: &HashSet<(FileId, String)>, finding: &Finding) -> bool {
    finding.item.as_ref().is_some_and(|item| details.contains(&(finding.span.file, item.to_string())))
}
