//! Reports what is wrong in one text, each thing once.

use foldhash::HashSet;

use crate::finding::Id;
use crate::model::{Message, Name};
use crate::syntax::{Diagnostics, unquoted};
use crate::text::{Source, Span, nearest};

use crate::model::resolve::{Absent, ItemKind};

pub(in crate::model) struct Reporter<'a> {
    pub source: &'a Source,
    pub problems: Diagnostics,
    /// Unknown names that were reported.
    said: HashSet<(ItemKind, Name)>,
    /// Unknown names that an includer might give.
    pub missing: Vec<(ItemKind, Name)>,
    /// Unknown names that are reported together.
    absent: Absent,
    /// The item that is being read.
    pub item: Option<Name>,
}

impl<'a> Reporter<'a> {
    /// Goes on after what was found when the text was read. `lost` is an include of the text that failed.
    pub fn new(source: &'a Source, problems: Diagnostics, lost: Option<Span>) -> Reporter<'a> {
        let absent = Absent::new(lost);
        Reporter { source, problems, said: HashSet::default(), missing: Vec::new(), absent, item: None }
    }

    /// All that is wrong in the text.
    pub fn finish(mut self) -> Diagnostics {
        self.absent.report(&mut self.problems);
        self.problems
    }

    pub fn text(&self, span: Span) -> &'a str {
        self.source.text.get(span.range()).unwrap_or("")
    }

    pub fn name(&self, span: Span) -> Name {
        Name::from(self.text(span))
    }

    pub fn unquoted(&self, span: Span) -> String {
        unquoted(self.text(span))
    }

    pub fn report(&mut self, span: Span, message: Message<'_>) {
        self.problems.add(message.at(span).item(self.item.clone()));
    }

    /// Reports an unknown name, with the nearest known one, unless it was reported before.
    pub fn unknown<'n>(&mut self, kind: ItemKind, span: Span, known: impl IntoIterator<Item = &'n str>) {
        let name = self.name(span);
        if kind.shared() {
            self.missing.push((kind, name.clone()));
        }
        if self.said.insert((kind, name.clone())) {
            let known: Vec<&str> = known.into_iter().collect();
            let near = nearest(&name, known.iter().copied()).is_some();
            if !self.absent.take(kind, &name, span, self.item.as_ref(), near) {
                self.unknown_again(span, Message::Undefined { kind, name: &name, known: &known });
            }
        }
    }

    /// Reports an unknown name that is looked up in one place only.
    pub fn unknown_again(&mut self, span: Span, message: Message<'_>) {
        match self.problems.full(Id::UnknownName) {
            true => self.problems.leave_out(Id::UnknownName, span),
            false => self.report(span, message),
        }
    }

    /// Roles are free; one that no rule asks about, and that is spelled nearly as one that some rule does, is a slip.
    pub fn idle_role(&mut self, span: Span, known: &[Name]) {
        let name = self.name(span);
        if known.binary_search(&name).is_ok() {
            return;
        }
        let Some(close) = nearest(&name, known.iter().map(|role| &**role)) else { return };
        if self.said.insert((ItemKind::Role, name.clone())) {
            self.report(span, Message::IdleRole { role: &name, close });
        }
    }

    /// One word of a closed list.
    pub fn word<T: Copy>(&mut self, phrase: &str, span: Span, all: &[T], word: fn(T) -> &'static str) -> Option<T> {
        let text = self.text(span);
        let found = all.iter().copied().find(|one| word(*one) == text);
        if found.is_none() {
            let words: Vec<&str> = all.iter().map(|one| word(*one)).collect();
            let word = self.name(span);
            self.unknown_again(span, Message::UnknownWord { phrase, word: &word, known: &words });
        }
        found
    }

    pub fn duplicate(&mut self, phrase: &str, span: Span, first: Span) {
        let name = self.name(span);
        self.report(span, Message::Duplicate { phrase, name: &name, first });
    }
}
