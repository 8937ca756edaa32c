//! The book of `docs/`: what its pages show is what the program reads, finds and prints, and no link is broken.

mod block;
mod links;

use std::fs;
use std::path::{Path, PathBuf};

use crate::book::block::Blocks;

/// A page that is written by hand. The pages of the rules are made, and are not among them.
pub struct Page {
    /// From `docs/src`, such as `language/pieces.md`.
    pub name: String,
    pub text: String,
}

impl Page {
    pub fn stem(&self) -> &str {
        self.name.rsplit('/').next().unwrap_or_default().trim_end_matches(".md")
    }
}

fn source() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/docs/src"))
}

pub fn pages() -> Vec<Page> {
    let mut folders = vec![source().to_path_buf()];
    let mut files: Vec<PathBuf> = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder of the book") {
            let path = entry.expect("an entry").path();
            match path.is_dir() {
                true if path == source().join("rules") || path == source().join("pictures") => {}
                true => folders.push(path),
                false => files.extend(Some(path).filter(|path| path.extension().is_some_and(|ending| ending == "md"))),
            }
        }
    }
    files.sort();
    let name = |path: &Path| path.strip_prefix(source()).expect("below it").to_string_lossy().replace('\\', "/");
    files.iter().map(|path| Page { name: name(path), text: fs::read_to_string(path).expect("a page") }).collect()
}

#[test]
fn every_block_does_what_its_page_says() {
    let mut problems = Vec::new();
    for page in pages() {
        problems.extend(Blocks::of(&page).problems());
    }
    assert!(problems.is_empty(), "{}", problems.join("\n"));
}

#[test]
fn no_link_is_broken() {
    let pages = pages();
    let problems: Vec<String> = pages.iter().flat_map(|page| links::problems(page, &pages)).collect();
    assert!(problems.is_empty(), "{}", problems.join("\n"));
}

#[test]
fn the_links_of_the_readme_lead_to_files() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let readme = fs::read_to_string(root.join("README.md")).expect("a README");
    let links: Vec<&str> = links::targets(&readme).collect();
    assert!(links.len() > 10, "{links:?}");
    for link in links {
        assert!(root.join(link).is_file(), "README.md, {link}");
    }
}

#[test]
fn the_summary_names_every_page_and_every_topic_once() {
    let pages = pages();
    let summary = &pages.iter().find(|page| page.name == "SUMMARY.md").expect("a summary").text;
    let mut wanted: Vec<String> =
        pages.iter().filter(|page| page.name != "SUMMARY.md").map(|page| page.name.clone()).collect();
    wanted.extend(links::made_pages());
    for name in wanted {
        assert_eq!(summary.matches(&format!("]({name})")).count(), 1, "SUMMARY.md, {name}");
    }
}

#[test]
fn every_setting_and_every_command_has_its_line() {
    let page = |name: &str| fs::read_to_string(source().join(name)).expect("a page");
    let settings = page("running/settings.md");
    for key in headlap::project::SETTINGS_KEYS {
        let row = [format!("| `{key}` |"), format!("| `[{key}."), format!("| `[[{key}]]` |")];
        assert!(row.iter().any(|row| settings.contains(row)), "settings.md, {key}");
    }
    let (_, help, _) = crate::command::run(source(), &["--help"]);
    let commands = page("running/commands.md");
    let listed = help.split("Commands:").nth(1).expect("commands").split("\n\n").next().expect("a list").to_owned();
    let names = listed.lines().filter_map(|line| line.strip_prefix("  ")?.split_whitespace().next());
    let names: Vec<&str> = names.filter(|name| name.starts_with(|letter: char| letter.is_ascii_lowercase())).collect();
    assert!(names.contains(&"review") && names.len() > 10, "{help}");
    for name in names.into_iter().filter(|name| listed.lines().any(|line| line.starts_with(&format!("  {name} ")))) {
        assert!(commands.contains(&format!("| `headlap {name}")), "commands.md, {name}");
    }
}

/// A check that cannot fail checks nothing.
#[test]
fn each_check_fails_on_a_break() {
    let wall = "assembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }\n";
    let reverse = format!(
        "```detail\n{wall}detail A course joins W {{\n  piece deck plywood of W\n  piece up wrap-open of W up from 0 mm\n  \
         piece low wrap-open of W up to 150 mm\n  piece t acrylic-tape up -40 mm to 40 mm bonds up, low rolled\n}}\n```\n"
    );
    for (what, text) in [
        ("a block without a language", "```\nanything\n```\n".to_owned()),
        ("a language that nobody checks", "```yaml\na: 1\n```\n".to_owned()),
        ("a detail with a finding that the page does not show", reverse.clone()),
        ("a finding that the page does not show", format!("{reverse}\n```text\n…\n```\n")),
        ("a line that is not printed", format!("{reverse}\n```text\nreverse-lap is made up\n```\n")),
        ("an unknown word", "```detail,body\npeice a plywood\n```\n".to_owned()),
        ("an unknown property", "```detail,material\nholds wind\n```\n".to_owned()),
        ("an unknown setting", "```toml,settings\nfailon = \"error\"\n```\n".to_owned()),
        ("an adjusted rule that there is not", "```toml,settings\n[adjust.no-rule]\nbecause = \"x\"\noff = true\n```\n".to_owned()),
        ("a rule without examples", "```toml,rule\n[[rule]]\nid = 'a'\ntitle = 'a'\nlevel = 'note'\nabout = 'lap'\nneeds = 'sealed'\nsays = 'a'\n```\n".to_owned()),
        ("an unknown option", "```sh\nheadlap review . --no-such-option\n```\n".to_owned()),
        ("an unknown option of a form", "```sh,form\nheadlap review . --no-such-option\n```\n".to_owned()),
        ("a path that is not there", "```sh\nheadlap review nowhere\n```\n".to_owned()),
        ("another program", "```sh\nrm -r .\n```\n".to_owned()),
        ("output that is not printed", "```sh\nheadlap --version\n```\n\n```text\nheadlap 99\n```\n".to_owned()),
        ("JSON that is none", "```json,findings\n{\n```\n".to_owned()),
        ("JSON that does not fit", "```json,findings\n{ \"files\": \"one\" }\n```\n".to_owned()),
    ] {
        let page = Page { name: "broken.md".to_owned(), text };
        assert!(!Blocks::of(&page).problems().is_empty(), "{what}");
    }
    for (what, text) in [
        ("no such page", "[a](nowhere.md)"),
        ("no such topic", "[a](rules/no-topic.md)"),
        ("no such rule", "[a](rules/laps.md#no-rule)"),
        ("no such heading", "[a](#no-heading)"),
        ("no such picture", "![a](pictures/broken/Z-section.svg)"),
        ("a picture of another page", "![a](pictures/start/A2-section.svg)"),
    ] {
        let page = Page { name: "broken.md".to_owned(), text: format!("# Heading\n\n{text}\n") };
        assert!(!links::problems(&page, &pages()).is_empty(), "{what}");
    }
}
