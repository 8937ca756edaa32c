//! Changes that do no harm: the building stays the same, or gets better where it was good.

use headlap::syntax::{Item, Keyword};
use headlap::tidy::tidy;

use super::text::{Edit, Page, Splices};

/// A text after a change, and what was done.
pub struct Change {
    pub what: String,
    pub text: String,
}

type Made = fn(&Page) -> Vec<Change>;

pub const CHANGES: &[(&str, Made)] = &[
    ("piece renamed", renamed),
    ("comments and blank lines", commented),
    ("lengths in meters", in_meters),
    ("inches in millimeters", in_millimeters),
    ("tidied", tidied),
    ("items in another order", turned_round),
    ("line ends of another system", other_line_ends),
    ("independent steps exchanged", exchanged),
    ("longer laps", longer),
    ("two at once: renamed and tidied", |page| then(renamed(page), tidied)),
    ("two at once: in meters with comments", |page| then(in_meters(page), commented)),
    ("two at once: tidied, then other line ends", |page| then(tidied(page), other_line_ends)),
    ("two at once: longer laps in meters", |page| then(longer(page), in_meters)),
];

/// A second change upon each text of a first.
fn then(first: Vec<Change>, second: Made) -> Vec<Change> {
    first
        .into_iter()
        .flat_map(|change| {
            let page = Page::read("changed", &change.text);
            second(&page)
                .into_iter()
                .map(move |again| Change { what: format!("{}, {}", change.what, again.what), ..again })
        })
        .collect()
}

fn details(page: &Page) -> impl Iterator<Item = &Item> {
    page.document.items.iter().filter(|item| item.head.keyword == Keyword::Detail)
}

fn renamed(page: &Page) -> Vec<Change> {
    let mut changes = Vec::new();
    for item in details(page) {
        for piece in item.body.iter().filter(|statement| statement.keyword == Keyword::Piece) {
            let Some(name) = piece.names.first.map(|name| page.source.at(name)) else { continue };
            let mut splices = Splices::default();
            for mention in page.mentions(item, name) {
                splices.put(mention.range(), "x-renamed");
            }
            changes
                .push(Change { what: format!("{} {name}", page.name(item)), text: splices.apply(&page.source.text) });
        }
    }
    changes
}

fn commented(page: &Page) -> Vec<Change> {
    let mut splices = Splices::default();
    for statement in page.document.items.iter().flat_map(|item| &item.body) {
        let end = page.lines(statement.span).end;
        splices.put(end..end, "\n  # piece low wrap up to 0 mm }\n");
    }
    vec![Change { what: "every statement".to_owned(), text: splices.apply(&page.source.text) }]
}

/// Lengths of clauses in millimeters, in meters: only the point moves, so the value is the same to the last digit.
fn in_meters(page: &Page) -> Vec<Change> {
    converted(page, "mm", "m", |words| {
        let (sign, digits) = words.strip_prefix('-').map_or(("", words), |rest| ("-", rest));
        let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
        let whole = format!("{whole:0>4}");
        let (before, after) = whole.split_at(whole.len() - 3);
        Some(format!("{sign}{before}.{after}{part}"))
    })
}

/// Whole and broken inches in millimeters: an inch is 25.4 mm, and eighths of it end.
fn in_millimeters(page: &Page) -> Vec<Change> {
    converted(page, "in", "mm", |words| {
        let (sign, digits) = words.strip_prefix('-').map_or((1, words), |rest| (-1, rest));
        let (whole, part) =
            digits.split_once('-').unwrap_or(if digits.contains('/') { ("0", digits) } else { (digits, "0/8") });
        let (over, under) = part.split_once('/')?;
        let number = |text: &str| text.parse::<i64>().ok();
        let eighths = number(whole)? * 8 + number(over)? * (8 / number(under)?);
        // An eighth of an inch is 3.175 mm.
        let thousandths = sign * eighths * 3175;
        Some(format!(
            "{}{}.{:03}",
            if thousandths < 0 { "-" } else { "" },
            thousandths.abs() / 1000,
            thousandths.abs() % 1000
        ))
    })
}

/// Each number before the unit `from`, within statements of details and layers, as `to`.
fn converted(page: &Page, from: &str, to: &str, number: impl Fn(&str) -> Option<String>) -> Vec<Change> {
    let (mut splices, mut some) = (Splices::default(), false);
    for statement in page.document.items.iter().flat_map(|item| &item.body) {
        let words = page.source.at(statement.span);
        if words.contains('"') {
            continue;
        }
        let tokens: Vec<&str> = words.split_whitespace().collect();
        for pair in tokens.windows(2) {
            let is_number = pair[0].trim_start_matches('-').starts_with(|letter: char| letter.is_ascii_digit());
            if pair[1].trim_end_matches(';') != from || !is_number {
                continue;
            }
            let Some(changed) = number(pair[0]) else { continue };
            let place = |token: &str| statement.span.range().start + (token.as_ptr().addr() - words.as_ptr().addr());
            splices.put(place(pair[0])..place(pair[0]) + pair[0].len(), &changed);
            splices.put(place(pair[1])..place(pair[1]) + from.len(), to);
            some = true;
        }
    }
    if some {
        vec![Change { what: format!("{from} in {to}"), text: splices.apply(&page.source.text) }]
    } else {
        Vec::new()
    }
}

fn tidied(page: &Page) -> Vec<Change> {
    let text = tidy(&page.source).unwrap_or_else(|_| panic!("{} can be read", page.source.name));
    vec![Change { what: "laid out".to_owned(), text }]
}

/// Items stand in any order; includes stay before what needs them.
fn turned_round(page: &Page) -> Vec<Change> {
    let items = &page.document.items;
    let (includes, others): (Vec<&Item>, Vec<&Item>) =
        items.iter().partition(|item| item.head.keyword == Keyword::Include);
    if others.len() < 2 {
        return Vec::new();
    }
    let texts = includes.into_iter().chain(others.into_iter().rev()).map(|item| page.source.at(item.span));
    vec![Change { what: "last first".to_owned(), text: texts.collect::<Vec<_>>().join("\n") + "\n" }]
}

fn other_line_ends(page: &Page) -> Vec<Change> {
    vec![Change { what: "CR LF".to_owned(), text: page.source.text.replace("\r\n", "\n").replace('\n', "\r\n") }]
}

/// Steps that touch nothing of each other, so that either may come first.
const INDEPENDENT: &[(&str, &str, &str)] = &[
    ("A1", "piece deck", "piece stem"),
    ("A1", "exposed", "piece stem"),
    ("B1", "piece wool", "piece foam"),
    ("B1", "grade", "exposed"),
    ("B2", "piece board", "piece stem"),
    ("B2", "weeps", "piece veneer"),
    ("C1", "exposed", "sheet"),
    ("C1", "fasten low", "piece band"),
    ("K1", "fasten left", "fasten right"),
    ("K3", "piece board-r", "piece board-l"),
    ("O1-W1", "piece dam-r", "piece dam-l"),
    ("O1-W1", "piece jamb-r", "piece jamb-l"),
    ("O1-W1", "fold along 900 mm", "fold up 0 mm"),
    ("O2-W1", "piece jamb-r", "piece jamb-l"),
    ("P1", "piece side-r", "piece side-l"),
    ("WR1", "piece roof", "piece deck"),
    ("WR1", "piece kraft", "piece wool"),
    ("RW1", "piece deck", "piece roof"),
    ("RW1", "seal wrap to step", "seal wrap to kick"),
    ("X1", "piece deck", "piece brick"),
    ("X2", "piece deck", "piece brick"),
    ("F1-E0", "piece stem", "piece old"),
    ("G1-F1", "seal cover-2 to stem", "seal cover-2 to cover-1"),
];

fn exchanged(page: &Page) -> Vec<Change> {
    listed(page, INDEPENDENT.iter().map(|(item, moved, place)| (*item, *moved, Edit::Before(place))))
}

/// More of a good thing. C2 is not among them: its waiver would lie idle.
const LONGER: &[(&str, &str, &str, &str)] = &[
    ("A1", "piece wrap", "up from -25 mm", "up from -60 mm"),
    ("B1", "piece wrap", "up from -25 mm", "up from -60 mm"),
    ("C1", "piece low", "up to 150 mm", "up to 190 mm"),
    ("K1", "piece left", "along to 300 mm", "along to 340 mm"),
    ("S1", "piece left", "along to 160 mm", "along to 300 mm"),
    ("L1", "piece low", "up to 250 mm", "up to 290 mm"),
    ("L1", "piece cap", "to 150 mm", "to 180 mm"),
    ("P1", "piece low", "up to 250 mm", "up to 290 mm"),
    ("O1-W1", "piece low", "up to 1650 mm", "up to 1690 mm"),
    ("O1-W1", "piece top", "1490 mm", "1500 mm"),
    ("O2-W1", "piece low", "up to 850 mm", "up to 890 mm"),
    ("WR1", "piece wrap", "up to 150 mm", "up to 200 mm"),
    ("WR1", "piece retarder", "up from -100 mm", "up from -200 mm"),
    ("RW1", "piece membrane", "up to 250 mm", "up to 320 mm"),
    ("RW1", "piece step", "up -110 mm", "up -150 mm"),
    ("RW2", "piece step", "up -110 mm", "up -150 mm"),
    ("V1", "piece edge", "to 100 mm", "to 150 mm"),
    ("G1-F1", "piece cover-1", "along to 300 mm", "along to 500 mm"),
    ("G1-F1", "piece cover-2", "up to 200 mm", "up to 300 mm"),
    ("X1", "piece corner", "along -100 mm to 100 mm", "along -140 mm to 100 mm"),
    ("F1-E0", "piece joint", "along -150 mm to 150 mm", "along -250 mm to 250 mm"),
    ("B2", "piece coat", "up from 4 in", "up from 2 in"),
    ("K3", "piece strip", "along -2 in to 2 in", "along -4 in to 4 in"),
];

fn longer(page: &Page) -> Vec<Change> {
    listed(page, LONGER.iter().map(|(item, statement, from, to)| (*item, *statement, Edit::Swap(from, to))))
}

fn listed<'p>(page: &'p Page, edits: impl Iterator<Item = (&'p str, &'p str, Edit)>) -> Vec<Change> {
    edits
        .filter_map(|(name, begins, edit)| {
            let item = page.item(name)?;
            let statement = page.statements(item, begins).next().unwrap_or_else(|| panic!("{name} has `{begins}`"));
            let text = page.edited(item, statement, edit).unwrap_or_else(|| panic!("{name}, `{begins}`: no place"));
            Some(Change { what: format!("{name} {begins}"), text })
        })
        .collect()
}
