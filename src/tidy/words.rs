//! Words with one blank between them.

/// The words of a statement with one blank between them and after each comma; text in quotes as it is.
pub fn squeezed(words: &str) -> String {
    let mut line = String::with_capacity(words.len());
    let mut letters = words.chars();
    let (mut apart, mut quoted) = (false, false);
    while let Some(letter) = letters.next() {
        if quoted {
            line.push(letter);
            match letter {
                '\\' => line.extend(letters.next()),
                '"' => quoted = false,
                _ => {}
            }
            continue;
        }
        match letter {
            ' ' | '\t' | '\r' | '\u{A0}' => apart = true,
            ',' => {
                line.push(',');
                apart = true;
            }
            letter => {
                if apart && !line.is_empty() {
                    line.push(' ');
                }
                (apart, quoted) = (false, letter == '"');
                line.push(letter);
            }
        }
    }
    line
}

/// Characters of a line, for columns.
pub fn width(words: &str) -> usize {
    words.chars().count()
}

#[cfg(test)]
mod tests {
    use super::squeezed;

    #[test]
    fn blanks_are_one_and_quotes_are_left_alone() {
        assert_eq!(squeezed("a\t b ,c,  d\u{A0}e "), "a b, c, d e");
        assert_eq!(squeezed("note   \"a  ,b \\\"  c\"  x"), "note \"a  ,b \\\"  c\" x");
    }
}
