//! From paths that were typed to a run: what the commands that read details have in common.

use std::io::{IsTerminal, Write, stderr};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::time::{Duration, Instant, SystemTime};

use crate::cli::failure::Failure;
use crate::cli::{Message, print};
use crate::output::words;
use crate::project::{self, Cache, Home, KnownFindings, Project, Unread, Walked};
use crate::review::{Day, Run};

/// The files that were named, by the libraries that they belong to.
pub struct Task {
    pub working: PathBuf,
    /// At least one.
    pub parts: Vec<LibraryFiles>,
}

/// What an output shows besides findings and their places.
#[derive(Clone, Copy)]
pub struct Keep {
    pub facts: bool,
    pub texts: bool,
}

/// A library with the files of it that were named.
pub struct LibraryFiles {
    pub project: Project,
    pub walked: Walked,
}

impl Task {
    /// The files below the named paths, each in the library of the nearest `headlap.toml` above it.
    ///
    /// # Errors
    /// A path that does not exist; settings or rules that cannot be used.
    pub fn of(paths: &[PathBuf]) -> Result<Task, Failure> {
        let working = project::working()?;
        let walked = walk(paths, &working)?;
        refuse_none(&walked, paths, "checked")?;
        if walked.left_out > 0 {
            print::aside(&words::left_out(walked.left_out));
        }
        Task::in_libraries(walked, paths, working)
    }

    /// A text checked as if it were the content of this file, which need not exist.
    ///
    /// # Errors
    /// Settings or rules that cannot be used.
    pub fn of_text(path: &Path, text: String) -> Result<Task, Failure> {
        let working = project::working()?;
        Task::in_libraries(Walked::given(path, text, &working), &[path.to_path_buf()], working)
    }

    fn in_libraries(walked: Walked, paths: &[PathBuf], working: PathBuf) -> Result<Task, Failure> {
        let mut parts = Vec::new();
        for (home, walked) in project::libraries(walked, paths, &working) {
            parts.push(LibraryFiles { project: project::open_at(&home, &working)?, walked });
        }
        Ok(Task { working, parts })
    }

    /// The submitted files, judged by the settings and rules of the issued ones.
    ///
    /// # Errors
    /// As `of`.
    pub fn of_submittal(issued: &Path, submitted: &Path) -> Result<Task, Failure> {
        let working = project::working()?;
        let mut walked = walk(&[submitted.to_path_buf()], &working)?;
        refuse_none(&walked, &[submitted.to_path_buf()], "compared")?;
        let (from, to) = (project::folder_of(issued, &working), project::folder_of(submitted, &working));
        // Libraries within the issued one hold at the same place of the submittal.
        let ours = walk(&[issued.to_path_buf()], &working)?;
        // Who submits does not decide what is looked at.
        let hidden = walked.left_out.saturating_sub(ours.left_out);
        if hidden > 0 {
            walked.refuse(submitted, Unread::Hidden { files: hidden }, &working);
        }
        let inner = project::libraries(ours, &[issued.to_path_buf()], &working);
        let mut homes: Vec<(PathBuf, Home)> = vec![(to.clone(), project::home_of(&from, &working))];
        for (home, _) in inner {
            if let Home::Settings(file) = &home
                && let Some(Ok(place)) = file.parent().map(|root| root.strip_prefix(&from))
                && !place.as_os_str().is_empty()
            {
                homes.push((to.join(place), home));
            }
        }
        homes.sort_by_key(|(place, _)| std::cmp::Reverse(place.components().count()));
        let mut parts = Vec::new();
        let mut rest = walked.files;
        for (place, home) in homes {
            let (files, others) = rest.into_iter().partition(|found| found.path(&working).starts_with(&place));
            rest = others;
            let walked = Walked { files, ..Walked::default() };
            let project = project::for_submittal(project::open_at(&home, &working)?, (&from, &to));
            parts.push(LibraryFiles { project, walked });
        }
        if let Some(part) = parts.last_mut() {
            part.walked.closed = walked.closed;
        }
        Ok(Task { working, parts })
    }

    /// The library of the first file.
    pub fn first(&self) -> &LibraryFiles {
        &self.parts[0]
    }

    pub fn files(&self) -> usize {
        self.parts.iter().map(|part| part.walked.files.len() + part.walked.closed.len()).sum()
    }

    /// Checks everything, ignoring the cache, and keeps the facts of every file if asked to.
    pub fn run(&self, keep: bool) -> Run {
        Run::together(self.runs(Keep { facts: keep, texts: true }, None))
    }

    /// A run for each library: what has changed since an earlier run, with the outcomes that the folder keeps.
    pub fn runs(&self, keep: Keep, cache: Option<&Path>) -> Vec<Run> {
        let progress = Progress::new(self.files());
        let stride = (1 << 30) / self.parts.len() as u32;
        let numbered = self.parts.iter().zip(0..);
        numbered.map(|(part, number)| self.review(part, number * stride, keep, cache, &progress)).collect()
    }

    fn review(&self, part: &LibraryFiles, first: u32, keep: Keep, cache: Option<&Path>, progress: &Progress) -> Run {
        let day = Day::asked(today);
        let open = |folder| Cache::open(folder, &part.project, &self.working, day.clone(), SystemTime::now());
        let cache = cache.map(open);
        let review = project::ReviewTask {
            project: &part.project,
            walked: &part.walked,
            working: &self.working,
            today: day.clone(),
            keep: keep.facts,
            texts: keep.texts,
            cache: cache.as_ref(),
            memory: None,
            progress: &|done| progress.report(done),
        };
        let mut run = project::review_from(&review, first);
        run.report.pages = part.project.pages(&run.report.findings);
        if let Some(Err(why)) = cache.map(|cache| cache.close(&part.walked)) {
            // The findings are as good as ever, so this is no reason to fail.
            print::aside(&Message::NotCached { why: &why }.words());
        }
        run
    }

    /// A list of known findings, held against the files of one library.
    pub fn known_in<'a>(&'a self, part: &'a LibraryFiles, path: &'a Path) -> KnownFindings<'a> {
        KnownFindings { path, walked: &part.walked, working: &self.working }
    }
}

impl LibraryFiles {
    /// The list of known findings: the one that was typed, or the library's.
    pub fn known(&self, typed: Option<&Path>) -> Option<PathBuf> {
        let set = || self.project.config.as_ref().and_then(|config| config.known.clone());
        typed.map(Path::to_path_buf).or_else(set)
    }
}

/// A run that reads nothing is never a pass. `done` is what would have been done with the files.
///
/// # Errors
/// When there is no file at all.
pub fn refuse_none(walked: &Walked, paths: &[PathBuf], done: &str) -> Result<(), Failure> {
    if !walked.files.is_empty() || !walked.closed.is_empty() {
        return Ok(());
    }
    let paths: Vec<String> = paths.iter().map(|path| path.display().to_string()).collect();
    Err(Message::NoDetail { paths: &paths, done, left_out: walked.left_out }.into())
}

fn walk(paths: &[PathBuf], working: &Path) -> Result<Walked, Failure> {
    let walked = project::walk(paths, working);
    match walked.missing.first() {
        Some(path) => Err(Message::NoPath { path }.into()),
        None => Ok(walked),
    }
}

/// Today in this machine's time zone, against which waivers expire.
pub fn today() -> jiff::civil::Date {
    project::time_zone().to_datetime(jiff::Timestamp::now()).date()
}

/// A line on standard error for runs that take long, on a terminal only.
struct Progress {
    count: usize,
    last: Option<Mutex<Instant>>,
}

impl Progress {
    fn new(count: usize) -> Progress {
        Progress { count, last: stderr().is_terminal().then(|| Mutex::new(Instant::now())) }
    }

    fn report(&self, done: usize) {
        // The lock is tried, not awaited: a file must not wait for a remark about it.
        let Some(Ok(mut last)) = self.last.as_ref().map(Mutex::try_lock) else { return };
        if last.elapsed() > Duration::from_millis(500) {
            *last = Instant::now();
            let _ = write!(stderr(), "\r{done} of {} files", self.count);
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.last.is_some() {
            let _ = write!(stderr(), "\r\x1b[K");
        }
    }
}
