//! `headlap review --fix`: proved cures written into the files, or shown as a diff.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Arc;

use similar::{ChangeTag, TextDiff};

use crate::cli::args::Review;
use crate::cli::failure::Failure;
use crate::cli::print;
use crate::cli::task::{LibraryFiles, Task, today};
use crate::finding::Finding;
use crate::mend::{self, Context, Cure, ReviewedCopy};
use crate::model::Material;
use crate::output::visible;
use crate::project::{self, Unsaved, Walked};
use crate::report::{Checked, Proved, Report};
use crate::review::Run;
use crate::syntax;

/// Mends every file that was named. Gives how many have changed, or would.
///
/// # Errors
/// A file that cannot be written, or that another program changes meanwhile.
pub fn run(task: &Task, review: &Review) -> Result<usize, Failure> {
    let mut changed = 0;
    for part in &task.parts {
        for found in &part.walked.files {
            let path = found.path(&task.working);
            // The review reports what cannot be read.
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
                let diff = diff.unified_diff().context_radius(2).header(&found.name, &found.name).to_string();
                print::out(|out| out.write_all(diff.as_bytes()))?;
                continue;
            }
            project::rewrite(&path, &bytes, &mended)?;
            print::out(|out| done.iter().try_for_each(|line| writeln!(out, "{}", visible(line))))?;
        }
    }
    Ok(changed)
}

/// An edit takes as long as some ten reviews of its file, so no more are looked for.
const MOST_SHOWN: usize = 100;

/// The first proved cure of each open finding, by its place in the report.
pub fn proved(task: &Task, review: &Review, report: &Report) -> BTreeMap<usize, Proved> {
    let mut wanted: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    let open = report.findings.iter().enumerate().filter(|(_, finding)| finding.open());
    for (place, finding) in open.take(MOST_SHOWN) {
        if let Some(source) = report.source(finding.span) {
            wanted.entry(&source.name).or_default().push(place);
        }
    }
    let mut proved = BTreeMap::new();
    for part in &task.parts {
        for found in &part.walked.files {
            let Some(places) = wanted.remove(&*found.name) else { continue };
            let path = found.path(&task.working);
            let Ok(text) = project::bytes(&path).and_then(project::decode) else { continue };
            let file = File { task, part, review, path: &path, name: &found.name };
            proved.extend(file.proved(&text, &places, report));
        }
    }
    proved
}

struct File<'a> {
    task: &'a Task,
    part: &'a LibraryFiles,
    review: &'a Review,
    path: &'a Path,
    name: &'a str,
}

/// The most edits of one file in one run.
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
        let mut run = self.run(text);
        if let Some(list) = self.part.known(self.review.known.as_deref()) {
            let _ = self.task.known_in(self.part, &list).mark(&mut run.report);
        }
        self.review.filter.apply(&mut run);
        let checked = run.checked.iter().find(|checked| checked.source.name == self.name)?;
        let own = |finding: &&Finding| finding.open() && finding.span.file == checked.source.id;
        let mut findings: Vec<&Finding> = run.report.findings.iter().filter(own).collect();
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.level));
        findings.into_iter().find_map(|finding| {
            let key = format!("{} {:?} {}", finding.rule, finding.item, finding.message);
            if !tried.insert(key) {
                return None;
            }
            Some((finding.clone(), self.cure(text, checked, finding)?))
        })
    }

    fn proved(&self, text: &str, places: &[usize], report: &Report) -> Vec<(usize, Proved)> {
        let run = self.run(text);
        let Some(checked) = run.checked.iter().find(|checked| checked.source.name == self.name) else {
            return Vec::new();
        };
        let mut proved = Vec::new();
        for place in places {
            // The run numbers its files otherwise.
            let reported = &report.findings[*place];
            let same = |own: &&Finding| {
                own.rule == reported.rule
                    && own.span.range() == reported.span.range()
                    && own.message == reported.message
            };
            let Some(finding) = run.report.findings.iter().find(same) else { continue };
            if let Some(cure) = self.cure(text, checked, finding)
                && let Some(new) = mend::apply(text, &cure.edits)
            {
                proved.push((*place, Proved { title: cure.title, lines: changed(text, &new) }));
            }
        }
        proved
    }

    fn cure(&self, text: &str, checked: &Checked, finding: &Finding) -> Option<Cure> {
        let (document, _) = syntax::read(&checked.source);
        let materials = self.materials(text);
        let pack = self.part.project.rules_for(self.path);
        let facts = checked.facts.details.iter().find(|facts| finding.item.as_deref() == Some(&facts.detail.name));
        let case =
            Context { source: &checked.source, document: &document, facts, materials: &materials, pack, finding };
        mend::cures(&case, &|new| self.trial(new)).into_iter().next()
    }

    fn trial(&self, text: &str) -> ReviewedCopy {
        let run = self.run(text);
        ReviewedCopy {
            findings: run.report.findings,
            details: run.checked.into_iter().flat_map(|own| own.facts.details).collect(),
        }
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

    fn run(&self, text: &str) -> Run {
        let working = &self.task.working;
        let walked = Walked::over(&[self.path.to_path_buf()], Arc::new(self.over(text)), working);
        let project = &self.part.project;
        let progress = |_| {};
        project::review(&project::ReviewTask {
            project,
            walked: &walked,
            working,
            today: today().into(),
            keep: true,
            texts: true,
            cache: None,
            memory: None,
            progress: &progress,
        })
    }
}

/// The lines that go and those that come, without their leading blanks.
fn changed(old: &str, new: &str) -> Vec<String> {
    let diff = TextDiff::from_lines(old, new);
    let line = |change: similar::Change<&str>| {
        let sign = match change.tag() {
            ChangeTag::Delete => '-',
            ChangeTag::Insert => '+',
            ChangeTag::Equal => return None,
        };
        Some(format!("{sign} {}", change.value().trim()))
    };
    diff.iter_all_changes().filter_map(line).collect()
}
