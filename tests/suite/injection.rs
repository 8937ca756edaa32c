//! Words of a file that are meant for whoever shows them: a terminal, a browser, an XML reader, a spreadsheet.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Steers a terminal, ends an element or an attribute, opens a script, begins a formula, turns the direction of reading.
const WORDS: &str =
    "\u{1b}]0;owned\u{7}\u{1b}[2J\u{9b}31m]]></script><script>alert(1)</script><!--\"'&amp;{{}}\u{202e}\u{2066}=1+1";

/// The same as a text of the language writes it.
fn quoted() -> String {
    format!("\"{}\"", WORDS.replace('\\', "\\\\").replace('"', "\\\""))
}

fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("injection").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("the target folder can be written");
    folder
}

/// A library that has the words wherever a file may have words of its own, with findings about all of it.
fn library(name: &str, file: &str) -> PathBuf {
    let (folder, words) = (scratch(name), quoted());
    let text = format!(
        "include \"stock.detail\"\ninclude {words}\n\
         material own sheet {words} {{ holds water; mu 5; source {words} }}\n\
         assembly W wall {words} {{ outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }}\n\
         detail D course {words} joins W {{\n  sheet {words}\n  note {words}\n  piece deck plywood of W\n  \
         piece high wrap-open of W up from 0 mm\n  piece low wrap-open of W up to 150 mm\n  \
         waive reverse-lap because {words} by {words}\n  piece x {words}\n  piece y \u{1b}[31m\n}}\n\
         set {words} {{ needs sill of W }}\n"
    );
    fs::write(folder.join(file), text).expect("the target folder can be written");
    folder
}

fn run(folder: &Path, args: &[&str]) -> String {
    let program = assert_cmd::cargo::cargo_bin!("headlap");
    let output = Command::new(program).current_dir(folder).args(args).output().expect("the program runs");
    assert!(output.status.code().is_some_and(|status| status < 2), "{args:?}: {output:?}");
    let aside = String::from_utf8(output.stderr).expect("the program writes UTF-8");
    assert!(!aside.chars().any(|c| c != '\n' && steers(c)), "{args:?}: {aside:?}");
    String::from_utf8(output.stdout).expect("the program writes UTF-8")
}

/// Signs that do something to who shows them, but for line breaks.
fn steers(c: char) -> bool {
    (c.is_control() && c != '\n')
        || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

const FILE: &str = "=cmd '\"&<b>\u{1b}[31m.detail";

#[cfg(unix)]
#[test]
fn no_command_sends_what_a_file_says_to_a_terminal() {
    let folder = library("terminal", FILE);
    let before = fs::read_to_string(folder.join(FILE)).expect("there");
    for args in [
        &["review", "."] as &[&str],
        &["review", ".", "--ascii"],
        &["review", ".", "--narrate"],
        &["review", ".", "--format", "lines"],
        &["review", ".", "--format", "json"],
        &["review", ".", "--format", "jsonl"],
        &["review", ".", "--format", "sarif"],
        &["review", ".", "--format", "junit"],
        &["review", ".", "--format", "html"],
        &["facts", "."],
        &["facts", ".", "--format", "json"],
        &["sequence", "."],
        &["sequence", ".", "--format", "markdown"],
        &["compare", ".", "."],
        &["compare", ".", ".", "--format", "json"],
        &["compare", ".", ".", "--format", "html"],
    ] {
        let out = run(&folder, args);
        assert!(!out.is_empty());
        if let Some(at) = out.find(steers) {
            let from = (0..=at).rev().filter(|from| out.is_char_boundary(*from)).nth(60).unwrap_or(0);
            panic!("{args:?}: {:?}", &out[from..at + 4]);
        }
    }
    // With colors, the only sequences are those that set a color.
    let colored = run(&folder, &["review", ".", "--color", "always"]);
    for after in colored.split('\u{1b}').skip(1) {
        let end = after.find(|c: char| c.is_ascii_alphabetic()).expect("a sequence has an end");
        assert_eq!(&after[end..=end], "m", "{after:?}");
        assert!(after[1..end].chars().all(|c| c.is_ascii_digit() || c == ';') && after.starts_with('['), "{after:?}");
    }
    let plain = colored.split('\u{1b}').map(|part| part.find('m').map_or(part, |end| &part[end + 1..]));
    assert!(!plain.skip(1).collect::<String>().contains(steers));
    assert_eq!(fs::read_to_string(folder.join(FILE)).expect("there"), before);
}

#[cfg(unix)]
#[test]
fn what_is_refused_is_said_without_steering_either() {
    let folder = scratch("refused");
    let program = assert_cmd::cargo::cargo_bin!("headlap");
    let name = "no\u{1b}[31msuch.detail";
    fs::write(folder.join("bad\u{1b}[2J.toml"), "x = \"\u{1b}[31m").expect("written");
    fs::write(folder.join(FILE), "detail \u{1b}[31m").expect("written");
    for args in [
        &["review", name] as &[&str],
        &["review", ".", "--known", name],
        &["review", ".", "--out", "no\u{1b}[31m/such/folder"],
        &["review", ".", "--files-from", name],
        &["rules", "list", "--rules", "bad\u{1b}[2J.toml"],
        &["rules", "show", name],
        &["rules", "fields", name],
        &["tidy", name],
        &["tidy", "."],
        &["climate", name],
        &["draw", ".", "--out", FILE],
        &["start", FILE],
        &["facts", name],
        &["compare", name, name],
        &["review", "--explain-config", name],
    ] {
        let output = Command::new(program).current_dir(&folder).args(args).output().expect("the program runs");
        let said = String::from_utf8(output.stderr).expect("UTF-8") + &String::from_utf8_lossy(&output.stdout);
        assert_eq!(output.status.code(), Some(2), "{args:?}: {said}");
        assert!(!said.is_empty() && !said.contains(steers), "{args:?}: {said:?}");
    }
}

/// Tags of a page that what it quotes has no way to bring in: all of them stand in the page of a harmless library too.
#[cfg(unix)]
#[test]
fn a_page_has_no_element_that_a_file_wrote() {
    let folder = library("page", FILE);
    fs::create_dir(folder.join("old")).expect("the target folder can be written");
    fs::write(folder.join("old/a.detail"), "# nothing yet\n").expect("the target folder can be written");
    for args in [&["review", ".", "--format", "html"] as &[&str], &["compare", "old", ".", "--format", "html"]] {
        let page = run(&folder, args);
        assert!(page.contains("owned"), "the words are shown");
        assert!(!page.contains("<script>alert") && !page.contains("<b>") && !page.contains("<!--"), "{args:?}");
        // Nor does a quotation mark end an attribute.
        for (at, _) in page.match_indices("owned") {
            let open = page[..at].rfind(['<', '>']).expect("a page has tags");
            if page.as_bytes()[open] == b'<' {
                let tag = &page[open..];
                let end = tag.find('>').expect("a tag ends");
                assert_eq!(tag[..end].matches('"').count() % 2, 0, "{}", &tag[..end]);
            }
        }
    }
}

#[cfg(unix)]
#[test]
fn xml_and_json_are_whole_whatever_they_quote() {
    let folder = library("whole", FILE);
    let junit = run(&folder, &["review", ".", "--format", "junit"]);
    let parsed = resvg::usvg::roxmltree::Document::parse(&junit).unwrap_or_else(|error| panic!("{error}: {junit}"));
    let kinds: std::collections::BTreeSet<&str> =
        parsed.descendants().filter(|node| node.is_element()).map(|node| node.tag_name().name()).collect();
    let known = ["failure", "skipped", "system-out", "testcase", "testsuite", "testsuites"];
    assert!(kinds.iter().all(|kind| known.contains(kind)), "{kinds:?}");
    assert!(parsed.descendants().any(|node| node.text().is_some_and(|text| text.contains("</script>"))));
    for format in ["json", "sarif"] {
        let out = run(&folder, &["review", ".", "--format", format]);
        serde_json::from_str::<serde_json::Value>(&out).unwrap_or_else(|error| panic!("{format}: {error}"));
    }
    for line in run(&folder, &["review", ".", "--format", "jsonl"]).lines() {
        serde_json::from_str::<serde_json::Value>(line).unwrap_or_else(|error| panic!("jsonl: {error}"));
    }
    run(&folder, &["draw", ".", "--out", "drawn"]);
    let drawn: Vec<PathBuf> =
        fs::read_dir(folder.join("drawn")).expect("drawn").map(|entry| entry.expect("an entry").path()).collect();
    assert_eq!(drawn.len(), 3, "{drawn:?}");
    for file in drawn {
        let svg = fs::read_to_string(&file).expect("there");
        let parsed = resvg::usvg::roxmltree::Document::parse(&svg).unwrap_or_else(|error| panic!("{error}: {svg}"));
        assert!(!svg.contains(steers), "{}", file.display());
        assert!(parsed.descendants().all(|node| node.tag_name().name() != "script"));
    }
}

/// A spreadsheet takes a cell that begins with one of `= + - @` for a formula. No command writes a table that a spreadsheet
/// opens (the hourly tables of `headlap climate` are only read), so nothing needs a guard today. Whoever adds one has to guard
/// its cells, and finds this test.
#[test]
fn nothing_is_written_for_spreadsheets() {
    let folder = scratch("spreadsheet");
    for command in ["review", "facts", "sequence", "compare"] {
        for format in ["csv", "tsv", "xlsx"] {
            let program = assert_cmd::cargo::cargo_bin!("headlap");
            let output = Command::new(program)
                .current_dir(&folder)
                .args([command, ".", "--format", format])
                .output()
                .expect("runs");
            assert_eq!(output.status.code(), Some(2), "{command} --format {format}");
        }
    }
}
