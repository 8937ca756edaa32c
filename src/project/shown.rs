//! The names that findings show for files, and where paths lead.

use std::path::{Component, Path, PathBuf};

use crate::project::Refusal;
pub use crate::settings::plain;

/// A path relative to the working directory, with `/` between its parts; one that lies elsewhere as it was given.
/// Bytes that are no UTF-8 show as a replacement mark.
pub fn shown(path: &Path, working: &Path) -> String {
    let relative = path.strip_prefix(working).unwrap_or(path);
    if let Some(text) = relative.to_str().filter(|text| is_short(text)) {
        return text.to_owned();
    }
    let mut parts: Vec<String> = Vec::new();
    for part in relative.components() {
        match part {
            Component::CurDir => {}
            Component::RootDir => parts.push(String::new()),
            Component::Prefix(prefix) => parts.push(prefix.as_os_str().to_string_lossy().into_owned()),
            Component::ParentDir => parts.push("..".to_owned()),
            Component::Normal(name) => parts.push(name.to_string_lossy().into_owned()),
        }
    }
    match parts.as_slice() {
        [] => ".".to_owned(),
        [root] if root.is_empty() => "/".to_owned(),
        parts => parts.join("/"),
    }
}

/// Where a path leads, links followed; where nothing is, the path itself.
pub fn real(path: &Path) -> PathBuf {
    std::fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf())
}

/// Nothing in it is there to be left out: true of nearly all paths, and thousands are shown.
fn is_short(text: &str) -> bool {
    let bare = !text.is_empty() && text != "." && !text.contains("./") && !text.contains("//");
    cfg!(unix) && bare && !text.ends_with("/.") && !(text.len() > 1 && text.ends_with('/'))
}

/// The working directory.
///
/// # Errors
/// In words, when it is gone or closed to us.
pub fn working() -> Result<PathBuf, String> {
    std::env::current_dir().map_err(|error| Refusal::NoWorkingFolder { why: &error.to_string() }.words())
}

#[cfg(test)]
mod tests {
    use super::{plain, shown};
    use std::path::Path;

    #[test]
    fn names_are_short_and_stable() {
        let working = Path::new("/firm/library");
        assert_eq!(shown(Path::new("/firm/library/walls/a.detail"), working), "walls/a.detail");
        assert_eq!(shown(Path::new("./walls/./a.detail"), working), "walls/a.detail");
        assert_eq!(shown(Path::new("/other/a.detail"), working), "/other/a.detail");
        assert_eq!(shown(Path::new("."), working), ".");
        for (path, name) in [
            ("", "."),
            ("/", "/"),
            ("a.detail", "a.detail"),
            ("/firm/library", "."),
            ("/firm/library/", "."),
            ("walls/", "walls"),
            ("walls/.", "walls"),
            ("walls//a.detail", "walls/a.detail"),
            ("../a.detail", "../a.detail"),
            ("walls./a.detail", "walls./a.detail"),
            (".hidden/.a", ".hidden/.a"),
        ] {
            assert_eq!(shown(Path::new(path), working), name, "{path:?}");
        }
        assert_eq!(plain(Path::new("x/../walls/./a.detail"), working), Path::new("/firm/library/walls/a.detail"));
        assert_eq!(plain(Path::new("../../../.."), working), Path::new("/"));
    }
}
