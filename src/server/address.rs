//! Files as the protocol names them: `file:///…`, bytes beyond the plain ones as `%20`.

use std::path::{Path, PathBuf};

use lsp_types::Uri;

/// The address of an absolute path.
pub fn address(path: &Path) -> Option<Uri> {
    let text = path.to_str()?;
    let text = if cfg!(windows) { text.replace('\\', "/") } else { text.to_owned() };
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-_.~/:".contains(&byte);
    let one = |byte: u8| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") };
    let encoded: String = text.bytes().map(one).collect();
    let slash = if encoded.starts_with('/') { "" } else { "/" };
    format!("file://{slash}{encoded}").parse().ok()
}

/// The path of an address; `None` for what is no file of this machine, such as a text that was never saved.
pub fn path_of(address: &Uri) -> Option<PathBuf> {
    let rest = address.as_str().strip_prefix("file://")?;
    let path = rest.strip_prefix("localhost").unwrap_or(rest);
    let mut bytes = Vec::with_capacity(path.len());
    let mut left = path.bytes();
    while let Some(byte) = left.next() {
        match byte {
            b'%' => {
                let digits = [left.next()?, left.next()?];
                bytes.push(u8::from_str_radix(std::str::from_utf8(&digits).ok()?, 16).ok()?);
            }
            byte => bytes.push(byte),
        }
    }
    let text = String::from_utf8(bytes).ok()?;
    // `/C:/firm` is a path of Windows.
    let drive = cfg!(windows) && text.as_bytes().get(2) == Some(&b':');
    let path = PathBuf::from(if drive { &text[1..] } else { &text });
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
        assert_eq!(odd("untitled:Untitled-1"), None);
    }
}
