//! `headlap review --fix`: proved cures written into the files, or shown as a diff.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

use similar::TextDiff;

use crate::cli::args::Review;
use crate::cli::failure::Failure;
use crate::cli::print;
use crate::cli::task::{Part, Task, today};
use crate::finding::Finding;
use crate::mend::{self, Case, Cure};
use crate::model::Material;
use crate::output::visible;
use crate::project::{self, Unsaved, Walked};
use crate::review::Run;
use crate::syntax;

/// Mends every file that was named. Gives how many have changed, or would.
///
/// # Errors
/// A file that cannot be written, or that somebody else changes meanwhile.
pub fn run(task: &Task, review: &Review) -> Result<usize, Failure> {
    let mut changed = 0;
    for part in &task.parts {
        for found in &part.walked.files {
            let path = found.path(&task.working);
            // What cannot be read is told by the review.
            let Ok(bytes) = project::bytes(&path) else { continue };
            let Ok(text) = project::decode(bytes.clone()) else { continue };
            let file = File { task, part, review, path: &path, name: &found.name };
            let (mended, done) = file.mend(text.clone());
            if done.is_empty() {
                continue;
            }
            changed += 1;
            if review.dry_run {
                let diff = TextDiff::from_lines(&text, &mended);
                let told = diff.unified_diff().context_radius(2).header(&found.name, &found.name).to_string();
                print::out(|out| out.write_all(told.as_bytes()))?;
                continue;
            }
            project::rewrite(&path, &bytes, &mended)?;
            print::out(|out| done.iter().try_for_each(|line| writeln!(out, "{}", visible(line))))?;
        }
    }
    Ok(changed)
}

struct File<'a> {
    task: &'a Task,
    part: &'a Part,
    review: &'a Review,
    path: &'a Path,
    name: &'a str,
}

/// So many edits of one file are enough for a morning.
const MOST: usize = 500;

impl File<'_> {
    /// Cures one finding after the other, the gravest first, until no proved cure is left. Gives the text and what was done.
    fn mend(&self, mut text: String) -> (String, Vec<String>) {
        let (mut done, mut tried) = (Vec::new(), BTreeSet::new());
        while done.len() < MOST {
            let Some((finding, cure)) = self.next(&text, &mut tried) else { break };
            let Some(new) = mend::apply(&text, &cure.edits) else { break };
            let line = text[..finding.span.range().start.min(text.len())].matches('\n').count() + 1;
            done.push(format!("{}:{line}: {}: {}", self.name, finding.rule, cure.title));
            text = new;
        }
        (text, done)
    }

    fn next(&self, text: &str, tried: &mut BTreeSet<String>) -> Option<(Finding, Cure)> {
        let mut run = self.run(text, true);
        if let Some(list) = self.part.known(self.review.known.as_deref()) {
            let _ = self.task.known_in(self.part, &list).mark(&mut run.report);
        }
        self.review.filter.apply(&mut run);
        let checked = run.checked.iter().find(|checked| checked.source.name == self.name)?;
        let (document, _) = syntax::read(&checked.source);
        let materials = self.materials(text);
        let pack = self.part.project.rules_for(self.path);
        let own = |finding: &&Finding| finding.open() && finding.span.file == checked.source.id;
        let mut findings: Vec<&Finding> = run.report.findings.iter().filter(own).collect();
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.level));
        findings.into_iter().find_map(|finding| {
            let key = format!("{} {:?} {}", finding.rule, finding.item, finding.message);
            if !tried.insert(key) {
                return None;
            }
            let details = &checked.facts.details;
            let facts = details.iter().find(|facts| finding.item.as_deref() == Some(&facts.detail.name));
            let source = &checked.source;
            let case = Case { source, document: &document, facts, materials: &materials, pack, finding };
            let cure = mend::cures(&case, &|new| self.run(new, false).report.findings).into_iter().next()?;
            Some((finding.clone(), cure))
        })
    }

    fn materials(&self, text: &str) -> Vec<Arc<Material>> {
        let reading = project::reading(&self.part.project, self.path, &self.over(text), &self.task.working);
        reading.map_or(Vec::new(), |reading| reading.library.all_materials().into_iter().cloned().collect())
    }

    fn over(&self, text: &str) -> Unsaved {
        let mut unsaved = Unsaved::default();
        unsaved.put(self.path.to_path_buf(), text);
        unsaved
    }

    fn run(&self, text: &str, keep: bool) -> Run {
        let working = &self.task.working;
        let walked = Walked::over(&[self.path.to_path_buf()], Arc::new(self.over(text)), working);
        let project = &self.part.project;
        let progress = |_| {};
        project::review(&project::Review {
            project,
            walked: &walked,
            working,
            today: today(),
            keep,
            texts: true,
            cache: None,
            progress: &progress,
        })
    }
}
