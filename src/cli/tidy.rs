//! `headlap tidy`: one layout for files.

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use crate::cli::args::{Page, Tidy};
use crate::cli::chosen::input;
use crate::cli::task::refuse_none;
use crate::cli::{Done, Message, print};
use crate::project::{self, Unreadable};
use crate::report::Report;
use crate::text::{FileId, Source};
use crate::tidy::{as_before, tidy};

/// What became of a file.
enum Layout {
    /// The text, which is already formatted.
    Kept(String),
    /// The bytes as they were, and the formatted text.
    New(Vec<u8>, String),
    /// The file could not be formatted; the reason was reported.
    Refused,
}

pub fn run(args: &Tidy, page: &Page) -> Done {
    if args.paths.iter().any(|path| path == Path::new("-")) {
        return if args.paths.len() > 1 { Err(Message::PathsBesidePipe.into()) } else { piped(args.check, page) };
    }
    files(&args.paths, args.check, page)
}

/// Formats files one after the other, since two names may lead to one file.
fn files(paths: &[PathBuf], check: bool, page: &Page) -> Done {
    let working = project::working()?;
    let walked = project::walk(paths, &working);
    if let Some(path) = walked.missing.first() {
        return Err(Message::NoPath { path }.into());
    }
    refuse_none(&walked, paths, "formatted")?;
    for (folder, why) in &walked.closed {
        print::aside(&format!("{}: {}", folder.name, why.words()));
    }
    let mut refused = !walked.closed.is_empty();
    let mut changed = Vec::new();
    for found in &walked.files {
        let (name, path) = (&*found.name, found.path(&working));
        match layout(name, project::bytes(&path), page) {
            Layout::Kept(_) => {}
            Layout::Refused => refused = true,
            Layout::New(..) if check => changed.push(name),
            Layout::New(before, text) => match project::rewrite(&path, &before, &text) {
                Ok(()) => changed.push(name),
                Err(why) => {
                    print::aside(&why);
                    refused = true;
                }
            },
        }
    }
    print::out(|out| changed.iter().try_for_each(|name| writeln!(out, "{}", crate::output::visible(name))))?;
    Ok(code(refused, check && !changed.is_empty()))
}

/// Formats standard input to standard output; with `check`, only the exit status reports the result.
fn piped(check: bool, page: &Page) -> Done {
    match layout("standard input", Ok(input()?), page) {
        Layout::Refused => Ok(code(true, false)),
        Layout::Kept(_) if check => Ok(code(false, false)),
        Layout::New(..) if check => Ok(code(false, true)),
        Layout::Kept(text) | Layout::New(_, text) => {
            print::out(|out| out.write_all(text.as_bytes()))?;
            Ok(code(false, false))
        }
    }
}

fn layout(name: &str, bytes: Result<Vec<u8>, Unreadable>, page: &Page) -> Layout {
    let read = bytes.and_then(|bytes| project::decode(bytes.clone()).map(|text| (bytes, text)));
    let (bytes, text) = match read {
        Ok(read) => read,
        Err(Unreadable { why, .. }) => {
            print::aside(&format!("{name}: {}", why.words()));
            return Layout::Refused;
        }
    };
    let source = Source::new(FileId::detail(0), name, text);
    match tidy(&source) {
        Ok(text) => {
            let text = as_before(&bytes, &text);
            if text.as_bytes() == bytes { Layout::Kept(text) } else { Layout::New(bytes, text) }
        }
        Err(findings) => {
            let sources = [(source.id, Arc::new(source))].into_iter().collect();
            print::refusal(
                &Report { findings, sources, files: 1, ..Report::default() },
                Message::NotFormatted { name },
                page,
            );
            Layout::Refused
        }
    }
}

fn code(refused: bool, changed: bool) -> ExitCode {
    ExitCode::from(if refused { 2 } else { u8::from(changed) })
}
