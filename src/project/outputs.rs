//! Where a run may write: never over what it reads, and never twice in one place.

use std::fs;
use std::path::{Path, PathBuf};

use crate::project::shown::plain;
use crate::project::write::{is_offered, unfit};
use crate::project::{Project, Refusal, Walked};
use crate::settings::NAME;

/// The names that the system gives to standard output.
const STANDARD: [&str; 3] = ["/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"];

/// Whether what is written there comes out at standard output.
pub fn is_standard_output(path: &Path) -> bool {
    cfg!(unix) && STANDARD.iter().any(|name| path == Path::new(name))
}

/// Refuses files to write that the run reads, that are named twice, or that are no files.
///
/// # Errors
/// In words, with the path at fault.
pub fn check_outputs(outputs: &[&Path], inputs: &[&Path], working: &Path) -> Result<(), String> {
    // A file that is not there yet lies where its folder really is.
    let real = |path: &Path| {
        if is_standard_output(path) {
            return PathBuf::from(STANDARD[0]);
        }
        let path = plain(path, working);
        let of_folder = || Some(fs::canonicalize(path.parent()?).ok()?.join(path.file_name()?));
        fs::canonicalize(&path).ok().or_else(of_folder).unwrap_or(path)
    };
    let inputs: Vec<PathBuf> = inputs.iter().map(|path| real(path)).collect();
    let mut seen: Vec<PathBuf> = Vec::new();
    for output in outputs {
        if *output == Path::new("-") {
            return Err(Refusal::OutIsDash.words());
        }
        let place = real(output);
        let regular = !is_offered(output);
        let name = place.file_name().and_then(|name| name.to_str()).unwrap_or("");
        let ignores = [".gitignore", ".ignore"].contains(&name);
        let source = name == NAME || ignores || name.to_lowercase().ends_with(".detail");
        if regular && (inputs.contains(&place) || source) {
            return Err(Refusal::OutIsRead { path: output }.words());
        }
        if let Some(why) = unfit(output) {
            return Err(Refusal::NotWritten { path: output, why: why.words() }.words());
        }
        if place != Path::new("/dev/null") && seen.contains(&place) {
            return Err(Refusal::OutTwice { path: output }.words());
        }
        seen.push(place);
    }
    Ok(())
}

/// The files of a library that a run reads besides the details that were found by their ending.
pub fn inputs(project: &Project, walked: &Walked, working: &Path) -> Vec<PathBuf> {
    let config = project.config.iter().flat_map(|config| {
        let rules = config.rules.iter().map(|(path, _)| path.clone());
        rules.chain(config.known.clone()).chain([config.root.join(NAME)])
    });
    let firm = project.pack.firm.iter().filter_map(|id| project.pack.sources().get(id));
    let files = walked
        .files
        .iter()
        .map(|found| found.path(working))
        .filter(|path| path.extension().is_none_or(|e| e != "detail"));
    config.chain(firm.map(|source| plain(Path::new(&source.name), working))).chain(files).collect()
}
