//! Lines of words no wider than the page.

use crate::output::unbroken::belongs;

/// Breaks a text at its blanks; the first line starts with `first`, the others with as many blanks.
/// A word longer than the page stands alone on a line and is not broken: a path must stay copyable. A number and its unit are one word.
pub fn wrap(text: &str, first: &str, width: usize) -> String {
    let indent = first.chars().count();
    let mut page = String::from(first);
    let mut column = indent;
    for word in words(text) {
        let length = word.chars().count();
        if column > indent && column + 1 + length > width {
            page.push('\n');
            page.push_str(&" ".repeat(indent));
            column = indent;
        } else if column > indent {
            page.push(' ');
            column += 1;
        }
        page.push_str(&word);
        column += length;
    }
    page
}

/// The words of a text, each number together with its unit.
fn words(text: &str) -> Vec<String> {
    let all: Vec<&str> = text.split_whitespace().collect();
    let mut words: Vec<String> = Vec::with_capacity(all.len());
    for word in all {
        match words.last_mut().filter(|last| belongs(last, word)) {
            Some(last) => {
                last.push(' ');
                last.push_str(word);
            }
            None => words.push(word.to_owned()),
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::wrap;

    #[test]
    fn lines_hang_under_their_first_word() {
        assert_eq!(wrap("one two three four", "do: ", 12), "do: one two\n    three\n    four");
        assert_eq!(wrap("incomprehensibility", "- ", 8), "- incomprehensibility");
    }

    #[test]
    fn no_line_breaks_before_a_unit() {
        let text = "raise it by 150 mm (6 in), or 3-1/2 in. at 1/4 in per ft, R 14 or 2.465 m2K/W, 0.2 L/(s m2), 5 mm per m, \
                    6 perms and 2 % in 12 months";
        let whole = [
            "150 mm",
            "(6 in),",
            "3-1/2 in.",
            "1/4 in per ft,",
            "R 14",
            "2.465 m2K/W,",
            "0.2 L/(s m2),",
            "5 mm per m,",
            "6 perms",
            "2 %",
            "12 months",
        ];
        for width in 1..120 {
            let lines = wrap(text, "", width);
            for part in whole {
                assert!(lines.contains(part), "{width}: {part}\n{lines}");
            }
            assert_eq!(lines.split_whitespace().collect::<Vec<_>>(), text.split_whitespace().collect::<Vec<_>>());
        }
        assert_eq!(wrap("it has 3 mistakes in 2 includes", "", 8), "it has 3\nmistakes\nin 2\nincludes");
    }
}
