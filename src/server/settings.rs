//! What is wrong with settings and rule files, while they are written.

use std::path::{Path, PathBuf};

use crate::project::{self, Home};
use crate::report::Report;
use crate::server::State;

/// A report for each library with trouble, and for each open file of settings or rules that no open detail asks for.
pub fn problems(state: &State) -> Vec<(PathBuf, Report)> {
    let mut all: Vec<(PathBuf, Report)> = Vec::new();
    for home in state.libraries.homes() {
        if let Some(report) = state.libraries.problems(home) {
            all.push((home.root().join(project::SETTINGS), report.clone()));
        }
    }
    for path in state.open.keys().filter(|path| path.extension().is_some_and(|ending| ending == "toml")) {
        all.extend(alone(state, path).map(|report| (path.clone(), report)));
    }
    all
}

/// Of settings, the library that they make; of a rule file, what compiling it with the stock rules finds.
fn alone(state: &State, path: &Path) -> Option<Report> {
    let here = state.libraries.home(path);
    let is_settings = path.file_name().is_some_and(|name| name == project::SETTINGS);
    if is_settings {
        let home = Home::Settings(path.to_path_buf());
        let known = state.libraries.homes().any(|known| *known == home);
        return if known { None } else { project::open_over(&home, &state.working, &state.unsaved).err() };
    }
    let text = &state.open.get(path)?.source.text;
    if !text.contains("[[rule]]") && !text.contains("[[table]]") {
        return None;
    }
    let named = state.libraries.problems(&here).is_none()
        && state.libraries.of(path).is_some_and(|library| {
            let name = project::shown(path, &state.working);
            library.pack.firm.iter().filter_map(|id| library.pack.sources().get(id)).any(|source| source.name == name)
        });
    if named {
        return None;
    }
    project::rules_over(&[path.to_path_buf()], &state.working, &state.unsaved).err()
}
