//! What comes of a request.

use headlap::{Checker, FileId, Item, ItemKind, Review, Source, Texts};
use serde::Serialize;

use crate::request::{Request, Shown};

/// The answer to a request, as JSON.
pub fn to(checker: &Checker, request: &[u8]) -> Vec<u8> {
    let done = match serde_json::from_slice(request) {
        Err(error) => json(&Answer { trouble: Some(error.to_string()), ..Answer::default() }),
        Ok(Request::Tidy { text }) => json(&tidied(text)),
        Ok(Request::Review(shown)) => of_review(checker, &shown, |review, items, at| {
            let drawings = at.map_or_else(Vec::new, |at| {
                let bare = at.bare_drawings();
                bare.iter().map(|d| Drawn { title: d.title().into(), svg: d.element() }).collect()
            });
            Answer {
                report: Some(review.json()),
                items,
                at: at.map(|at| at.name().into()),
                drawings,
                ..Answer::default()
            }
        }),
        Ok(Request::Drawings(shown)) => of_review(checker, &shown, |_, _, at| {
            let whole = at.map_or_else(Vec::new, Item::drawings);
            let drawings = whole.iter().map(|d| Drawn { title: d.title().into(), svg: d.svg() }).collect();
            Answer { at: at.map(|at| at.name().into()), drawings, ..Answer::default() }
        }),
        Ok(Request::Report(shown)) => {
            of_review(checker, &shown, |review, _, _| Answer { page: Some(review.html()), ..Answer::default() })
        }
    };
    done.unwrap_or_else(|error| format!("{{\"trouble\":\"{error}\"}}").into_bytes())
}

#[derive(Default, Serialize)]
struct Answer {
    /// Why it could not be done.
    trouble: Option<String>,
    /// The findings, as the program writes them.
    report: Option<String>,
    /// The details and assemblies of the file.
    items: Vec<Entry>,
    /// The one that the cursor is in.
    at: Option<String>,
    drawings: Vec<Drawn>,
    /// A whole HTML page.
    page: Option<String>,
    /// A text in its layout.
    text: Option<String>,
}

#[derive(Serialize)]
struct Entry {
    name: String,
    kind: &'static str,
    line: usize,
}

#[derive(Serialize)]
struct Drawn {
    title: String,
    svg: String,
}

fn json(answer: &Answer) -> serde_json::Result<Vec<u8>> {
    serde_json::to_vec(answer)
}

fn tidied(text: String) -> Answer {
    match headlap::tidy(&Source::new(FileId::detail(0), "text", text)) {
        Ok(text) => Answer { text: Some(text), ..Answer::default() },
        Err(_) => {
            let trouble = "This text cannot be read whole, so nothing was moved. Correct what the findings name first.";
            Answer { trouble: Some(trouble.to_owned()), ..Answer::default() }
        }
    }
}

fn of_review(
    checker: &Checker,
    shown: &Shown,
    answer: impl FnOnce(&Review, Vec<Entry>, Option<&Item>) -> Answer,
) -> serde_json::Result<Vec<u8>> {
    let Ok(today) = shown.today.parse() else {
        return json(&Answer { trouble: Some(format!("{} is no day", shown.today)), ..Answer::default() });
    };
    let mut texts = Texts::new();
    shown.files.iter().for_each(|(name, text)| texts.add(name.as_str(), text.as_str()));
    let review = checker.review(&texts, [shown.name.as_str()], today);
    let placed = review.items().filter_map(|item| Some((review.line(&shown.name, item.span())?, item)));
    let mut items: Vec<(usize, Item)> = placed.collect();
    items.sort_by_key(|(line, _)| *line);
    let entries = items.iter().map(|(line, item)| {
        let kind = if item.kind() == ItemKind::Detail { "detail" } else { "assembly" };
        Entry { name: item.name().into(), kind, line: *line }
    });
    let entries = entries.collect();
    // Above the first one, the first one is shown.
    let at = items.iter().rfind(|(line, _)| *line <= shown.line).or(items.first());
    json(&answer(&review, entries, at.map(|(_, item)| item)))
}
