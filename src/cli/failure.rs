//! Why the tool could not do what was asked.

use std::io;
use std::process::ExitCode;

use crate::cli::args::Page;
use crate::cli::{Message, print};
use crate::report::Report;

pub enum Failure {
    /// In words, without a place in a file.
    Words(String),
    /// Settings or rule files that cannot be used, each problem at its place.
    Refused(Box<Report>),
    /// In words: an output cannot be written, or would be written over what is read.
    Outputs(String),
}

impl Failure {
    pub fn is_of_outputs(&self) -> bool {
        matches!(self, Failure::Outputs(_))
    }

    /// On one line.
    pub fn words(&self) -> String {
        match self {
            Failure::Words(words) | Failure::Outputs(words) => words.clone(),
            Failure::Refused(report) => {
                let one = |finding: &crate::finding::Finding| match report.place(finding.span) {
                    Some((file, at)) => format!("{file}:{}:{}: {}", at.line, at.column, finding.message),
                    None => finding.message.clone(),
                };
                report.findings.iter().map(one).collect::<Vec<_>>().join("; ")
            }
        }
    }

    /// Says it on standard error.
    pub fn report(self, page: &Page) -> ExitCode {
        match self {
            Failure::Words(words) | Failure::Outputs(words) => print::aside(&words),
            Failure::Refused(report) => print::refusal(&report, Message::CorrectFirst, page),
        }
        ExitCode::from(2)
    }
}

impl From<Report> for Failure {
    fn from(report: Report) -> Failure {
        Failure::Refused(Box::new(report))
    }
}

impl From<Message<'_>> for Failure {
    fn from(message: Message<'_>) -> Failure {
        Failure::Words(message.words())
    }
}

impl From<String> for Failure {
    fn from(words: String) -> Failure {
        Failure::Words(words)
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Failure {
        Message::NoOutput { why: &error.to_string() }.into()
    }
}
