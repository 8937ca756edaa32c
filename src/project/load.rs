//! `headlap.toml`, found upward from what is reviewed, and read.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::finding::Finding;
use crate::project::Unsaved;
use crate::project::shown::shown;
use crate::settings::{Config, Message, NAME, of};
use crate::text::{FileId, Source, Span};

/// The nearest `headlap.toml` in a folder or above it, whatever it is: one that cannot be read is reported, not passed over.
pub fn above(folder: &Path) -> Option<PathBuf> {
    folder.ancestors().map(|folder| folder.join(NAME)).find(|file| std::fs::symlink_metadata(file).is_ok())
}

/// Reads and checks one `headlap.toml`.
///
/// # Errors
/// All that is wrong with it, each at its place, with the source that the places lie in.
pub fn load(path: &Path, id: FileId, working: &Path, unsaved: &Unsaved) -> Result<Config, (Arc<Source>, Vec<Finding>)> {
    let name = shown(path, working);
    if leads_out(path) {
        let source = Arc::new(Source::new(id, name.as_str(), ""));
        return Err((source, vec![Message::LinkOutside { path: &name }.at(Span::new(id, 0, 0))]));
    }
    let text = unsaved.read(path).map_err(|unreadable| {
        let source = Arc::new(Source::new(id, name.as_str(), unreadable.text.as_str()));
        let span = Span::new(id, unreadable.at.start, unreadable.at.end);
        (source, vec![Message::Unreadable { path: &name, why: &unreadable.why.words() }.at(span)])
    })?;
    let source = Arc::new(Source::new(id, name, text));
    let root = path.parent().unwrap_or(working).to_path_buf();
    of(source.clone(), root).map_err(|findings| (source, findings))
}

/// What a link leads to, outside of the folder that it stands in, is not the library's to set.
fn leads_out(path: &Path) -> bool {
    let (Ok(real), Some(Ok(root))) = (fs::canonicalize(path), path.parent().map(fs::canonicalize)) else {
        return false;
    };
    !real.starts_with(root)
}
