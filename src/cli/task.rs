//! From paths that were typed to a run: what the commands that read details have in common.

use std::io::{IsTerminal, Write, stderr};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::time::{Duration, Instant, SystemTime};

use crate::cli::failure::Failure;
use crate::cli::print;
use crate::project::{self, Cache, Known, Project, Walked};
use crate::review::Run;

/// A project with the files of it that were named.
pub struct Task {
    pub working: PathBuf,
    pub project: Project,
    pub walked: Walked,
}

impl Task {
    /// The files below the named paths, in the project that the first of them belongs to.
    ///
    /// # Errors
    /// A path that leads nowhere; settings or rules that cannot be used.
    pub fn of(paths: &[PathBuf]) -> Result<Task, Failure> {
        let working = project::working()?;
        let walked = project::walk(paths, &working);
        if let Some(missing) = walked.missing.first() {
            return Err(format!("there is no such file or folder: {}", missing.display()).into());
        }
        if walked.files.is_empty() && walked.closed.is_empty() && !paths.is_empty() {
            let paths: Vec<String> = paths.iter().map(|path| path.display().to_string()).collect();
            print::aside(&format!("there is no *.detail file in {}", paths.join(", ")));
        }
        let project = project::open_for(paths, &working)??;
        Ok(Task { working, project, walked })
    }

    /// The submitted files, judged by the settings and rules of the issued ones.
    ///
    /// # Errors
    /// As `of`.
    pub fn of_submittal(issued: &Path, submitted: &Path) -> Result<Task, Failure> {
        let working = project::working()?;
        let walked = project::walk(&[submitted.to_path_buf()], &working);
        if !walked.missing.is_empty() {
            return Err(format!("there is no such file or folder: {}", submitted.display()).into());
        }
        let project = project::open_submittal(issued, submitted, &working)??;
        Ok(Task { working, project, walked })
    }

    /// The list of known findings: the one that was typed, or the project's.
    pub fn known(&self, typed: Option<&Path>) -> Option<PathBuf> {
        let set = || self.project.config.as_ref().and_then(|config| config.known.clone());
        typed.map(Path::to_path_buf).or_else(set)
    }

    /// A list of known findings, held against the files of this task.
    pub fn known_in<'a>(&'a self, path: &'a Path) -> Known<'a> {
        Known { path, walked: &self.walked, working: &self.working }
    }

    /// Everything anew, with the facts of every file if they are to be kept.
    pub fn run(&self, keep: bool) -> Run {
        self.review(keep, None)
    }

    /// What has changed since an earlier run, with the outcomes that this one kept.
    pub fn run_with(&self, folder: &Path) -> Run {
        let cache = Cache::open(folder, &self.project, &self.working, today(), SystemTime::now());
        let run = self.review(false, Some(&cache));
        if let Err(why) = cache.close(&self.walked) {
            // The findings are as good as ever, so this is no reason to fail.
            let _ = writeln!(stderr(), "headlap: the results could not be kept: {why}");
        }
        run
    }

    fn review(&self, keep: bool, cache: Option<&Cache<'_>>) -> Run {
        let progress = Progress::new(self.walked.files.len());
        project::review(&project::Review {
            project: &self.project,
            walked: &self.walked,
            working: &self.working,
            today: today(),
            keep,
            cache,
            progress: &|done| progress.tell(done),
        })
    }
}

/// The day that waivers are held against, in Universal Time.
pub fn today() -> jiff::civil::Date {
    jiff::tz::Offset::UTC.to_datetime(jiff::Timestamp::now()).date()
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

    fn tell(&self, done: usize) {
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
