//! No line of a page breaks between a number and its unit, however narrow its column is.

use crate::command::headlap;

/// The words of a page outside of code and drawings.
fn words(page: &str) -> String {
    let (mut words, mut rest) = (String::new(), page);
    while let Some(open) = rest.find('<') {
        words.push_str(&rest[..open]);
        words.push('\n');
        rest = &rest[open..];
        let kept = ["pre", "svg", "script", "style"]
            .into_iter()
            .find(|tag| rest[1..].strip_prefix(*tag).is_some_and(|after| after.starts_with(['>', ' '])));
        let close = kept.map_or(">".to_owned(), |tag| format!("</{tag}>"));
        rest = &rest[rest.find(&close).expect("it closes") + close.len()..];
    }
    words + rest
}

/// Numbers that a line may break off from their units, and how many it may not.
fn broken(words: &str) -> (Vec<String>, usize) {
    let units = ["mm", "cm", "m", "in", "ft", "mil", "days", "perm", "perms", "%", "deg", "K", "C", "F", "Pa", "W/m.K"];
    let (mut broken, mut whole) = (Vec::new(), 0);
    for unit in units {
        for (at, _) in words.match_indices(unit) {
            let ends =
                words[at + unit.len()..].chars().next().is_none_or(|c| !c.is_alphanumeric() && !"/.-".contains(c));
            let mut before = words[..at].chars().rev();
            let (space, number) = (before.next(), before.next().is_some_and(|c| c.is_ascii_digit()));
            if ends && number && space == Some(' ') {
                broken.push(
                    words[..at + unit.len()].chars().rev().take(30).collect::<Vec<char>>().into_iter().rev().collect(),
                );
            }
            whole += usize::from(number && space == Some('\u{a0}'));
        }
    }
    (broken, whole)
}

#[test]
fn a_number_stays_with_its_unit() {
    let commands: [&[&str]; 3] = [
        &["review", "examples/millrace", "--format", "html", "--fail-on", "never"],
        &["review", "tests/details/wrong", "--format", "html", "--fail-on", "never"],
        &["compare", "tests/details/correct", "tests/details/wrong", "--format", "html"],
    ];
    for command in commands {
        let output = headlap().args(command).output().expect("it runs");
        let page = String::from_utf8(output.stdout).expect("text");
        let (broken, whole) = broken(&words(&page));
        assert!(broken.is_empty(), "{command:?}: {broken:#?}");
        assert!(whole > 100, "{command:?}: {whole}");
        // Code is copied from the page: there a space is a space.
        for code in page.split("<pre").skip(1).filter_map(|part| part.split("</pre>").next()) {
            assert!(!code.contains('\u{a0}'), "{code}");
        }
    }
}
