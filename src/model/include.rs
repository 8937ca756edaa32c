//! Includes: which file each of them means.

use crate::model::builtin::{is_builtin, names};
use crate::model::message::no_text;
use crate::syntax::{Document, unquoted};
use crate::text::{Source, Span, nearest};

/// An include with the text that it refers to.
pub(in crate::model) struct Include {
    pub span: Span,
    /// The path of the file, or in words why it means none.
    pub path: Result<String, String>,
}

/// The includes of a text. A built-in library is meant by its own name, everything else from the includer's folder.
pub(in crate::model) fn includes(document: &Document, source: &Source) -> Vec<Include> {
    document.includes().map(|span| Include { span, path: path(&unquoted(source.at(span)), &source.name) }).collect()
}

fn path(include: &str, includer: &str) -> Result<String, String> {
    if include.trim().is_empty() {
        return Err(no_text::NO_NAME.into());
    }
    if is_builtin(include) {
        return Ok(include.to_owned());
    }
    if include.starts_with('/') || include.contains('\\') || include.contains('\0') || include.get(1..2) == Some(":") {
        return Err(no_text::NO_PATH.into());
    }
    let folder = includer.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut parts: Vec<&str> = Vec::new();
    let rooted = folder.starts_with('/');
    for part in folder.split('/').chain(include.split('/')) {
        match part {
            "" | "." => {}
            ".." if parts.last().is_some_and(|last| *last != "..") => {
                parts.pop();
            }
            part => parts.push(part),
        }
    }
    Ok(format!("{}{}", if rooted { "/" } else { "" }, parts.join("/")))
}

pub(in crate::model) fn near_builtin(path: &str) -> Option<&'static str> {
    let wanted = path.rsplit_once('/').map_or(path, |(_, last)| last);
    let known: Vec<&'static str> = names().collect();
    let last = |name: &'static str| name.rsplit_once('/').map_or(name, |(_, last)| last);
    let close = nearest(wanted, known.iter().map(|name| last(name)))?;
    known.into_iter().find(|name| last(name) == close)
}
