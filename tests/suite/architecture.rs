//! The import table: single crates drift into one knot otherwise.

use std::fs;
use std::path::{Path, PathBuf};

/// Each module with what it may use besides itself. The order is that of `src/lib.rs`.
const TABLE: &[(&str, &[&str])] = &[
    ("threads", &[]),
    ("text", &[]),
    ("quantity", &[]),
    ("finding", &["text", "quantity"]),
    ("syntax", &["text", "quantity", "finding"]),
    ("tidy", &["text", "quantity", "finding", "syntax"]),
    ("physics", &["quantity"]),
    ("model", &["text", "quantity", "finding", "syntax"]),
    ("facts", &["text", "quantity", "physics", "model"]),
    ("rules", &["threads", "text", "quantity", "finding", "model", "facts"]),
    ("report", &["text", "finding", "model", "facts", "rules"]),
    ("review", &["threads", "text", "quantity", "finding", "syntax", "physics", "model", "facts", "rules", "report"]),
    ("compare", &["text", "quantity", "finding", "model", "facts", "rules", "report"]),
    ("output", &["threads", "text", "quantity", "finding", "physics", "model", "facts", "rules", "report", "compare"]),
    ("mend", &["text", "quantity", "finding", "syntax", "model", "facts", "rules"]),
    ("settings", &["text", "quantity", "finding", "model", "rules"]),
    ("project", &["text", "quantity", "finding", "syntax", "model", "rules", "report", "review", "settings"]),
    ("about", &["text", "quantity", "finding", "syntax", "model", "facts", "rules", "report", "output"]),
    (
        "checker",
        &[
            "text", "finding", "syntax", "model", "facts", "rules", "report", "review", "output", "mend", "settings",
            "about",
        ],
    ),
    ("server", ALL),
    ("cli", ALL),
];

const ALL: &[&str] = &[
    "text", "quantity", "finding", "syntax", "tidy", "physics", "model", "facts", "rules", "report", "compare",
    "review", "output", "mend", "settings", "project", "about", "server",
];

fn sources() -> Vec<(PathBuf, String)> {
    fn gather(folder: &Path, into: &mut Vec<(PathBuf, String)>) {
        for entry in fs::read_dir(folder).expect("the sources can be read") {
            let path = entry.expect("the sources can be read").path();
            if path.is_dir() {
                gather(&path, into);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                let text = fs::read_to_string(&path).expect("the sources can be read");
                into.push((path, text));
            }
        }
    }
    let mut found = Vec::new();
    gather(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    found
}

/// The top module that a file belongs to; `main` and `lib` belong to none.
fn module(path: &Path) -> Option<String> {
    let inside = path.strip_prefix(Path::new(env!("CARGO_MANIFEST_DIR")).join("src")).expect("a source");
    let first = inside.components().next()?.as_os_str().to_str()?.trim_end_matches(".rs").to_owned();
    (first != "main" && first != "lib").then_some(first)
}

/// Code without comments and without the tests at the end of a file, which may use what they like.
fn code(text: &str) -> String {
    let body = text.split("#[cfg(test)]").next().unwrap_or("");
    body.lines().map(|line| line.split("//").next().unwrap_or("")).collect::<Vec<_>>().join("\n")
}

#[test]
fn modules_use_only_what_the_table_allows() {
    let mut wrong = Vec::new();
    let mut seen = 0;
    for (path, text) in sources() {
        let Some(module) = module(&path) else { continue };
        let Some((_, allowed)) = TABLE.iter().find(|(name, _)| *name == module) else {
            wrong.push(format!("{}: `{module}` is not in the table", path.display()));
            continue;
        };
        let code = code(&text);
        for used in code.split("crate::").skip(1) {
            let name: String = used.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            seen += 1;
            if name != module && !allowed.contains(&name.as_str()) {
                wrong.push(format!("{}: `{module}` uses `{name}`", path.display()));
            }
        }
        if code.contains("super::super") {
            wrong.push(format!("{}: write `crate::…` paths", path.display()));
        }
    }
    assert!(seen > 50, "the paths are found at all");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn only_project_touches_files_and_only_the_shells_touch_the_terminal() {
    let mut wrong = Vec::new();
    for (path, text) in sources() {
        let module = module(&path).unwrap_or_default();
        let code = code(&text);
        let files = ["std::fs", "fs::read", "File::open", "File::create", "walkdir::", "ignore::Walk"];
        let terminal = ["println!", "print!", "eprintln!", "eprint!", "dbg!", "io::stdout", "io::stdin", "io::stderr"];
        if module != "project" {
            wrong.extend(files.iter().filter(|f| code.contains(**f)).map(|f| format!("{}: {f}", path.display())));
        }
        if module != "cli" && module != "server" {
            wrong.extend(terminal.iter().filter(|t| code.contains(**t)).map(|t| format!("{}: {t}", path.display())));
        }
        if !["cli", "server", "project"].contains(&module.as_str()) && code.contains("std::env") {
            wrong.push(format!("{}: std::env", path.display()));
        }
        if module != "cli" && module != "server" && code.contains("now()") {
            wrong.push(format!("{}: the date is an argument", path.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What other packages see is what `src/lib.rs` re-exports. `missing_docs` does not look into hidden modules, where most of it is defined.
#[test]
fn every_public_item_is_documented_and_every_public_type_has_an_example() {
    let library = sources().into_iter().find(|(path, _)| path.ends_with("src/lib.rs")).expect("the library").1;
    let exported = library.lines().filter_map(|line| line.strip_prefix("pub use crate::"));
    let mut types = 0;
    let mut wrong = Vec::new();
    for line in exported.filter(|line| line.contains('{')) {
        let (module, names) = line.trim_end_matches("};").split_once("::{").expect("a list of names");
        for name in names.split(", ") {
            types += 1;
            let define = [format!("pub struct {name}"), format!("pub enum {name}")];
            let ends = |rest: &str| !rest.starts_with(|c: char| c.is_alphanumeric());
            let is = |line: &str| define.iter().any(|text| line.strip_prefix(&**text).is_some_and(ends));
            let home = sources()
                .into_iter()
                .find(|(path, text)| self::module(path).as_deref() == Some(module) && text.lines().any(is));
            let Some((path, text)) = home else { panic!("{module}::{name} is defined somewhere") };
            let lines: Vec<&str> = text.lines().collect();
            let at = lines.iter().position(|line| is(line)).expect("it was found");
            if !comment_above(&lines, at).iter().any(|line| line.contains("```")) {
                wrong.push(format!("{}: {name} has no example", path.display()));
            }
            // What belongs to the type: its fields or variants, and the functions of its blocks.
            let fields = lines[at + 1..].iter().take_while(|line| **line != "}").count();
            let blocks = lines.iter().enumerate().filter(|(_, line)| line.starts_with("impl") && line.contains(name));
            let inside = blocks.flat_map(|(from, _)| {
                let length = lines[from..].iter().take_while(|line| **line != "}").count();
                (from..from + length).filter(|at| lines[*at].starts_with("    pub fn")).collect::<Vec<_>>()
            });
            let is_enum = lines[at].starts_with("pub enum");
            let members = (at + 1..at + 1 + fields).filter(|at| {
                let line = lines[*at].trim_start();
                let variant = is_enum && lines[*at].starts_with("    ") && line.starts_with(char::is_uppercase);
                line.starts_with("pub ") || variant
            });
            for at in members.chain(inside) {
                if comment_above(&lines, at).is_empty() {
                    wrong.push(format!("{}:{}: {name}: {}", path.display(), at + 1, lines[at].trim()));
                }
            }
        }
    }
    assert!(types >= 20, "the types are found at all");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The lines of the comment above a line, attributes passed over.
fn comment_above<'t>(lines: &[&'t str], at: usize) -> Vec<&'t str> {
    let above = lines[..at].iter().rev().map(|line| line.trim_start());
    above.skip_while(|line| line.starts_with("#[")).take_while(|line| line.starts_with("///")).collect()
}

/// A number without its unit is half a number. `missing_docs` asks for a comment at every public item; this asks the
/// formulas what their comments say.
#[test]
fn what_computes_says_its_unit_and_its_source() {
    let units = ["in C", "Pa", "kg/m2", "kg/(m2 s)", "m2 K/W", "W/(m2 K)", ", m.", "in m ", "0 to 1"];
    let standards = ["ISO ", "DIN ", "ASHRAE", "IECC", "AISI"];
    let mut wrong = Vec::new();
    let mut seen = 0;
    for (path, text) in sources() {
        if module(&path).as_deref() != Some("physics") {
            continue;
        }
        let body = text.split("#[cfg(test)]").next().unwrap_or("");
        let mut comment = String::new();
        let mut computes = false;
        for line in body.lines().map(str::trim) {
            if let Some(words) = line.strip_prefix("///") {
                comment.push_str(words);
                comment.push(' ');
            } else if line.starts_with("pub fn") && line.rsplit("->").next().is_some_and(|gives| gives.contains("f64"))
            {
                (seen, computes) = (seen + 1, true);
                if !units.iter().any(|unit| comment.contains(unit)) {
                    wrong.push(format!("{}: {line}: in which unit?", path.display()));
                }
            } else if !line.starts_with("#[") {
                comment.clear();
            }
        }
        if computes && !standards.iter().any(|name| body.contains(name)) {
            wrong.push(format!("{}: which standard or handbook?", path.display()));
        }
    }
    assert!(seen > 10, "the formulas are found at all");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
