//! The structure of a file: which statement belongs to which item.

mod brace;
mod item;
mod statement;

use crate::syntax::diagnostics::Diagnostics;
use crate::syntax::document::{Document, Keyword};
use crate::syntax::form::{ITEMS, body, form_of, home};
use crate::syntax::message::{Close, Message};
use crate::syntax::parser::statement::lost_name;
use crate::syntax::recover::word_end;
use crate::syntax::scan::{Scanner, Token};
use crate::text::{FileId, Span, nearest};

pub struct Parser<'a> {
    text: &'a str,
    file: FileId,
    tokens: std::iter::Peekable<Tokens<'a>>,
    pub problems: Diagnostics,
    pub document: Document,
    /// The keywords of the statements in the last item, a bit for each.
    seen: u64,
    quick: bool,
}

/// As many statements as most items have, so that their list seldom has to grow.
const USUAL_BODY: usize = 16;

impl<'a> Parser<'a> {
    /// With `quick`, plain lines take the shortcut around the grammar.
    pub fn of(text: &'a str, file: FileId, quick: bool) -> Parser<'a> {
        let tokens = Tokens(Scanner::of(text)).peekable();
        Parser { text, file, tokens, problems: Diagnostics::default(), document: Document::default(), seen: 0, quick }
    }

    /// Reads the file to its end.
    pub fn read(&mut self) {
        // A run of closing braces is one mistake.
        let mut closed = false;
        while let Some(token) = self.tokens.peek().copied() {
            match token {
                Token::Head { start, end } => {
                    closed = false;
                    let before = self.problems.list.len();
                    if self.outside(start, end) {
                        self.assign_item(before);
                    }
                }
                Token::Open(at) => {
                    closed = false;
                    self.complain(at, at + 1, Message::StrayOpening);
                    self.skip_block();
                }
                Token::Close(at) => {
                    if !closed {
                        self.complain(at, at + 1, Message::StrayClosing);
                    }
                    closed = true;
                    self.tokens.next();
                }
                Token::Comment { .. } => {
                    self.tokens.next();
                }
            }
        }
    }

    /// Marks the findings since `before` as belonging to the last item.
    fn assign_item(&mut self, before: usize) {
        let name = self.document.items.last().and_then(|item| item.head.names.first);
        if let Some(name) = name.filter(|_| self.problems.list.len() > before) {
            let name: std::sync::Arc<str> = self.text[name.range()].into();
            self.problems.list[before..].iter_mut().for_each(|finding| finding.item = Some(name.clone()));
        }
    }

    /// Reads a statement outside of all braces. Returns whether it is an item or belongs to the one above.
    fn outside(&mut self, start: usize, end: usize) -> bool {
        let word_stop = word_end(self.text, start, end);
        let word = &self.text[start..word_stop];
        if let Some(form) = form_of(ITEMS, word) {
            self.tokens.next();
            self.item(form, start, end, false);
            return true;
        }
        // A statement of the item above: its block was closed too early, or never opened.
        if let Some(item) = self.document.items.last()
            && form_of(body(item.head.keyword), word).is_some()
            && !self.begins_another(start)
        {
            self.reopen();
            return true;
        }
        if home(word).is_some() {
            self.headless(start, end, word);
            return false;
        }
        self.tokens.next();
        let close = nearest(word, ITEMS.iter().map(|form| form.word));
        match close.and_then(|close| form_of(ITEMS, close)) {
            Some(form) => {
                let close = Some(Close { word: form.word, span: Span::new(self.file, start, word_stop) });
                self.complain(start, word_stop, Message::UnknownItem { words: word, close });
                self.item(form, start, end, true);
                true
            }
            None => {
                let words = &self.text[start..end];
                self.complain(start, end, Message::UnknownItem { words, close: None });
                if matches!(self.tokens.peek(), Some(Token::Open(_))) {
                    self.skip_block();
                }
                false
            }
        }
    }

    fn unknown(&mut self, item: Keyword, start: usize, end: usize) {
        let forms = body(item);
        let word_stop = word_end(self.text, start, end);
        let word = &self.text[start..word_stop];
        let close = nearest(word, forms.iter().map(|form| form.word)).and_then(|close| form_of(forms, close));
        let message = match (close, home(word)) {
            (Some(form), _) => {
                let close = Close { word: form.word, span: Span::new(self.file, start, word_stop) };
                Message::UnknownStatement { words: word, item, close: Some(close) }
            }
            (None, Some(home)) => Message::WrongItem { word, home, item },
            (None, None) => Message::UnknownStatement { words: &self.text[start..end], item, close: None },
        };
        self.complain(start, end, message);
        if let Some(name) = close.and_then(|form| lost_name(self.text, self.file, form, start, end))
            && let Some((holder, form)) = self.document.items.last_mut().zip(close)
        {
            holder.lost.push((form.keyword, name));
        }
        if let Some(holder) = self.document.items.last_mut() {
            holder.doubtful = true;
        }
        if matches!(self.tokens.peek(), Some(Token::Open(_))) {
            self.skip_block();
        }
    }

    fn extend(&mut self, end: usize) {
        if let Some(item) = self.document.items.last_mut() {
            item.span.end = item.span.end.max(end as u32);
        }
    }

    fn complain(&mut self, start: usize, end: usize, message: Message<'_>) {
        self.problems.add(message.at(Span::new(self.file, start, end)));
    }
}

/// Tokens without comments, which mean nothing.
struct Tokens<'a>(Scanner<'a>);

impl Iterator for Tokens<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        self.0.by_ref().find(|token| !matches!(token, Token::Comment { .. }))
    }
}
