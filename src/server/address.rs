//! Files as the protocol names them: `file:///…`, bytes beyond the plain ones as `%20`; `untitled:…` is a text that was never saved.

use std::path::{Path, PathBuf};

use lsp_types::Uri;

use crate::project::{self, NOWHERE};

/// The address of an absolute path. What lies nowhere has only that by which the client opened it.
pub fn address(path: &Path) -> Option<Uri> {
    if path.parent()?.file_name().is_some_and(|name| name == NOWHERE) {
        return None;
    }
    let text = path.to_str()?;
    let text = if cfg!(windows) { text.replace('\\', "/") } else { text.to_owned() };
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-_.~/:".contains(&byte);
    let one = |byte: u8| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") };
    let encoded: String = text.bytes().map(one).collect();
    let slash = if encoded.starts_with('/') { "" } else { "/" };
    format!("file://{slash}{encoded}").parse().ok()
}

/// The path of an address; `None` for what is neither a file of this machine nor a text that was never saved.
pub fn path_of(address: &Uri) -> Option<PathBuf> {
    let (scheme, rest) = address.as_str().split_once(':')?;
    if is_unsaved(address) {
        let name = if scheme.eq_ignore_ascii_case(UNTITLED) { decoded(rest)? } else { String::new() };
        // It may know already where it will be saved.
        return Some(absolute(&name).unwrap_or_else(|| nowhere(&name)));
    }
    let rest = scheme.eq_ignore_ascii_case("file").then(|| rest.strip_prefix("//"))??;
    absolute(&decoded(rest.strip_prefix("localhost").unwrap_or(rest))?)
}

const UNTITLED: &str = "untitled";

/// A text without a file yet. Some editors give such a text the address of a file without a name.
pub fn is_unsaved(address: &Uri) -> bool {
    let text = address.as_str();
    text == "file://" || text.split_once(':').is_some_and(|(scheme, _)| scheme.eq_ignore_ascii_case(UNTITLED))
}

/// A path for what lies nowhere, with an ending that says what it is.
fn nowhere(name: &str) -> PathBuf {
    let plain = if name.is_empty() { "text".to_owned() } else { name.replace(['/', '\\'], "-") };
    let named = Path::new(&plain).extension().is_some_and(|ending| ending == "toml");
    let ending = if named || project::is_named_detail(Path::new(&plain)) { "" } else { ".detail" };
    Path::new("/").join(NOWHERE).join(plain + ending)
}

/// `%20` as the letter that it stands for.
fn decoded(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut left = text.bytes();
    while let Some(byte) = left.next() {
        match byte {
            b'%' => {
                let digits = [left.next()?, left.next()?];
                bytes.push(u8::from_str_radix(std::str::from_utf8(&digits).ok()?, 16).ok()?);
            }
            byte => bytes.push(byte),
        }
    }
    String::from_utf8(bytes).ok()
}

fn absolute(text: &str) -> Option<PathBuf> {
    // `/C:/firm` is a path of Windows.
    let drive = cfg!(windows) && text.as_bytes().get(2) == Some(&b':');
    let path = PathBuf::from(if drive { &text[1..] } else { text });
    path.is_absolute().then_some(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    #[cfg(unix)]
    fn paths_go_there_and_back() {
        for path in ["/a/b c.detail", "/übung/100 %.detail", "/a:b"] {
            let there = address(Path::new(path)).expect("an address");
            assert_eq!(path_of(&there).as_deref(), Some(Path::new(path)), "{}", there.as_str());
        }
        let odd = |text: &str| path_of(&text.parse().expect("an address"));
        assert_eq!(odd("file:///c%3A/x"), Some(PathBuf::from("/c:/x")));
        assert_eq!(odd("FILE:///x"), Some(PathBuf::from("/x")));
        assert_eq!(odd("git:/x.detail"), None);
        for (unsaved, path) in [
            ("untitled:Untitled-1", "/untitled:/Untitled-1.detail"),
            ("untitled:my%20rule.toml", "/untitled:/my rule.toml"),
            ("untitled:/firm/new.detail", "/firm/new.detail"),
            ("file://", "/untitled:/text.detail"),
        ] {
            assert_eq!(odd(unsaved), Some(PathBuf::from(path)));
        }
        assert_eq!(address(Path::new("/untitled:/Untitled-1.detail")), None);
    }
}
