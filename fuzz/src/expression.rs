//! Any words as the expressions of a rule: refused at their place, or asked.

use std::sync::Arc;

use headlap::rules::Pack;
use headlap::text::{FileId, Source};

use super::sample::judged;
use super::spans::all_inside;

/// The rules, the table and the words that firms add to.
pub const BASE: &str = include_str!("base.toml");

/// Lines: what the rule is about, `needs`, `when`, `says`.
pub fn run(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let mut lines = text.splitn(4, '\n');
    let mut rule =
        String::from("[[rule]]\nid = 'x'\ntitle = 'X'\nlevel = 'note'\nlimit = '100 mm'\nnames = ['a', 'b']\n");
    for key in ["about", "needs", "when", "says"] {
        match lines.next() {
            Some("") if key == "when" => {}
            Some(line) => rule.push_str(&format!("{key} = {}\n", quoted(line))),
            None if key == "when" => {}
            None => rule.push_str(&format!("{key} = 'x'\n")),
        }
    }
    load(&[BASE, &rule]);
}

/// As most rules are written; with escapes where that cannot hold the words.
fn quoted(line: &str) -> String {
    if !line.contains('\'') && !line.chars().any(|c| c.is_control() && c != '\t') {
        return format!("'{line}'");
    }
    let escaped: String = line
        .chars()
        .map(|c| match c {
            '"' | '\\' => format!("\\{c}"),
            c if c.is_control() => format!("\\u{:04X}", c as u32),
            c => c.to_string(),
        })
        .collect();
    format!("\"{escaped}\"")
}

/// Rule files are refused with places inside of them, or judge: the same twice.
pub fn load(files: &[&str]) -> Option<Pack> {
    let sources: Vec<Arc<Source>> = files
        .iter()
        .enumerate()
        .map(|(n, text)| Arc::new(Source::new(FileId::detail(n), "rules/firm/a.toml", *text)))
        .collect();
    let (base, firm) = sources.split_at(sources.len() - 1);
    let first = Pack::of(base, firm);
    let again = Pack::of(base, firm);
    match (first, again) {
        (Ok(pack), Ok(_)) => {
            judged(&pack);
            Some(pack)
        }
        (Err(problems), Err(again)) => {
            assert!(!problems.is_empty() && problems == again, "other problems the second time");
            let of = |span: headlap::text::Span| {
                sources.iter().find(|source| source.id == span.file).map(|source| &**source)
            };
            problems.iter().for_each(|problem| all_inside(problem, &of));
            None
        }
        _ => panic!("loaded once and refused once"),
    }
}
