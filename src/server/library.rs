//! The libraries of the open files, with their settings and rules.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::project::{self, Home, Project, Unsaved};
use crate::report::Report;
use crate::review::Memory;

/// By the place of their settings. Rules are compiled once, until settings or rules change.
pub struct Libraries {
    /// The folders that the editor has open.
    pub folders: Vec<PathBuf>,
    /// The one that stands for them where the editor names none.
    working: PathBuf,
    known: BTreeMap<Home, OpenLibrary>,
}

#[derive(Default)]
struct OpenLibrary {
    /// The effective settings. While they are being edited and cannot be read, the former ones stay effective.
    project: Option<Project>,
    /// What is wrong with the settings and rules as they are.
    problems: Option<Report>,
    /// What the last reviews under these settings worked out.
    memory: Memory,
    stale: bool,
}

impl Libraries {
    pub fn new(folders: Vec<PathBuf>, working: PathBuf) -> Libraries {
        Libraries { folders, working, known: BTreeMap::new() }
    }

    /// The folder that a run over this file would start in: the innermost of those that the editor has open around it.
    pub fn started<'a>(&'a self, path: &'a Path) -> &'a Path {
        let around = self.folders.iter().filter(|folder| path.starts_with(folder));
        let innermost = around.max_by_key(|folder| folder.components().count()).map(PathBuf::as_path);
        // A program with windows may start its helpers at the top of the disk, which is no library.
        let working = || (self.folders.is_empty() && self.working.parent().is_some()).then_some(&*self.working);
        innermost.or_else(working).unwrap_or_else(|| path.parent().unwrap_or(path))
    }

    /// The library of a file.
    pub fn home(&self, path: &Path) -> Home {
        let started = self.started(path);
        project::home_of(path.parent().unwrap_or(started), started)
    }

    /// Reads the settings of a file's library unless they are known.
    pub fn open(&mut self, path: &Path, unsaved: &Unsaved, working: &Path) -> Home {
        let home = self.home(path);
        let library =
            self.known.entry(home.clone()).or_insert_with(|| OpenLibrary { stale: true, ..OpenLibrary::default() });
        if std::mem::take(&mut library.stale) {
            match project::open_over(&home, working, unsaved) {
                Ok(project) => *library = OpenLibrary { project: Some(project), ..OpenLibrary::default() },
                Err(problems) => library.problems = Some(problems),
            }
        }
        home
    }

    pub fn of(&self, path: &Path) -> Option<&Project> {
        self.known.get(&self.home(path))?.project.as_ref()
    }

    /// What the last reviews of its files worked out.
    pub fn memory(&self, path: &Path) -> Option<&Memory> {
        Some(&self.known.get(&self.home(path))?.memory)
    }

    /// What is wrong with the settings and rules of a library.
    pub fn problems(&self, home: &Home) -> Option<&Report> {
        self.known.get(home)?.problems.as_ref()
    }

    pub fn homes(&self) -> impl Iterator<Item = &Home> {
        self.known.keys()
    }

    /// The climate of a library stands in this file.
    pub fn lean_on(&self, path: &Path) -> bool {
        let configs = self.known.values().filter_map(|library| library.project.as_ref()?.config.as_ref());
        let mut climates = configs.filter_map(|config| Some((config, &config.climate.as_ref()?.0)));
        climates.any(|(config, name)| project::plain(Path::new(name), &config.root) == path)
    }

    /// Settings, rules, climates or lists may have changed.
    pub fn forget(&mut self) {
        self.known.values_mut().for_each(|library| library.stale = true);
    }
}
