//! Edits of a text by the places that its parse gives. The model is never touched: what is tried is what an author could write.

use std::ops::Range;

use headlap::syntax::{Clause, Document, Item, Keyword, Statement, parse};
use headlap::text::{FileId, Source, Span};

/// What is done to one statement.
#[derive(Clone, Copy, PartialEq)]
pub enum Edit {
    /// Some of its words become others.
    Swap(&'static str, &'static str),
    /// It is taken away.
    Drop,
    /// A piece is taken away with all that mentions it: its beads, cuts and fasteners, its name in lists.
    LeaveOut,
    /// It is moved to just before the first statement that begins so, or to just after the last.
    Before(&'static str),
    After(&'static str),
    /// Lines are added after it.
    Then(&'static str),
    /// The whole item is taken away.
    DropItem,
}

/// A text as it was read.
pub struct Page {
    pub source: Source,
    pub document: Document,
}

/// Replacements of stretches of a text, none over another.
#[derive(Default)]
pub struct Splices(Vec<(Range<usize>, String)>);

impl Page {
    pub fn read(name: &str, text: &str) -> Page {
        let source = Source::new(FileId::detail(0), name, text);
        let (document, findings) = parse(&source);
        assert_eq!(findings, [], "{name} can be read");
        Page { source, document }
    }

    /// The item of this name; a set has none but its keyword.
    pub fn item(&self, name: &str) -> Option<&Item> {
        self.document.items.iter().find(|item| self.name(item) == name)
    }

    pub fn name(&self, item: &Item) -> &str {
        match item.head.keyword {
            Keyword::Set => "set",
            _ => item.head.names.first.map_or("", |name| self.source.at(name)),
        }
    }

    /// The statements of an item that begin with these words.
    pub fn statements<'p>(&'p self, item: &'p Item, begins: &str) -> impl DoubleEndedIterator<Item = &'p Statement> {
        let begins: Vec<String> = begins.split_whitespace().map(str::to_owned).collect();
        item.body.iter().filter(move |statement| {
            let mut words = self.source.at(statement.span).split_whitespace();
            begins.iter().all(|word| words.next() == Some(word))
        })
    }

    /// The text with one edit, or nothing where the edit has no place.
    pub fn edited(&self, item: &Item, statement: &Statement, edit: Edit) -> Option<String> {
        let mut splices = Splices::default();
        match edit {
            Edit::Swap(from, to) => {
                let found = find_words(self.source.at(statement.span), from)?;
                let start = statement.span.range().start;
                splices.put(start + found.start..start + found.end, to);
            }
            Edit::Drop => splices.put(self.lines(statement.span), ""),
            Edit::LeaveOut => self.leave_out(item, statement, &mut splices),
            Edit::Before(begins) => {
                let place = self.lines(self.statements(item, begins).next()?.span).start;
                self.transfer(statement, place, &mut splices);
            }
            Edit::After(begins) => {
                let place = self.lines(self.statements(item, begins).next_back()?.span).end;
                self.transfer(statement, place, &mut splices);
            }
            Edit::Then(lines) => {
                let end = self.lines(statement.span).end;
                splices.put(end..end, &format!("{lines}\n"));
            }
            Edit::DropItem => splices.put(item.span.range(), ""),
        }
        Some(splices.apply(&self.source.text))
    }

    /// A piece's mentions within its detail, its own name first.
    pub fn mentions(&self, item: &Item, name: &str) -> Vec<Span> {
        let mut all = Vec::new();
        for statement in &item.body {
            match statement.keyword {
                Keyword::Piece | Keyword::Cut | Keyword::Fasten => all.extend(statement.names.first),
                Keyword::Seal => all.extend([statement.names.first, statement.names.second].into_iter().flatten()),
                _ => {}
            }
            for part in &statement.clauses {
                match &part.clause {
                    Clause::Bonds(names, _) | Clause::Over(names) | Clause::Behind(names) => all.extend(names),
                    Clause::On(name) => all.push(*name),
                    _ => {}
                }
            }
        }
        all.retain(|span| self.source.at(*span) == name);
        all
    }

    fn leave_out(&self, item: &Item, piece: &Statement, splices: &mut Splices) {
        let name = piece.names.first.map_or("", |name| self.source.at(name));
        let is = |span: &Span| self.source.at(*span) == name;
        for statement in &item.body {
            let names = [statement.names.first, statement.names.second];
            let about = match statement.keyword {
                Keyword::Piece | Keyword::Cut | Keyword::Fasten => names[0].is_some_and(|first| is(&first)),
                Keyword::Seal => names.into_iter().flatten().any(|name| is(&name)),
                _ => false,
            };
            if about {
                splices.put(self.lines(statement.span), "");
                continue;
            }
            for part in &statement.clauses {
                let (word, list) = match &part.clause {
                    Clause::Bonds(list, _) => ("bonds", list),
                    Clause::Over(list) => ("over", list),
                    Clause::Behind(list) => ("behind", list),
                    _ => continue,
                };
                if list.iter().any(is) {
                    let rest: Vec<&str> = list.iter().filter(|n| !is(n)).map(|n| self.source.at(*n)).collect();
                    let words = if rest.is_empty() { String::new() } else { format!("{word} {}", rest.join(", ")) };
                    splices.put(part.span.range(), &words);
                }
            }
        }
    }

    fn transfer(&self, statement: &Statement, place: usize, splices: &mut Splices) {
        let from = self.lines(statement.span);
        splices.put(place..place, &self.source.text[from.clone()]);
        splices.put(from, "");
    }

    /// The whole lines that a span lies on.
    pub fn lines(&self, span: Span) -> Range<usize> {
        let (text, range) = (&self.source.text, span.range());
        let start = text[..range.start].rfind('\n').map_or(0, |end| end + 1);
        let end = text[range.end..].find('\n').map_or(text.len(), |end| range.end + end + 1);
        start..end
    }
}

impl Splices {
    pub fn put(&mut self, range: Range<usize>, words: &str) {
        self.0.push((range, words.to_owned()));
    }

    pub fn apply(mut self, text: &str) -> String {
        // Of two at one place the insertion comes first, so that a line moved to where it stood before stays.
        self.0.sort_by_key(|(range, _)| (range.start, range.end));
        let (mut edited, mut at) = (String::with_capacity(text.len()), 0);
        for (range, words) in self.0 {
            edited.push_str(&text[at..range.start]);
            edited.push_str(&words);
            at = range.end;
        }
        edited + &text[at..]
    }
}

/// Where these words stand as whole words, whatever blanks lie between them.
fn find_words(text: &str, words: &str) -> Option<Range<usize>> {
    let words: Vec<&str> = words.split_whitespace().collect();
    let tokens: Vec<Range<usize>> = text
        .split_whitespace()
        .map(|token| {
            let start = token.as_ptr().addr() - text.as_ptr().addr();
            start..start + token.len()
        })
        .collect();
    let found = tokens.windows(words.len()).find(|window| {
        window
            .iter()
            .zip(&words)
            .all(|(token, word)| text[token.clone()].trim_end_matches(',') == word.trim_end_matches(','))
    })?;
    let last = found.last()?;
    // A comma after the last word stays, unless the words themselves end in one.
    let comma = text[last.clone()].ends_with(',') && !words.last()?.ends_with(',');
    Some(found[0].start..last.end - usize::from(comma))
}

#[test]
fn an_edit_touches_only_its_words() {
    let page = Page::read(
        "a",
        "detail D seam joins W {\n  piece a m  up to 1 mm  bonds b, c # why\n  seal a to b with s\n}\n",
    );
    let item = page.item("D").expect("it is there");
    let piece = page.statements(item, "piece a").next().expect("it is there");
    let edited = |edit| page.edited(item, piece, edit).unwrap_or_default();
    let lines = |text: String| text.lines().nth(1).unwrap_or_default().to_owned();
    assert_eq!(lines(edited(Edit::Swap("up to 1 mm", "up to 2 mm"))), "  piece a m  up to 2 mm  bonds b, c # why");
    assert_eq!(lines(edited(Edit::Swap("bonds b, c", "bonds c"))), "  piece a m  up to 1 mm  bonds c # why");
    assert_eq!(edited(Edit::LeaveOut), "detail D seam joins W {\n}\n");
    assert_eq!(edited(Edit::Swap("up from 1 mm", "")), "");
    assert_eq!(lines(edited(Edit::After("seal"))), "  seal a to b with s");
}
