//! The structure of a file: which statement belongs to which item, and how to recover from braces that do not match.

use crate::finding::Id;
use crate::syntax::build::{Draft, slot_at};
use crate::syntax::document::{Document, Item, Keyword, Statement};
use crate::syntax::form::{Form, ITEMS, body, form_of, home};
use crate::syntax::message::{Close, Message};
use crate::syntax::problem::Problems;
use crate::syntax::recover::{self, word_end};
use crate::syntax::scan::{Scanner, Token};
use crate::text::{FileId, Span, nearest};

pub struct Outline<'a> {
    text: &'a str,
    file: FileId,
    tokens: std::iter::Peekable<Tokens<'a>>,
    pub problems: Problems,
    pub document: Document,
    /// Keywords that the last item has statements of, a bit for each.
    seen: u64,
    quick: bool,
}

/// As many statements as most items have, so that their list seldom has to grow.
const USUAL_BODY: usize = 16;

/// Tokens without comments, which mean nothing.
struct Tokens<'a>(Scanner<'a>);

impl Iterator for Tokens<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        self.0.by_ref().find(|token| !matches!(token, Token::Comment { .. }))
    }
}

impl<'a> Outline<'a> {
    /// With `quick`, plain lines take the shortcut around the grammar.
    pub fn of(text: &'a str, file: FileId, quick: bool) -> Outline<'a> {
        let tokens = Tokens(Scanner::of(text)).peekable();
        Outline { text, file, tokens, problems: Problems::default(), document: Document::default(), seen: 0, quick }
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
                        self.bring_home(before);
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
    fn bring_home(&mut self, before: usize) {
        let name = self.document.items.last().and_then(|item| item.head.names.first);
        if let Some(name) = name.filter(|_| self.problems.list.len() > before) {
            let name: std::sync::Arc<str> = self.text[name.range()].into();
            self.problems.list[before..].iter_mut().for_each(|finding| finding.item = Some(name.clone()));
        }
    }

    /// A statement outside of all braces. Whether it is an item, or belongs to the one above.
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

    /// Whether the statements from here to the next brace repeat what the item above has: they are of another item, whose first
    /// line is missing.
    fn begins_another(&self, start: usize) -> bool {
        let Some(item) = self.document.items.last() else { return true };
        let forms = body(item.head.keyword);
        let name = |span: Span| &self.text[span.range()];
        for token in Tokens(Scanner::of(&self.text[start..])) {
            let Token::Head { start: from, end: to } = token else { return false };
            let (from, to) = (start + from, start + to);
            let Some(form) = form_of(forms, &self.text[from..word_end(self.text, from, to)]) else { return false };
            let own = lost_name(self.text, self.file, form, from, to);
            let repeats = item
                .body
                .iter()
                .filter(|there| there.keyword == form.keyword)
                .any(|there| form.once || own.is_some() && own.map(name) == there.names.first.map(name));
            if repeats {
                return true;
            }
        }
        false
    }

    /// Statements whose item has lost its first line, up to their closing brace: one mistake.
    fn headless(&mut self, start: usize, end: usize, word: &str) {
        let mut count = 0;
        while let Some(token) = self.tokens.peek().copied() {
            match token {
                Token::Head { start, end } if home(&self.text[start..word_end(self.text, start, end)]).is_none() => {
                    break;
                }
                Token::Head { .. } => count += 1,
                Token::Open(_) => {
                    self.skip_block();
                    continue;
                }
                Token::Close(_) | Token::Comment { .. } => {}
            }
            self.tokens.next();
            if matches!(token, Token::Close(_)) {
                break;
            }
        }
        let item = home(word).unwrap_or(Keyword::Detail);
        self.complain(start, end, Message::NoItemAbove { word, count, item });
    }

    /// An item with its block. With `misspelt`, its keyword could not be read (which was reported), but the rest can.
    fn item(&mut self, form: &'static Form, start: usize, end: usize, misspelt: bool) {
        let head = if misspelt { self.misspelt(form, start, end) } else { self.statement(form, start, end) };
        let doubtful = head.doubtful;
        let span = head.span;
        self.seen = 0;
        self.document.items.push(Item { head, body: Vec::new(), lost: Vec::new(), doubtful, span });
        match self.tokens.peek().copied() {
            Some(Token::Open(at)) if form.keyword == Keyword::Include => {
                self.complain(at, at + 1, Message::TakesNoBlock { word: form.word });
                self.skip_block();
            }
            Some(Token::Open(at)) => {
                self.tokens.next();
                self.block(Some(at));
            }
            _ if form.keyword == Keyword::Include => {}
            // When its statements follow anyway, they report the missing brace.
            Some(Token::Head { start, end }) if self.belongs(form, start, end) => {}
            _ => self.complain(start, end, Message::NeedsBlock { word: form.word }),
        }
    }

    fn belongs(&self, form: &Form, start: usize, end: usize) -> bool {
        let word = &self.text[start..word_end(self.text, start, end)];
        form_of(ITEMS, word).is_none() && form_of(body(form.keyword), word).is_some()
    }

    /// Reads the names and clauses of an item whose keyword was misspelt, as far as they go without the grammar's rule.
    fn misspelt(&mut self, form: &'static Form, start: usize, end: usize) -> Statement {
        let mut draft = Draft::new(self.text, &mut self.problems, form, Span::new(self.file, start, end));
        let mut at = word_end(self.text, start, end);
        while let Some(name) = name_after(self.text, self.file, at, end)
            && draft.names.second.is_none()
            && !matches!(form.keyword, Keyword::Set | Keyword::Include)
            && slot_at(form, &self.text[name.range()]).is_none()
        {
            draft.names.push(name);
            at = name.range().end;
        }
        if !form.clauses.is_empty() {
            recover::clauses(&mut draft, at, end);
        }
        draft.doubtful = true;
        draft.finish()
    }

    /// The statements of the last item up to its closing brace.
    fn block(&mut self, open: Option<usize>) {
        let Some(item) = self.document.items.last_mut() else { return };
        let keyword = item.head.keyword;
        item.body.reserve(USUAL_BODY);
        loop {
            match self.tokens.peek().copied() {
                None => {
                    self.unclosed(open);
                    return;
                }
                Some(Token::Close(at)) => {
                    self.tokens.next();
                    self.extend(at + 1);
                    return;
                }
                Some(Token::Open(at)) => {
                    self.complain(at, at + 1, Message::StrayOpening);
                    self.skip_block();
                }
                Some(Token::Head { start, end }) => {
                    let word = &self.text[start..word_end(self.text, start, end)];
                    let form = form_of(body(keyword), word);
                    if self.begins_item(form, word, end) {
                        self.unclosed(open);
                        return;
                    }
                    self.tokens.next();
                    self.extend(end);
                    match form {
                        Some(form) => self.inside(keyword, form, start, end),
                        None => self.unknown(keyword, start, end),
                    }
                }
                Some(Token::Comment { .. }) => {
                    self.tokens.next();
                }
            }
        }
    }

    /// Whether a statement up to `end` begins an item although a block is open: its brace was forgotten. `inside` is what
    /// its word means within the block.
    fn begins_item(&self, inside: Option<&Form>, word: &str, end: usize) -> bool {
        match inside {
            // `climate` names a climate in an assembly; as an item it has a block.
            Some(form) if form.keyword == Keyword::ClimateUse => {
                matches!(Tokens(Scanner::of(&self.text[end..])).next(), Some(Token::Open(_)))
            }
            Some(_) => false,
            None => form_of(ITEMS, word).is_some(),
        }
    }

    fn inside(&mut self, item: Keyword, form: &'static Form, start: usize, end: usize) {
        let mut read = true;
        let statement = self.statement_or(form, start, end, &mut read);
        let Some(holder) = self.document.items.last_mut() else { return };
        if !read {
            holder.doubtful = true;
            if let Some(name) = lost_name(self.text, self.file, form, start, end) {
                holder.lost.push((form.keyword, name));
            }
            return;
        }
        let bit = 1u64 << form.keyword as u64;
        let again = form.once && self.seen & bit != 0;
        self.seen |= bit;
        if again && self.problems.full(Id::Syntax) {
            return self.problems.leave_out(Id::Syntax, statement.span);
        }
        if again && let Some(earlier) = holder.body.iter().find(|earlier| earlier.keyword == form.keyword) {
            let message = Message::DuplicateStatement { word: form.word, item, first: earlier.span };
            return self.problems.add(message.at(statement.span));
        }
        holder.body.push(statement);
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

    fn statement(&mut self, form: &'static Form, start: usize, end: usize) -> Statement {
        let mut read = true;
        self.statement_or(form, start, end, &mut read)
    }

    /// A statement with its own block of clauses, if one follows. `read` turns false when not even its names could be read.
    fn statement_or(&mut self, form: &'static Form, start: usize, end: usize, read: &mut bool) -> Statement {
        let is_item = form.keyword.is_item();
        let span = Span::new(self.file, start, end);
        let mut draft = Draft::new(self.text, &mut self.problems, form, span);
        draft.quick = self.quick;
        *read = recover::head(&mut draft, start, end);
        if !is_item && let Some(Token::Open(at)) = self.tokens.peek().copied() {
            if form.clauses.is_empty() {
                draft.problems.add(Message::TakesNoBlock { word: form.word }.at(draft.at(at, at + 1)));
                skip_block(&mut self.tokens, self.text);
            } else {
                self.tokens.next();
                own_block(&mut self.tokens, &mut draft, at);
            }
        }
        if *read {
            recover::required(&mut draft);
        } else if is_item {
            draft.names.first = lost_name(self.text, self.file, form, start, end);
            let rest = recover::next_clause(form, self.text, word_end(self.text, start, end), end);
            recover::clauses(&mut draft, rest, end);
        }
        draft.finish()
    }

    /// Continues the last item, whose block was closed too early or never opened.
    fn reopen(&mut self) {
        let Some(item) = self.document.items.last() else { return };
        let (head, end, item) = (item.head.span, item.span, item.head.keyword);
        let stop = end.range().end;
        let closed = self.text.as_bytes().get(stop.wrapping_sub(1)) == Some(&b'}') && end.end > head.end;
        if closed {
            self.complain(stop - 1, stop, Message::ClosedEarly { item });
        } else {
            self.complain(head.range().start, head.range().end, Message::NoOpening { item });
        }
        self.block(None);
    }

    fn unclosed(&mut self, open: Option<usize>) {
        if let Some(at) = open {
            self.complain(at, at + 1, Message::NoClosing { last: "statement" });
        }
    }

    fn extend(&mut self, end: usize) {
        if let Some(item) = self.document.items.last_mut() {
            item.span.end = item.span.end.max(end as u32);
        }
    }

    fn skip_block(&mut self) {
        skip_block(&mut self.tokens, self.text);
    }

    fn complain(&mut self, start: usize, end: usize, message: Message<'_>) {
        self.problems.add(message.at(Span::new(self.file, start, end)));
    }
}

/// The clauses of a statement that are written in a block of its own.
fn own_block(tokens: &mut std::iter::Peekable<Tokens<'_>>, draft: &mut Draft<'_>, open: usize) {
    let text = draft.text;
    let before = draft.clauses.len();
    loop {
        match tokens.peek().copied() {
            Some(Token::Head { start, end }) => {
                let word = &text[start..word_end(text, start, end)];
                let other = form_of(ITEMS, word).is_some() || home(word).is_some();
                if other && slot_at(draft.form, word).is_none() {
                    let apart = text[draft.span.range().end..open].contains('\n');
                    if apart && draft.clauses.len() == before {
                        // A block on lines of its own that begins with another statement was never this one's.
                        draft.refuse(draft.at(open, open + 1), Message::StrayOpening);
                        return rest_of_block(tokens, text, 1);
                    }
                    break;
                }
                tokens.next();
                recover::clauses(draft, start, end);
            }
            Some(Token::Open(at)) => {
                draft.refuse(draft.at(at, at + 1), Message::StrayOpening);
                skip_block(tokens, text);
            }
            Some(Token::Close(_)) => {
                tokens.next();
                return;
            }
            Some(Token::Comment { .. }) => {
                tokens.next();
            }
            None => break,
        }
    }
    draft.problems.add(Message::NoClosing { last: "clause" }.at(draft.at(open, open + 1)));
}

/// Skips a block and all blocks in it, without recursion; an item that begins in column 1 ends it.
fn skip_block(tokens: &mut std::iter::Peekable<Tokens<'_>>, text: &str) {
    rest_of_block(tokens, text, 0);
}

/// The same from inside of `depth` blocks.
fn rest_of_block(tokens: &mut std::iter::Peekable<Tokens<'_>>, text: &str, mut depth: usize) {
    while let Some(token) = tokens.peek().copied() {
        match token {
            Token::Open(_) => depth += 1,
            Token::Close(_) => depth = depth.saturating_sub(1),
            Token::Head { start, end } => {
                let first_column = start == 0 || text.as_bytes()[start - 1] == b'\n';
                if first_column && form_of(ITEMS, &text[start..word_end(text, start, end)]).is_some() {
                    return;
                }
            }
            Token::Comment { .. } => {}
        }
        tokens.next();
        if depth == 0 {
            return;
        }
    }
}

/// The name that an unreadable statement would have defined.
fn lost_name(text: &str, file: FileId, form: &Form, start: usize, end: usize) -> Option<Span> {
    let named = matches!(
        form.keyword,
        Keyword::Piece | Keyword::Climate | Keyword::Material | Keyword::Assembly | Keyword::Detail
    );
    let name = name_after(text, file, word_end(text, start, end), end)?;
    (named && slot_at(form, &text[name.range()]).is_none()).then_some(name)
}

/// The word after `at`, when it is a name.
fn name_after(text: &str, file: FileId, at: usize, end: usize) -> Option<Span> {
    let start = at + text[at..end].len() - text[at..end].trim_start_matches(recover::blank).len();
    let stop = word_end(text, start, end);
    let name = text[start..stop].starts_with(char::is_alphabetic);
    name.then(|| Span::new(file, start, stop))
}
