//! Lines of words no wider than the page.

/// Breaks a text at its blanks; the first line starts with `first`, the others with as many blanks.
/// A word longer than the page stands alone on a line and is not broken: a path must stay copyable.
pub fn wrap(text: &str, first: &str, width: usize) -> String {
    let indent = first.chars().count();
    let mut page = String::from(first);
    let mut column = indent;
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if column > indent && column + 1 + length > width {
            page.push('\n');
            page.push_str(&" ".repeat(indent));
            column = indent;
        } else if column > indent {
            page.push(' ');
            column += 1;
        }
        page.push_str(word);
        column += length;
    }
    page
}

#[cfg(test)]
mod tests {
    use super::wrap;

    #[test]
    fn lines_hang_under_their_first_word() {
        assert_eq!(wrap("one two three four", "do: ", 12), "do: one two\n    three\n    four");
        assert_eq!(wrap("incomprehensibility", "- ", 8), "- incomprehensibility");
    }
}
