//! What a layout does not touch: how the file begins, and how its lines end.

/// A layout as its file has it: behind the byte-order mark, if there was one, and with lines that end as the first did.
pub fn as_before(before: &[u8], laid_out: &str) -> String {
    let text = before.strip_prefix(MARK.as_bytes());
    let mark = if text.is_some() { MARK } else { "" };
    let text = text.unwrap_or(before);
    let end = text.iter().position(|byte| matches!(byte, b'\n' | b'\r')).map_or(&b""[..], |at| &text[at..]);
    let alone = end.starts_with(b"\r") && !end.starts_with(b"\r\n");
    mark.to_owned() + &if alone { laid_out.replace('\n', "\r") } else { laid_out.to_owned() }
}

const MARK: &str = "\u{FEFF}";

#[cfg(test)]
mod tests {
    use super::as_before;

    #[test]
    fn lines_end_as_the_first_did_and_a_mark_stays() {
        assert_eq!(as_before("\u{FEFF}a\nb".as_bytes(), "a\nb\n"), "\u{FEFF}a\nb\n");
        assert_eq!(as_before(b"a\rb", "a\nb\n"), "a\rb\r");
        assert_eq!(as_before(b"a\r\nb", "a\r\nb\r\n"), "a\r\nb\r\n");
        assert_eq!(as_before(b"a\nb\r", "a\nb\n"), "a\nb\n");
        assert_eq!(as_before(b"", ""), "");
    }
}
