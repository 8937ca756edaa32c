//! `headlap known`: the list of accepted findings.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::cli::args::{KnownAction, KnownList, KnownRun, Page};
use crate::cli::failure::Failure;
use crate::cli::task::Task;
use crate::cli::{Done, Message, print};
use crate::output::{columns, visible};
use crate::project::KnownEntry;

pub fn run(action: KnownAction, page: &Page) -> Done {
    match action {
        KnownAction::List(args) => list(&args, page),
        KnownAction::Add { run, rule, because, by } => {
            let (task, path) = task(&run)?;
            let reviewed = task.run(false);
            let known = task.known_in(task.first(), &path);
            let wanted =
                |finding: &crate::finding::Finding| rule.is_empty() || rule.iter().any(|id| **id == *finding.rule);
            let count = known.add(&reviewed.report, wanted, because.as_deref(), by.as_deref())??;
            print::out(|out| writeln!(out, "{}", Message::Listed { count, list: &path }.words()))?;
            Ok(print::unread(&reviewed.report, Message::NotListed, page))
        }
        KnownAction::Prune(run) => {
            let (task, path) = task(&run)?;
            let reviewed = task.run(false);
            // What a text that cannot be read would have brought is not gone.
            if reviewed.report.findings.iter().any(|finding| finding.unread()) {
                return Ok(print::unread(&reviewed.report, Message::NotPruned, page));
            }
            let gone = task.known_in(task.first(), &path).prune(&reviewed.report)??;
            print::out(|out| {
                gone.iter().try_for_each(|entry| writeln!(out, "{}", visible(&line(entry))))?;
                writeln!(out, "{}", Message::Pruned { count: gone.len(), list: &path }.words())
            })?;
            Ok(ExitCode::SUCCESS)
        }
    }
}

fn list(args: &KnownList, page: &Page) -> Done {
    let task = Task::of(&[PathBuf::from(".")])?;
    let path = named(&task, args.known.as_deref())?;
    let entries = task.known_in(task.first(), &path).entries()?;
    let rows: Vec<Vec<String>> = entries
        .iter()
        .map(|entry| {
            let item = entry.item.clone().unwrap_or_default();
            let why = [entry.because.clone(), entry.by.as_ref().map(|by| format!("({by})"))];
            let why = why.into_iter().flatten().collect::<Vec<_>>().join(" ");
            vec![entry.file.clone(), item, entry.rule.clone(), entry.message.clone(), why]
        })
        .collect();
    print::out(|out| {
        columns(&rows, "", print::page(page), out)?;
        writeln!(out, "{}", Message::Entries { count: entries.len(), list: &path }.words())
    })?;
    Ok(ExitCode::SUCCESS)
}

fn line(entry: &KnownEntry) -> String {
    let item = entry.item.as_ref().map_or(String::new(), |item| format!(" {item}:"));
    format!("{}:{item} {} ({})", entry.file, entry.message, entry.rule)
}

fn task(run: &KnownRun) -> Result<(Task, PathBuf), Failure> {
    let paths = if run.paths.is_empty() { vec![PathBuf::from(".")] } else { run.paths.clone() };
    let task = Task::of(&paths)?;
    if task.parts.len() > 1 {
        return Err(Message::SeveralLibraries { instead: "name files of one library" }.into());
    }
    let path = named(&task, run.known.as_deref())?;
    Ok((task, path))
}

fn named(task: &Task, typed: Option<&Path>) -> Result<PathBuf, Failure> {
    Ok(task.first().known(typed).ok_or(Message::NoKnownList)?)
}
