//! Why the tool could not do what was asked.

use std::io;
use std::process::ExitCode;

use crate::cli::args::Page;
use crate::cli::print;
use crate::report::Report;

pub enum Failure {
    /// In words, without a place in a file.
    Told(String),
    /// Settings or rule files that cannot be used, each problem at its place.
    Refused(Box<Report>),
}

impl Failure {
    /// Says it on standard error.
    pub fn tell(self, page: &Page) -> ExitCode {
        match self {
            Failure::Told(words) => print::aside(&words),
            Failure::Refused(report) => {
                print::refusal(&report, "nothing was checked: this has to be put right first", page)
            }
        }
        ExitCode::from(2)
    }
}

impl From<Report> for Failure {
    fn from(report: Report) -> Failure {
        Failure::Refused(Box::new(report))
    }
}

impl From<String> for Failure {
    fn from(words: String) -> Failure {
        Failure::Told(words)
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Failure {
        Failure::Told(format!("the output cannot be written: {error}"))
    }
}
