//! What comes of a request.

use headlap::{Checker, Date, FileId, Item, ItemKind, Position, Report, Review, Source, Texts};
use serde::Serialize;

use crate::request::{Request, Shown};
use crate::rules::Rules;

/// The answer to a request, as JSON.
pub fn to(rules: &mut Rules, request: &[u8]) -> Vec<u8> {
    let done = match serde_json::from_slice(request) {
        Err(error) => json(&Answer { trouble: Some(error.to_string()), ..Answer::default() }),
        Ok(Request::Tidy { text }) => json(&tidied(text)),
        Ok(Request::Review(shown)) => of_review(rules, &shown, |review, items, at| {
            let drawings = at.map_or_else(Vec::new, |at| {
                let bare = at.bare_drawings();
                bare.iter().map(|d| Drawn { title: d.title().into(), svg: d.element() }).collect()
            });
            Answer {
                report: Some(review.json()),
                items,
                at: at.map(|at| at.name().into()),
                drawings,
                statements: at.map_or_else(Vec::new, |at| review.statements(at)),
                ..Answer::default()
            }
        }),
        Ok(Request::Cures { shown, finding }) => with(rules, &shown, |asked| {
            let review = asked.review(&shown);
            let cures = asked.checker.cures(&asked.texts, &review, finding, asked.today);
            let place = |at| review.report().place(at).map(|(_, at)| at);
            let edits = |cure: &headlap::Cure| {
                let edits = cure.edits.iter().filter_map(|edit| {
                    let source = review.report().source(edit.span)?;
                    let end = source.position(edit.span.end as usize);
                    place(edit.span).map(|start| Changed { place: Place::of(start, end), text: edit.text.clone() })
                });
                edits.collect()
            };
            let cures =
                cures.iter().map(|cure| Mended { title: cure.title.clone(), proved: cure.proved, edits: edits(cure) });
            Answer { cures: cures.collect(), ..Answer::default() }
        }),
        Ok(Request::About { shown, column }) => with(rules, &shown, |asked| {
            let review = asked.review(&shown);
            let source =
                Source::new(FileId::detail(0), "text", shown.files.get(&shown.name).map_or("", String::as_str));
            let line =
                source.text.split_inclusive('\n').take(shown.line.saturating_sub(1)).map(str::len).sum::<usize>();
            let within = source.text[line..].chars().take(column.saturating_sub(1)).map(char::len_utf8).sum::<usize>();
            let told = asked.checker.about(&asked.texts, &review, &shown.name, line + within);
            let about = told.map(|(words, span)| {
                let at = |place: u32| source.position(place as usize);
                About { words, place: span.map(|span| Place::of(at(span.start), at(span.end))) }
            });
            Answer { about, ..Answer::default() }
        }),
        Ok(Request::Drawings(shown)) => of_review(rules, &shown, |_, _, at| {
            let whole = at.map_or_else(Vec::new, Item::drawings);
            let drawings = whole.iter().map(|d| Drawn { title: d.title().into(), svg: d.svg() }).collect();
            Answer { at: at.map(|at| at.name().into()), drawings, ..Answer::default() }
        }),
        Ok(Request::Report(shown)) => {
            of_review(rules, &shown, |review, _, _| Answer { page: Some(review.html()), ..Answer::default() })
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
    /// The lines of the pieces, or layers, that the drawings number.
    statements: Vec<usize>,
    /// The fixes of a finding.
    cures: Vec<Mended>,
    about: Option<About>,
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

#[derive(Serialize)]
struct Mended {
    title: String,
    proved: bool,
    edits: Vec<Changed>,
}

/// Words that go, and those that come.
#[derive(Serialize)]
struct Changed {
    #[serde(flatten)]
    place: Place,
    text: String,
}

#[derive(Serialize)]
struct About {
    words: String,
    #[serde(flatten)]
    place: Option<Place>,
}

/// As findings have it: from 1, columns in characters.
#[derive(Serialize)]
struct Place {
    line: usize,
    column: usize,
    end_line: usize,
    end_column: usize,
}

impl Place {
    fn of(start: Position, end: Position) -> Place {
        Place { line: start.line, column: start.column, end_line: end.line, end_column: end.column }
    }
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

/// What a request is about.
struct Asked<'r> {
    checker: &'r Checker,
    texts: Texts,
    today: Date,
}

impl Asked<'_> {
    fn review(&self, shown: &Shown) -> Review<'_> {
        self.checker.review(&self.texts, [shown.name.as_str()], self.today)
    }
}

fn with(rules: &mut Rules, shown: &Shown, answer: impl FnOnce(&Asked<'_>) -> Answer) -> serde_json::Result<Vec<u8>> {
    let Ok(today) = shown.today.parse() else {
        return json(&Answer { trouble: Some(format!("{} is no day", shown.today)), ..Answer::default() });
    };
    let checker = match rules.of(shown) {
        Ok(checker) => checker,
        // Nothing was reviewed: there is nothing to report but what is wrong with the settings.
        Err(report) => return json(&Answer { trouble: Some(refused(report)), ..Answer::default() }),
    };
    let mut texts = Texts::new();
    shown.files.iter().for_each(|(name, text)| texts.add(name.as_str(), text.as_str()));
    json(&answer(&Asked { checker, texts, today }))
}

fn refused(report: &Report) -> String {
    let told = report.findings.iter().map(|finding| {
        let place =
            report.place(finding.span).map_or(String::new(), |(file, at)| format!("{file}, line {}: ", at.line));
        let fix = finding.fix.as_deref().map_or(String::new(), |fix| format!(" {fix}"));
        format!("{place}{}.{fix}", finding.message)
    });
    format!("The settings cannot be used, so nothing was reviewed. {}", told.collect::<Vec<_>>().join(" "))
}

fn of_review(
    rules: &mut Rules,
    shown: &Shown,
    answer: impl FnOnce(&Review, Vec<Entry>, Option<&Item>) -> Answer,
) -> serde_json::Result<Vec<u8>> {
    with(rules, shown, |asked| {
        let review = asked.review(shown);
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
        answer(&review, entries, at.map(|(_, item)| item))
    })
}
