//! Links between the pages, to the pages that are made from the rules, and to the pictures that are drawn.

use headlap::output::by_topic;

use crate::book::Page;
use crate::review::pack;

/// The pages that `headlap rules book` writes.
pub fn made_pages() -> Vec<String> {
    let topics = by_topic(pack()).into_keys().map(str::to_owned);
    topics
        .chain(["index", "text", "fields", "sources", "words"].map(str::to_owned))
        .map(|name| format!("rules/{name}.md"))
        .collect()
}

pub fn problems(page: &Page, pages: &[Page]) -> Vec<String> {
    let mut problems = Vec::new();
    for target in targets(&page.text) {
        let found = if target.starts_with("https://") { None } else { leads_nowhere(page, target, pages) };
        problems.extend(found.map(|why| format!("{}: {target}: {why}", page.name)));
    }
    problems
}

/// What stands in the round brackets of links and pictures.
pub fn targets(text: &str) -> impl Iterator<Item = &str> {
    let outside = text.split("```").step_by(2);
    outside.flat_map(|part| part.split("](").skip(1)).filter_map(|rest| rest.split(')').next())
}

fn leads_nowhere(page: &Page, target: &str, pages: &[Page]) -> Option<String> {
    let (path, place) = target.split_once('#').map_or((target, None), |(path, place)| (path, Some(place)));
    let path = if path.is_empty() { page.name.clone() } else { joined(&page.name, path) };
    if let Some(picture) = path.strip_prefix("pictures/") {
        return no_picture(page, picture);
    }
    if path.starts_with("rules/") {
        let made = made_pages().contains(&path);
        let rule = |id: &str| pack().rule(id).is_some_and(|rule| format!("rules/{}.md", pack().topic(rule)) == path);
        let text = |id: &str| path == "rules/text.md" && headlap::finding::page(id).is_some();
        return match place {
            _ if !made => Some("no topic makes this page".to_owned()),
            Some(id) if !rule(id) && !text(id) => Some("no rule of this topic".to_owned()),
            _ => None,
        };
    }
    let own = if path == page.name { Some(page) } else { pages.iter().find(|other| other.name == path) };
    let Some(to) = own else { return Some("no such page".to_owned()) };
    let place = place?;
    let headings = to.text.split("```").step_by(2).flat_map(str::lines).filter(|line| line.starts_with('#'));
    let mut slugs = headings.map(|line| slug(line.trim_start_matches('#').trim()));
    (!slugs.any(|slug| slug == place)).then(|| "no such heading".to_owned())
}

/// The path from `docs/src` that a path on a page means.
fn joined(page: &str, path: &str) -> String {
    let mut parts: Vec<&str> = page.split('/').collect();
    parts.pop();
    for part in path.split('/') {
        match part {
            ".." => _ = parts.pop(),
            "." => {}
            part => parts.push(part),
        }
    }
    parts.join("/")
}

/// The place of a heading, as mdBook calls it.
fn slug(heading: &str) -> String {
    let kept = heading.chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'));
    kept.map(|c| if c == ' ' { '-' } else { c.to_ascii_lowercase() }).collect()
}

/// `scripts/book` draws the details of a page for that page, and the demo library for all.
fn no_picture(page: &Page, picture: &str) -> Option<String> {
    let (folder, file) = picture.split_once('/')?;
    let views = ["-section.svg", "-face.svg", "-assembly.svg"];
    let Some(name) = views.iter().find_map(|view| file.strip_suffix(view)) else {
        return Some("no view of this name is drawn".to_owned());
    };
    let item = if file.ends_with("-assembly.svg") { "assembly" } else { "detail" };
    let text = match folder {
        "millrace" => demo(),
        folder if folder == page.stem() => page.text.clone(),
        _ => return Some("drawn for another page".to_owned()),
    };
    let drawn = text.lines().any(|line| line.starts_with(&format!("{item} {name} ")));
    (!drawn).then(|| format!("there is no {item} {name} to draw"))
}

fn demo() -> String {
    let folder =
        std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/millrace")).expect("the demo library");
    folder.map(|entry| std::fs::read_to_string(entry.expect("an entry").path()).expect("a text")).collect()
}
