//! `headlap review --explain-config FILE`: which setting came from where.

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::cli::task::Task;
use crate::cli::{Done, print};
use crate::output::{self, Look, visible};
use crate::project::{self, Config};
use crate::text::Span;

/// Tells the settings that hold for one file, each with the line that sets it.
pub fn run(file: &Path, typed_level: Option<&str>, typed_list: Option<&Path>, look: Look) -> Done {
    let task = Task::of(&[file.to_path_buf()])?;
    let mut rows = settings(&task, typed_level, typed_list);
    rows.extend(adjustments(&task, &project::plain(file, &task.working)));
    print::out(|out| print(file, &rows, look, out))?;
    Ok(ExitCode::SUCCESS)
}

/// What is set, to what, and where.
type SettingRow = [String; 3];

fn settings(task: &Task, typed_level: Option<&str>, typed_list: Option<&Path>) -> Vec<SettingRow> {
    let config = task.first().project.config.as_ref();
    let from = |key: &str| config.and_then(|config| Some(place(config, *config.places.get(key)?)));
    let shown = |path: &Path| project::shown(path, &task.working);
    let row = |name: &str, value: Option<String>, default: &str, typed: bool| {
        let origin = if typed { Some("typed".to_owned()) } else { from(name) };
        [name.to_owned(), value.unwrap_or_else(|| default.to_owned()), origin.unwrap_or_else(|| "not set".to_owned())]
    };
    let why = match config {
        Some(config) => format!("the folder of {}", config.source.name),
        None => format!("no {} here or above", project::SETTINGS),
    };
    let level = config.and_then(|c| c.fail_on).map(|level| level.map_or("never", |level| level.word()).to_owned());
    let list = config.and_then(|c| c.known.as_deref());
    let rules: Vec<String> = config.iter().flat_map(|c| c.rules.iter().map(|(path, _)| shown(path))).collect();
    let rules = (!rules.is_empty()).then(|| format!("the built-in ones and {}", rules.join(", ")));
    vec![
        ["root".to_owned(), shown(&task.first().project.root), why],
        row("rules", rules, "the built-in ones", false),
        row("rules-edition", config.and_then(|c| c.edition.clone()), "the newest rules", false),
        row(
            "climate",
            config.and_then(|c| c.climate.as_ref()).map(|(name, _)| name.clone()),
            "as each assembly states",
            false,
        ),
        row("units", config.and_then(|c| c.units).map(|units| units.word().to_owned()), "as each author wrote", false),
        row("fail-on", typed_level.map(str::to_owned).or(level), "error", typed_level.is_some()),
        row(
            "known",
            typed_list.or(list).map(|path| shown(&project::plain(path, &task.working))),
            "none",
            typed_list.is_some(),
        ),
        row("docs-url", config.and_then(|c| c.docs_url.clone()), "none", false),
        row("layers", config.and_then(layers), "by what they hold", false),
    ]
}

/// What the library calls the layers of drawings.
fn layers(config: &Config) -> Option<String> {
    let names: Vec<String> = config.layers.iter().map(|(layer, name)| format!("{layer} {name}")).collect();
    (!names.is_empty()).then(|| names.join(", "))
}

/// The adjustments in effect for a file, with their reasons; those of a folder come last.
fn adjustments(task: &Task, file: &Path) -> Vec<SettingRow> {
    let Some(config) = &task.first().project.config else { return Vec::new() };
    let folders = config.folders.iter().filter(|folder| file.starts_with(&folder.path));
    let places = config.adjustments.iter().chain(folders.flat_map(|folder| &folder.adjustments));
    let mut nth: std::collections::HashMap<&str, usize> = std::collections::HashMap::new();
    let pack = task.first().project.rules_for(file);
    places
        .filter_map(|adjustment| {
            // A rule notes its adjustments in the order in which they were made.
            let number = nth.entry(&adjustment.rule).or_default();
            let adjusted = match pack.rule(&adjustment.rule) {
                Some(rule) => &rule.adjusted,
                None => &pack.assumed_table.adjusted,
            };
            let said = adjusted.get(*number)?.clone();
            *number += 1;
            Some([adjustment.rule.to_string(), said, place(config, adjustment.rule_span)])
        })
        .collect()
}

fn place(config: &Config, span: Span) -> String {
    format!("{}:{}", config.source.name, config.source.position(span.start as usize).line)
}

fn print(file: &Path, rows: &[SettingRow], look: Look, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "For {}:", visible(&PathBuf::from(file).display().to_string()))?;
    output::columns(&rows.iter().map(|row| row.to_vec()).collect::<Vec<_>>(), "  ", look, out)
}
