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
    let units = [
        "mm", "cm", "m", "in", "ft", "mil", "days", "perm", "perms", "%", "deg", "K", "C", "F", "Pa", "W/m.K", "m2K/W",
        "W/m2K", "months",
    ];
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

/// The parts of a finding on a terminal, at widths that people use.
#[test]
fn a_number_stays_with_its_unit_on_a_terminal() {
    let library = "examples/millrace";
    for command in ["review", "facts", "sequence"] {
        for width in [20, 31, 43, 64, 80, 100] {
            let mut args = vec![command.to_owned(), library.to_owned(), "--width".to_owned(), width.to_string()];
            if command == "review" {
                args.extend(["--fail-on".to_owned(), "never".to_owned()]);
            }
            let output = headlap().args(&args).output().expect("it runs");
            let page = String::from_utf8(output.stdout).expect("text");
            assert!(page.len() > 1000, "{args:?}");
            let lines: Vec<&str> = page.lines().collect();
            for pair in lines.windows(2) {
                let last = pair[0].split_whitespace().last().unwrap_or_default();
                let first = pair[1].split_whitespace().next().unwrap_or_default();
                let (split, _) = broken(&format!("{last} {first}"));
                assert!(split.is_empty() || !prose(pair), "{args:?}: {pair:#?}");
            }
        }
    }
}

/// Two lines of one paragraph, and no rows of a table or of a text that is quoted.
fn prose(lines: &[&str]) -> bool {
    let indent = |line: &str| line.len() - line.trim_start().len();
    indent(lines[0]) <= indent(lines[1]) && !lines.iter().any(|line| line.contains(['│', '·', '╭', '╰']))
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
