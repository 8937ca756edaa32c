//! Which files of a library depend on which: what each includes is read from its text once, and again after a change.

use std::collections::VecDeque;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::SystemTime;

use foldhash::{HashMap, HashSet};
use rayon::prelude::*;

use crate::model::is_builtin;
use crate::project::shown::{plain, real};
use crate::project::{FoundFile, Stamp, Unsaved, Walked, look, read_known};
use crate::syntax::{self, unquoted};
use crate::text::{FileId, Source};

/// By the path of the includer.
#[derive(Default)]
pub struct IncludeGraph(Mutex<HashMap<PathBuf, (Stamp, Arc<Leads>)>>);

/// Where a file lies, links followed, and where its includes do.
struct Leads {
    from: PathBuf,
    to: Vec<PathBuf>,
}

impl IncludeGraph {
    /// The other files of a library that include one of these, directly or not. A file need not be there to be included.
    pub fn dependents(&self, of: &HashSet<PathBuf>, library: &Walked, working: &Path, now: SystemTime) -> Vec<PathBuf> {
        let mut includers: HashMap<PathBuf, Vec<Arc<Leads>>> = HashMap::default();
        let leads_of = |found: &FoundFile| {
            let path = found.path(working);
            let leads = self.of(&path, &library.unsaved, now)?;
            Some((path, leads))
        };
        let files: Vec<(PathBuf, Arc<Leads>)> = library.files.par_iter().filter_map(leads_of).collect();
        let mut seen: HashSet<PathBuf> = HashSet::default();
        // First the library's files, as an editor may hold them; then those that only their includes lead to.
        let mut open: VecDeque<Arc<Leads>> = files.iter().map(|(_, leads)| leads.clone()).collect();
        while let Some(leads) = open.pop_front() {
            if !seen.insert(leads.from.clone()) {
                continue;
            }
            for to in &leads.to {
                includers.entry(to.clone()).or_default().push(leads.clone());
                if !seen.contains(to) {
                    open.extend(self.of(to, &library.unsaved, now));
                }
            }
        }
        let mut reached: HashSet<&Path> = HashSet::default();
        let mut open: Vec<PathBuf> = of.iter().map(|path| real(path)).collect();
        while let Some(path) = open.pop() {
            for leads in includers.get(&path).into_iter().flatten().filter(|leads| reached.insert(&leads.from)) {
                open.push(leads.from.clone());
            }
        }
        let depends = |(path, leads): &&(PathBuf, Arc<Leads>)| !of.contains(path) && reached.contains(&*leads.from);
        files.iter().filter(depends).map(|(path, _)| path.clone()).collect()
    }

    /// Nothing for a file that cannot be read.
    fn of(&self, path: &Path, unsaved: &Unsaved, now: SystemTime) -> Option<Arc<Leads>> {
        if unsaved.has(path) {
            return Some(Arc::new(leads(path, unsaved.read(path).ok()?)));
        }
        let about = look(path).ok()?;
        let stamp = Stamp::of(&about, now);
        let known = || self.0.lock().expect("no thread panics here");
        if let Some((_, leads)) = known().get(path).filter(|(before, _)| Some(*before) == stamp) {
            return Some(leads.clone());
        }
        let leads = Arc::new(leads(path, read_known(path, &about).ok()?));
        known().extend(stamp.map(|stamp| (path.to_path_buf(), (stamp, leads.clone()))));
        Some(leads)
    }
}

fn leads(path: &Path, text: String) -> Leads {
    let folder = path.parent().unwrap_or(path);
    let source = Source::new(FileId::detail(0), "", text);
    // Most files of a library are large beside their includes.
    let asks = source.text.contains("include");
    let document = if asks { syntax::read(&source).0 } else { Default::default() };
    let names = document.includes().map(|span| unquoted(source.at(span)));
    let to = names.filter(|name| !is_builtin(name)).map(|name| real(&plain(Path::new(&name), folder))).collect();
    Leads { from: real(path), to }
}
