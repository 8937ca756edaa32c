//! Reviews of the open files: each alone, or over its whole library where other files decide about it.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

use crate::finding::Finding;
use crate::mend::ReviewedCopy;
use crate::project::{self, KnownFindings, Project, Unsaved, Walked};
use crate::report::{Checked, Report};
use crate::review::{Memory, Run};
use crate::server::State;
use crate::text::Source;

/// The last review of an open file and of what it includes.
pub struct Reviewed {
    pub name: String,
    pub run: Run,
    /// Files outside of its include tree decide about it: those that include it, or the details that a set needs.
    pub wide: bool,
    /// The list of known findings cannot be used.
    pub trouble: Option<Report>,
}

impl Reviewed {
    pub fn checked(&self) -> Option<&Checked> {
        self.run.checked.iter().find(|checked| checked.source.name == self.name)
    }

    /// It was made from this file, or may be made from it now: an include of its tree led nowhere.
    fn reads(&self, name: &str) -> bool {
        let reads = |checked: &Checked| !checked.whole || checked.included.iter().any(|text| text.name == name);
        self.wide || self.checked().is_none_or(reads)
    }

    /// The findings of the file itself.
    pub fn own(&self) -> impl Iterator<Item = (&Finding, &Source)> {
        self.all().filter(|(_, source)| source.name == self.name)
    }

    /// All findings that have a place.
    pub fn all(&self) -> impl Iterator<Item = (&Finding, &Source)> {
        let report = &self.run.report;
        report.findings.iter().filter_map(|finding| Some((finding, report.source(finding.span)?)))
    }
}

impl State {
    /// Reviews what these changes concern.
    pub fn review(&mut self, changed: &BTreeSet<PathBuf>) {
        let names: Vec<String> = changed.iter().map(|path| project::shown(path, &self.working)).collect();
        let settings = changed.iter().any(|path| !project::is_named_detail(path) || self.libraries.lean_on(path));
        let details = self.open.keys().filter(|path| project::is_named_detail(path));
        let concerned: Vec<PathBuf> = details
            .filter(|path| {
                let known = self.reviewed.get(*path);
                settings || changed.contains(*path) || known.is_none_or(|known| names.iter().any(|n| known.reads(n)))
            })
            .cloned()
            .collect();
        if settings {
            self.libraries.forget();
        }
        for path in concerned {
            self.libraries.open(&path, &self.unsaved, &self.working);
            match self.libraries.of(&path) {
                Some(library) => {
                    let reviewed = self.reviewed(library, &path);
                    self.reviewed.insert(path, reviewed);
                }
                None => drop(self.reviewed.remove(&path)),
            }
        }
    }

    fn reviewed(&self, library: &Project, path: &Path) -> Reviewed {
        let walked = Walked::over(&[path.to_path_buf()], self.unsaved.clone(), &self.working);
        let (mut run, mut trouble) = self.run(library, &walked, self.libraries.memory(path));
        let name = project::shown(path, &self.working);
        let own = run.checked.iter().find(|checked| checked.source.name == name);
        // What a set needs may stand anywhere; names that a file lacks come from those that include it.
        let sets = run.checked.iter().any(|checked| !checked.sets.is_empty());
        let fragment = own.is_some_and(|checked| checked.fragment);
        let wide = sets || fragment;
        let all = wide.then(|| project::library_of(path, &self.unsaved, &self.working, self.libraries.started(path)));
        let others = all.and_then(|all| match sets {
            true => Some(all),
            false => {
                let own = [path.to_path_buf()].into_iter().collect();
                let mut paths = self.includes.dependents(&own, &all, &self.working, SystemTime::now());
                paths.push(path.to_path_buf());
                (paths.len() > 1).then(|| Walked::over(&paths, self.unsaved.clone(), &self.working))
            }
        });
        if let Some(others) = others {
            let (whole, of_list) = self.run(library, &others, None);
            run.report = whole.report;
            trouble = of_list;
        }
        Reviewed { name, run, wide, trouble }
    }

    /// As the shell does it: with the list of known findings and the addresses of pages. With a memory, the facts are kept as well.
    fn run(&self, library: &Project, walked: &Walked, memory: Option<&Memory>) -> (Run, Option<Report>) {
        let mut run = self.review_over(library, walked, memory, memory.is_some());
        run.report.pages = library.pages(&run.report.findings);
        let list = library.config.as_ref().and_then(|config| config.known.as_deref());
        let known = list.map(|path| KnownFindings { path, walked, working: &self.working }.mark(&mut run.report));
        (run, known.and_then(Result::err))
    }

    /// The findings of a file as it would be with another text, its includes among them.
    pub fn trial(&self, path: &Path, text: &str) -> ReviewedCopy {
        let Some(library) = self.libraries.of(path) else { return ReviewedCopy::default() };
        let mut unsaved = Unsaved::clone(&self.unsaved);
        unsaved.put(path.to_path_buf(), text);
        let walked = Walked::over(&[path.to_path_buf()], Arc::new(unsaved), &self.working);
        let run = self.review_over(library, &walked, self.libraries.memory(path), true);
        ReviewedCopy {
            findings: run.report.findings,
            details: run.checked.into_iter().flat_map(|own| own.facts.details).collect(),
        }
    }

    fn review_over(&self, project: &Project, walked: &Walked, memory: Option<&Memory>, keep: bool) -> Run {
        project::review(&project::ReviewTask {
            project,
            walked,
            working: &self.working,
            today: (self.today)().into(),
            keep,
            texts: true,
            cache: None,
            memory,
            progress: &|_| {},
        })
    }
}
