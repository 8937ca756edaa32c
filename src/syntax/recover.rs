//! Reads as much of a statement as it can, and reports where it cannot.

use crate::finding::Edit;
use crate::syntax::build::{Draft, slot_at};
use crate::syntax::clause::Slot;
use crate::syntax::document::Keyword;
use crate::syntax::form::Form;
use crate::syntax::grammar::{A_QUANTITY, LONGEST, Rule, read, stopped};
use crate::syntax::measure::{habit, want_of};
use crate::syntax::problem::{MOST_OF_A_KIND, Problem, short};
use crate::syntax::quick;
use crate::text::nearest;

/// Reads the head of a statement: the line with its keyword. Whether it could be read as far as its names.
pub fn head(draft: &mut Draft<'_>, start: usize, end: usize) -> bool {
    let text = draft.text;
    let rule = draft.form.rule;
    if draft.quick && quick::line(draft, start, end) {
        return true;
    }
    if let Some(line) = read(rule, &text[start..end]) {
        let stopped = start + line.as_span().end();
        draft.line(line, start);
        clauses(draft, stopped, end);
        return true;
    }
    if end - start > LONGEST {
        let span = draft.at(start, word_end(text, start, end));
        draft.refuse(Problem::Syntax, span, "the statement that begins here is too long".to_owned());
    } else {
        let phrase = want_of(draft.form.keyword).phrase;
        complain(draft, start, end, rule, phrase, draft.form.shape);
    }
    false
}

/// Reads clauses from `at` to `end`. Reports a clause that it cannot read, and goes on at the next known word.
pub fn clauses(draft: &mut Draft<'_>, mut at: usize, end: usize) {
    let text = draft.text;
    let before = draft.problems.count(Problem::Syntax);
    loop {
        at += text[at..end].len() - text[at..end].trim_start_matches(blank).len();
        if at >= end {
            return;
        }
        if end - at > LONGEST || draft.problems.count(Problem::Syntax) - before > MOST_OF_A_KIND {
            draft.doubtful = true;
            return;
        }
        let word_end = word_end(text, at, end);
        let Some(slot) = slot_at(draft.form, &text[at..word_end]) else {
            let skipped = next_clause(draft.form, text, word_end, end);
            stray(draft, at, trimmed(text, at, skipped));
            at = skipped;
            continue;
        };
        match read(slot.rule(), &text[at..end]) {
            Some(pair) => {
                let stopped = at + pair.as_span().end();
                draft.clause(pair, at);
                at = stopped;
            }
            None => {
                if !one_place(draft, slot, at, end) {
                    complain(draft, at, end, slot.rule(), slot.want(true).phrase, slot.shape());
                }
                draft.met.put(slot);
                at = next_clause(draft.form, text, word_end, end);
            }
        }
    }
}

/// Reports a single place where a range is expected, as people write it for a row of fasteners.
fn one_place(draft: &mut Draft<'_>, slot: Slot, at: usize, end: usize) -> bool {
    let text = draft.text;
    let point = match slot {
        Slot::Up => Rule::up_at,
        Slot::Along => Rule::along_at,
        _ => return false,
    };
    let Some(written) = read(point, &text[at..end]) else { return false };
    let stop = at + written.as_span().end();
    let after = text[stop..end].trim_start_matches(blank);
    if !after.is_empty() && slot_at(draft.form, &after[..word_end(after, 0, after.len())]).is_none() {
        return false;
    }
    let words = &text[at..stop];
    let (word, place) = words.split_once(blank).unwrap_or((words, ""));
    let place = place.trim_start_matches(blank);
    let message = format!("`{}` is a single place; expected a range for `{}`", short(words), draft.form.word);
    let mut fix = format!("Write `{word} from {place}`, `{word} to {place}`, or both ends as in `{}`.", slot.shape());
    if draft.form.keyword == Keyword::Fasten {
        fix += &format!(" A single row is a narrow band: at 100 mm, `{word} 90 mm to 110 mm`.");
    }
    draft.doubtful = true;
    draft.problems.add(Problem::Syntax, Problem::Syntax.at(draft.at(at, stop), message).fix(fix));
    true
}

/// Reports the required clauses that are missing.
pub fn required(draft: &mut Draft<'_>) {
    // What is missing may be what could not be read.
    if draft.doubtful {
        return;
    }
    for slot in draft.form.required {
        if !draft.met.has(*slot) {
            let word = draft.form.word;
            let message = if *slot == Slot::Because {
                "this waiver gives no reason".to_owned()
            } else {
                format!("this `{word}` is missing `{} …`", slot.word().unwrap_or_default())
            };
            let finding = Problem::Syntax.at(draft.span, message).fix(format!("Write `{}`.", draft.form.shape));
            draft.problems.add(Problem::Syntax, finding);
            draft.met.put(*slot);
            draft.doubtful = true;
        }
    }
}

/// One finding for a statement that stopped short: under the word where reading stopped, or under the last word when the line ends too early.
fn complain(draft: &mut Draft<'_>, start: usize, end: usize, rule: Rule, quantity: &str, shape: &str) {
    let text = draft.text;
    draft.doubtful = true;
    if draft.problems.full(Problem::Syntax) {
        return draft.problems.add(Problem::Syntax, Problem::Syntax.at(draft.at(start, end), ""));
    }
    let stopped = stopped(rule, &text[start..end]);
    let mut at = (start + stopped.at).min(end);
    let before = text[start..at].chars().next_back();
    if at < end && before.is_some_and(|c| !blank(c)) && text[at..].starts_with(blank) {
        // Stopped at the end of a word, which is then the one that was refused.
        at -= before.map_or(0, char::len_utf8);
    }
    let at = at + text[at..end].len() - text[at..end].trim_start_matches(blank).len();
    let named = |expected: &String| if expected == A_QUANTITY { quantity.to_owned() } else { expected.clone() };
    let expected = stopped.expected.iter().map(named).collect::<Vec<_>>().join(" or ");
    let mut drawn = None;
    let (span, message) = if at >= end {
        let last = last_word(text, start, end);
        let words = &text[last.0..last.1];
        let message = if open_quote(words) {
            OPEN_QUOTE.to_owned()
        } else if expected.is_empty() {
            format!("something is missing after `{}`", short(words))
        } else {
            format!("expected {expected} after `{}`", short(words))
        };
        (draft.at(last.0, last.1), message)
    } else {
        // A rule may stop inside a word; the whole word is at fault.
        let first = word_start(text, start, at);
        let last = word_end(text, first, end);
        let words = &text[first..last];
        let message = if open_quote(words) {
            OPEN_QUOTE.to_owned()
        } else if expected.is_empty() {
            format!("unexpected `{}`", short(words))
        } else {
            format!("unexpected `{}`; expected {expected}", short(words))
        };
        if stopped.expected.iter().any(|e| e == A_QUANTITY) {
            drawn = habit(words, &text[last..end]);
        }
        (draft.at(first, last), message)
    };
    let fix = drawn.map_or_else(|| format!("Write it like this: `{shape}`."), str::to_owned);
    let finding = Problem::Syntax.at(span, message).fix(fix);
    draft.problems.add(Problem::Syntax, finding);
}

const OPEN_QUOTE: &str = "this quoted text has no closing quote on its line";

fn open_quote(words: &str) -> bool {
    let Some(inner) = words.strip_prefix('"') else { return false };
    let mut letters = inner.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '"' => return false,
            '\\' => drop(letters.next()),
            _ => {}
        }
    }
    true
}

/// Words that begin no clause.
fn stray(draft: &mut Draft<'_>, at: usize, end: usize) {
    let text = draft.text;
    let words = &text[at..end];
    let first = &text[at..word_end(text, at, end)];
    let form = draft.form;
    let known: Vec<&str> = form.clauses.iter().filter_map(|slot| slot.word()).collect();
    let span = draft.at(at, end);
    let message = if open_quote(first) {
        OPEN_QUOTE.to_owned()
    } else if first.starts_with('"') {
        format!("unexpected {} in `{}`", short(words), form.word)
    } else {
        format!("unexpected `{}` in `{}`", short(words), form.word)
    };
    let mut finding = Problem::Syntax.at(span, message);
    if let Some(close) = nearest(first, known.iter().copied()) {
        finding = finding.fix(format!("Write `{close}`."));
        finding.edits.push(Edit { span: draft.at(at, at + first.len()), text: close.to_owned() });
    } else if matches!(first, "welded" | "clamped") {
        finding = finding.fix(format!("Write it after the pieces that it applies to: `bonds PIECE {first}`."));
    } else if known.is_empty() {
        finding = finding.fix(format!("Write it like this: `{}`.", form.shape));
    } else {
        finding = finding.fix(format!("`{}` can have: {}.", form.word, known.join(", ")));
    }
    draft.problems.add(Problem::Syntax, finding);
    draft.doubtful = true;
}

/// Where the next clause begins that the form knows by a word; numbers and quotes do not count, since they may belong to
/// what could not be read.
pub fn next_clause(form: &Form, text: &str, mut at: usize, end: usize) -> usize {
    loop {
        at += text[at..end].len() - text[at..end].trim_start_matches(|c| blank(c) || c == ',').len();
        if at >= end {
            return end;
        }
        let word_end = word_end(text, at, end);
        let word = &text[at..word_end];
        if form.clauses.iter().any(|slot| slot.word() == Some(word)) {
            return at;
        }
        at = word_end;
    }
}

pub fn blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\r' | '\u{A0}')
}

/// A word ends at a blank or a comma; a text in quotes is one word.
pub fn word_end(text: &str, at: usize, end: usize) -> usize {
    let rest = &text[at..end];
    if let Some(inner) = rest.strip_prefix('"') {
        let mut escaped = false;
        for (n, c) in inner.char_indices() {
            match c {
                '"' if !escaped => return at + n + 2,
                '\\' => escaped = !escaped,
                _ => escaped = false,
            }
        }
        return end;
    }
    // Words are ASCII as a rule, and then their bytes say as much as their characters.
    let plain = rest.bytes().position(|b| !b.is_ascii() || matches!(b, b' ' | b'\t' | b'\r' | b',' | b'"'));
    match plain {
        None => return end,
        Some(n) if n > 0 && rest.as_bytes()[n].is_ascii() => return at + n,
        _ => {}
    }
    let skip = rest.chars().next().map_or(0, char::len_utf8);
    rest[skip..].find(|c| blank(c) || c == ',' || c == '"').map_or(end, |n| at + skip + n)
}

fn word_start(text: &str, start: usize, at: usize) -> usize {
    text[start..at].rfind(|c| blank(c) || c == ',').map_or(start, |n| {
        let n = start + n;
        n + text[n..].chars().next().map_or(0, char::len_utf8)
    })
}

/// Where the last word begins and ends.
fn last_word(text: &str, start: usize, end: usize) -> (usize, usize) {
    let mut at = start;
    let mut last = (start, end);
    while at < end {
        at += text[at..end].len() - text[at..end].trim_start_matches(|c| blank(c) || c == ',').len();
        if at < end {
            last = (at, word_end(text, at, end));
            at = last.1;
        }
    }
    last
}

fn trimmed(text: &str, start: usize, end: usize) -> usize {
    start + text[start..end].trim_end_matches(|c| blank(c) || c == ',').len()
}
