//! What the files of a library include, for those who ask again and again: a file that nobody has written to since is not read anew.

use std::collections::{BTreeMap, VecDeque};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::SystemTime;

use foldhash::{HashMap, HashSet};

use crate::model::is_builtin;
use crate::project::shown::{plain, real};
use crate::project::{Stamp, Unsaved, Walked, look, read_known};
use crate::syntax::{self, unquoted};
use crate::text::{FileId, Source};

/// By the path of the includer.
#[derive(Default)]
pub struct Includes(Mutex<HashMap<PathBuf, (Stamp, Arc<Leads>)>>);

/// Where a file lies, links followed, and where its includes do.
struct Leads {
    from: PathBuf,
    to: Vec<PathBuf>,
}

impl Includes {
    /// The files of a library that include this one, directly or not.
    pub fn includers(&self, of: &Path, library: &Walked, working: &Path, now: SystemTime) -> Vec<PathBuf> {
        let mut includers: BTreeMap<PathBuf, Vec<Arc<Leads>>> = BTreeMap::new();
        let files: Vec<(PathBuf, Arc<Leads>)> = library
            .files
            .iter()
            .map(|found| found.path(working))
            .filter_map(|path| Some((path.clone(), self.of(&path, &library.unsaved, now)?)))
            .collect();
        let mut seen: HashSet<PathBuf> = HashSet::default();
        // First the library's files, as an editor may hold them; then those that only their includes lead to.
        let mut open: VecDeque<Arc<Leads>> = files.iter().map(|(_, leads)| leads.clone()).collect();
        while let Some(leads) = open.pop_front() {
            if !seen.insert(leads.from.clone()) {
                continue;
            }
            for to in &leads.to {
                includers.entry(to.clone()).or_default().push(leads.clone());
                open.extend(self.of(to, &library.unsaved, now));
            }
        }
        let mut reached: HashSet<PathBuf> = HashSet::default();
        let mut open = vec![real(of)];
        while let Some(path) = open.pop() {
            let before = includers.get(&path).into_iter().flatten();
            open.extend(before.map(|leads| leads.from.clone()).filter(|from| reached.insert(from.clone())));
        }
        let includes = |(path, leads): &(PathBuf, Arc<Leads>)| path != of && reached.contains(&leads.from);
        files.into_iter().filter(includes).map(|(path, _)| path).collect()
    }

    /// Nothing for a file that cannot be read.
    fn of(&self, path: &Path, unsaved: &Unsaved, now: SystemTime) -> Option<Arc<Leads>> {
        if unsaved.has(path) {
            return Some(Arc::new(leads(path, unsaved.read(path).ok()?)));
        }
        let about = look(path).ok()?;
        let stamp = Stamp::of(&about, now);
        let mut known = self.0.lock().expect("no thread panics here");
        if let Some((_, leads)) = known.get(path).filter(|(before, _)| Some(*before) == stamp) {
            return Some(leads.clone());
        }
        let leads = Arc::new(leads(path, read_known(path, &about).ok()?));
        known.extend(stamp.map(|stamp| (path.to_path_buf(), (stamp, leads.clone()))));
        Some(leads)
    }
}

fn leads(path: &Path, text: String) -> Leads {
    let folder = path.parent().unwrap_or(path);
    let source = Source::new(FileId(0), "", text);
    // Most files of a library are large beside their includes.
    let asks = source.text.contains("include");
    let document = if asks { syntax::read(&source).0 } else { Default::default() };
    let names = document.includes().map(|span| unquoted(source.at(span)));
    let to = names.filter(|name| !is_builtin(name)).map(|name| real(&plain(Path::new(&name), folder))).collect();
    Leads { from: real(path), to }
}
