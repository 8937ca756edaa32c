//! Formatting: it moves blanks and clauses, and nothing else.

use std::fs;
use std::path::{Path, PathBuf};

use headlap::syntax::{Keyword, Scanner, Statement, Token, parse};
use headlap::text::{FileId, Source};
use proptest::prelude::*;

use crate::command::{run_with as run, scratch};

fn tidy(text: &str) -> Option<String> {
    headlap::tidy::tidy(&Source::new(FileId::detail(0), "a.detail", text)).ok()
}

fn laid_out(text: &str) -> String {
    tidy(text).unwrap_or_else(|| panic!("this can be read:\n{text}"))
}

/// Every file of the repository that is written in the language.
fn library() -> Vec<(PathBuf, String)> {
    fn gather(folder: &Path, into: &mut Vec<(PathBuf, String)>) {
        for entry in fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                gather(&path, into);
            } else if path.extension().is_some_and(|extension| extension == "detail") {
                let text = fs::read_to_string(&path).expect("text");
                into.push((path, text));
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    for folder in ["examples", "rules", "tests/findings"] {
        gather(&root.join(folder), &mut files);
    }
    files.sort();
    files
}

fn plain(words: &str) -> String {
    words
        .split(|c: char| c.is_whitespace())
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
        .replace(" ,", ",")
        .replace(", ", ",")
}

/// What a text says, clauses in no order: keyword, names and clauses of every statement.
fn meaning(text: &str) -> Vec<(Keyword, usize, Vec<String>, Vec<String>)> {
    let (document, findings) = parse(&Source::new(FileId::detail(0), "a.detail", text));
    assert!(findings.is_empty(), "{findings:?}\n{text}");
    let reported = |statement: &Statement, depth: usize| {
        let names = [statement.names.first, statement.names.second].into_iter().flatten();
        let words = |part: &headlap::syntax::PlacedClause| {
            // The list of what a material holds has its whole line for a place.
            let variant = format!("{:?}", part.clause);
            let variant = variant.split(['(', ' ']).next().unwrap_or("").to_owned();
            format!("{variant} {}", plain(&text[part.span.range()]))
        };
        let mut clauses: Vec<String> = statement.clauses.iter().map(words).collect();
        clauses.sort();
        (statement.keyword, depth, names.map(|name| text[name.range()].to_owned()).collect(), clauses)
    };
    document
        .items
        .iter()
        .flat_map(|item| std::iter::once(reported(&item.head, 0)).chain(item.body.iter().map(|one| reported(one, 1))))
        .collect()
}

fn comments(text: &str) -> Vec<String> {
    let comment = |token| match token {
        Token::Comment { start, end } => Some(text[start..end].to_owned()),
        _ => None,
    };
    let mut all: Vec<String> = Scanner::of(text).filter_map(comment).collect();
    all.sort();
    all
}

fn holds(before: &str, after: &str) {
    assert_eq!(meaning(before), meaning(after), "{after}");
    assert_eq!(comments(before), comments(after), "{after}");
    assert_eq!(laid_out(after), after, "the layout of a layout is itself");
    assert!(after.is_empty() || after.ends_with('\n') && !after.ends_with("\n\n"));
    assert!(!after.contains("\n\n\n") && !after.lines().any(|line| line.ends_with(' ')), "{after}");
}

#[test]
fn every_file_keeps_its_meaning_and_its_comments() {
    let mut count = 0;
    for (path, text) in library() {
        match tidy(&text) {
            Some(after) => {
                holds(&text, &after);
                count += 1;
            }
            // Only the fixtures of unreadable lines may be refused.
            None => assert!(path.to_string_lossy().contains("tests/findings"), "{}", path.display()),
        }
    }
    assert!(count > 70, "{count} files were laid out");
}

#[test]
fn a_file_is_formatted_as_an_architect_would() {
    let text = "\u{FEFF}\r\n# Head\r\ninclude   \"stock.detail\" # all\r\n\r\n\r\n\r\nclimate six { zone   6A }\r\n\
        assembly W wall {\r\noutside; layer wrap-open controls water ,air   # tight\r\n layer plywood 12 mm # braced\n\n\
        layer mineral-wool between spruce 38 mm at 400 mm  140 mm\n\n inside }\n\
        detail D course joins W \"Courses\" # why\n {\n  piece deck plywood of W\n note \"two  blanks ; # kept\"\n\
        piece low wrap-open rolled up to 150 mm of W\n piece tape acrylic-tape {\n bonds deck, low; # both\n up -40 mm to 40 mm }\n\
        piece b acrylic-tape { rolled; bonds low; up 0 mm to 10 mm }\n # last\n\n }";
    let wanted = "\
# Head
include \"stock.detail\"  # all

climate six { zone 6A }
assembly W wall {
  outside
  layer wrap-open         controls water, air  # tight
  layer plywood    12 mm                       # braced

  layer mineral-wool 140 mm between spruce 38 mm at 400 mm

  inside
}
detail D course \"Courses\" joins W {  # why
  piece deck  plywood    of W
  note \"two  blanks ; # kept\"
  piece low   wrap-open  of W  up to 150 mm  rolled
  piece tape acrylic-tape {
    up -40 mm to 40 mm
    bonds deck, low  # both
  }
  piece b acrylic-tape { up 0 mm to 10 mm; bonds low; rolled }
  # last
}
";
    // Lines end as the first one does.
    assert_eq!(laid_out(text), wanted.replace('\n', "\r\n"));
    assert_eq!(laid_out(&text.replacen("\r\n", "\n", 1)), wanted);
}

#[test]
fn what_cannot_be_read_whole_is_not_formatted() {
    let braces = "{".repeat(100_000);
    for text in
        ["detail", "piece a b", "climate a { zone 6A", "}", "a \"b", &braces, "detail D course joins W { piece a }"]
    {
        assert_eq!(tidy(text), None, "{}", &text[..text.len().min(40)]);
    }
    assert_eq!(laid_out(""), "");
    assert_eq!(laid_out("\u{FEFF} ;\r\n;\n"), "");
    assert_eq!(laid_out("\n\n#a  \n"), "#a\n");
    let long = format!("set {{ {} }}", "needs course of W;".repeat(50_000));
    holds(&long, &laid_out(&long));
}

/// Another spelling of the same text: blanks, line ends, `;`, comments and block forms as `choices` say.
fn mangled(text: &str, choices: &[u8]) -> String {
    let (document, _) = parse(&Source::new(FileId::detail(0), "a.detail", text));
    let statements: Vec<&Statement> = document.items.iter().flat_map(|item| &item.body).collect();
    let mut turn =
        choices.iter().cycle().copied().zip(1u32..).map(|(choice, n)| usize::from(choice).wrapping_add(n as usize * 7));
    let mut pick = move |of: usize| turn.next().unwrap_or(0) % of;
    let tokens: Vec<Token> = Scanner::of(text).collect();
    let mut out = String::new();
    for (number, token) in tokens.iter().enumerate() {
        let opens = matches!(tokens.get(number + 1), Some(Token::Open(_)));
        match *token {
            Token::Comment { start, end } => {
                out.push_str(&text[start..end]);
                out.push_str(["\n", "\r\n", "\n\n\n"][pick(3)]);
            }
            Token::Open(_) => out.push_str(["{", "{ # opened\n", " {\n\n"][pick(3)]),
            Token::Close(_) => out.push_str(["}\n", "} # closed\n", "\n}\n\n\n", ";}\n"][pick(4)]),
            Token::Head { start, end } => {
                let words = &text[start..end];
                let known = statements.iter().find(|one| one.span.range().start == start);
                let clauses = known.filter(|one| {
                    matches!(
                        one.keyword,
                        Keyword::Piece | Keyword::Seal | Keyword::Fasten | Keyword::Cut | Keyword::Waive
                    ) && !one.clauses.is_empty()
                        && !opens
                });
                match clauses {
                    Some(one) if pick(2) == 0 => {
                        let mut parts: Vec<&str> = one.clauses.iter().map(|part| &text[part.span.range()]).collect();
                        let first = one.clauses.iter().map(|part| part.span.range().start).min().unwrap_or(end);
                        let count = parts.len();
                        parts.rotate_left(pick(count));
                        let head = text[start..first].trim_end();
                        match pick(3) {
                            0 => out.push_str(&format!("{head} {}", parts.join("\t "))),
                            1 => out.push_str(&format!("{head} {{ {} }}", parts.join("; "))),
                            _ => out.push_str(&format!(
                                "{head} # its block\n{{\n{} # in it\n}}",
                                parts.join("# between\n\n")
                            )),
                        }
                    }
                    _ if !words.contains('"') => {
                        out.push_str(&words.replace(' ', [" ", "  ", "\t", "\u{A0} "][pick(4)]).replace(',', " , "));
                    }
                    _ => out.push_str(words),
                }
                out.push_str(match (opens, pick(5)) {
                    (true, choice) => ["", " ", "\n", "# before a brace\n", "\n\n# before a brace\n"][choice],
                    (false, choice) => ["\n", ";", " ;; ", " # after\n", "\n\n\n# between\n"][choice],
                });
            }
        }
    }
    out
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(128) })]

    #[test]
    fn any_spelling_of_a_file_keeps_its_meaning(which in any::<prop::sample::Index>(), choices in prop::collection::vec(any::<u8>(), 1..60)) {
        let files: Vec<String> = library().into_iter().map(|(_, text)| text).filter(|text| tidy(text).is_some()).collect();
        let text = &files[which.index(files.len())];
        let other = mangled(text, &choices);
        prop_assert_eq!(meaning(text), meaning(&other));
        holds(&other, &laid_out(&other));
    }

    #[test]
    fn any_text_is_formatted_or_refused(text in "([a-z{}#;\"\\\\,\r\n\t \u{A0}é]|set |zone 6A|climate a |material b sheet |mu 1 |# c\n|\\{|\\}\n){0,40}") {
        if let Some(after) = tidy(&text) {
            holds(&text, &after);
        }
    }
}

#[test]
fn check_lists_and_writes_nothing_and_a_broken_file_stops_no_other() {
    let folder = scratch("tidy/check");
    fs::write(folder.join("a.detail"), "climate  six {zone 6A}\n").expect("written");
    fs::write(folder.join("b.detail"), "climate six { zone 6A }\n").expect("written");
    assert_eq!(run(&folder, &["tidy", "--check", "."], b""), (1, "a.detail\n".to_owned(), String::new()));
    assert_eq!(fs::read(folder.join("a.detail")).expect("read"), b"climate  six {zone 6A}\n");
    fs::write(folder.join("0.detail"), "climate  six {zone\n").expect("written");
    fs::write(folder.join("c.detail"), b"# \xFF\n").expect("written");
    let (status, out, said) = run(&folder, &["tidy", "."], b"");
    assert_eq!((status, out.as_str()), (2, "a.detail\n"));
    assert!(said.contains("0.detail:1") && said.contains("c.detail: from here on, it is not UTF-8 text"), "{said}");
    assert_eq!(fs::read(folder.join("0.detail")).expect("read"), b"climate  six {zone\n");
    assert_eq!(fs::read(folder.join("a.detail")).expect("read"), b"climate six { zone 6A }\n");
    assert_eq!(run(&folder, &["tidy", "--check", "a.detail", "b.detail"], b""), (0, String::new(), String::new()));
    assert_eq!(run(&folder, &["tidy", "nowhere"], b"").0, 2);
    assert_eq!(fs::read_dir(&folder).expect("read").count(), 4, "nothing half-written stays behind");
    // A byte-order mark stays, so that it alone is no change.
    fs::write(folder.join("b.detail"), "\u{FEFF}climate six { zone 6A }\n").expect("written");
    assert_eq!(run(&folder, &["tidy", "--check", "b.detail"], b"").0, 0);
}

#[test]
fn standard_input_goes_to_standard_output() {
    let folder = scratch("tidy/input");
    let tidied = "climate six { zone 6A }\n".to_owned();
    assert_eq!(run(&folder, &["tidy", "-"], b"climate six{zone 6A}"), (0, tidied.clone(), String::new()));
    assert_eq!(run(&folder, &["tidy", "-"], tidied.as_bytes()), (0, tidied.clone(), String::new()));
    assert_eq!(run(&folder, &["tidy", "-", "--check"], b"climate six{zone 6A}"), (1, String::new(), String::new()));
    let (status, out, said) = run(&folder, &["tidy", "-"], b"climate");
    assert_eq!((status, out.as_str(), said.contains("standard input:1")), (2, "", true), "{said}");
    assert_eq!(run(&folder, &["tidy", "-", "a.detail"], b"").0, 2);
}

#[cfg(unix)]
#[test]
fn permissions_and_links_stay() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};
    let folder = scratch("tidy/links");
    fs::create_dir_all(folder.join("real")).expect("made");
    let real = folder.join("real/a.detail");
    fs::write(&real, "climate  six {zone 6A}\n").expect("written");
    fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).expect("set");
    symlink("real/a.detail", folder.join("link.detail")).expect("linked");
    assert_eq!(run(&folder, &["tidy", "link.detail"], b"").0, 0);
    assert_eq!(fs::read(&real).expect("read"), b"climate six { zone 6A }\n");
    assert!(fs::symlink_metadata(folder.join("link.detail")).expect("there").is_symlink());
    let about = fs::metadata(&real).expect("there");
    assert_eq!(about.permissions().mode() & 0o7777, 0o640);
    assert_eq!(fs::read_dir(folder.join("real")).expect("read").count(), 1);
    // What is formatted already is not written again.
    assert_eq!(run(&folder, &["tidy", "."], b"").0, 0);
    assert_eq!(fs::metadata(&real).expect("there").ino(), about.ino());
    // What is read-only stays as it is.
    fs::write(&real, "climate  six {zone 6A}\n").expect("written");
    fs::set_permissions(&real, fs::Permissions::from_mode(0o440)).expect("set");
    let (status, _, said) = run(&folder, &["tidy", "."], b"");
    assert_eq!((status, said.contains("read-only")), (2, true), "{said}");
    assert_eq!(fs::read(&real).expect("read"), b"climate  six {zone 6A}\n");
}

/// Lines and columns move; nothing else may.
fn without_places(value: &mut serde_json::Value) {
    match value {
        serde_json::Value::Object(fields) => {
            for place in ["line", "column", "end_line", "end_column"] {
                fields.remove(place);
            }
            fields.values_mut().for_each(without_places);
        }
        serde_json::Value::Array(values) => values.iter_mut().for_each(without_places),
        _ => {}
    }
}

#[test]
fn facts_and_findings_are_those_of_the_text_before() {
    let folder = scratch("tidy/facts");
    for (path, text) in library() {
        let inside = path.strip_prefix(env!("CARGO_MANIFEST_DIR")).expect("inside");
        let place = folder.join(inside);
        fs::create_dir_all(place.parent().expect("a parent")).expect("made");
        fs::write(place, text).expect("written");
    }
    let reported = || {
        let json = |args: &[&str]| serde_json::from_str::<serde_json::Value>(&run(&folder, args, b"").1).expect("JSON");
        let mut facts = json(&["facts", ".", "--format", "json"]);
        without_places(&mut facts);
        let mut review = json(&["review", ".", "--format", "json"]);
        without_places(&mut review);
        let mut findings: Vec<String> =
            review["findings"].as_array().expect("findings").iter().map(ToString::to_string).collect();
        // Within a line findings are sorted by their column.
        findings.sort();
        (facts.to_string(), findings)
    };
    let before = reported();
    assert_eq!(run(&folder, &["tidy", "."], b"").0, 2, "some fixtures cannot be read");
    let after = reported();
    assert_eq!(before.1, after.1);
    assert!(before.0 == after.0, "the facts differ");
    assert!(before.0.len() > 10_000 && before.1.len() > 50);
}

#[test]
fn a_byte_order_mark_stays_and_lines_end_as_they_did() {
    let folder = scratch("tidy/ends");
    let laid_out = "assembly W1 wall {\n  layer plywood  12 mm\n}\n";
    for (mark, end) in [("\u{FEFF}", "\n"), ("\u{FEFF}", "\r\n"), ("", "\r"), ("\u{FEFF}", "\r")] {
        let in_file = |text: &str| format!("{mark}{}", text.replace('\n', end));
        let path = folder.join("a.detail");
        fs::write(&path, in_file("assembly  W1   wall {\n layer   plywood 12 mm\n}\n")).expect("written");
        assert_eq!(run(&folder, &["tidy", "a.detail"], b"").0, 0);
        let after = fs::read_to_string(&path).expect("text");
        assert!(after.starts_with(mark) && after.ends_with(&format!("}}{end}")), "{after:?}");
        let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(plain(after.trim_start_matches('\u{FEFF}')), plain(laid_out));
        assert_eq!(run(&folder, &["tidy", "--check", "a.detail"], b"").0, 0, "{after:?}");
    }
}
