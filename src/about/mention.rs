//! The names in a text, each with the kind of thing that it names.

use crate::syntax::{Clause, Document, Item, Keyword, Statement};
use crate::text::{Source, Span};

/// A name where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mention {
    pub span: Span,
    pub sort: Sort,
    /// The item of the document that it stands in.
    pub item: usize,
    /// The thing gets its name here.
    pub defines: bool,
}

/// What a name may be the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sort {
    Material,
    Assembly,
    Climate,
    Detail,
    /// Of one detail.
    Piece,
    /// Of one assembly.
    Layer,
    /// What a waiver is about: a piece, a layer or something else of its item.
    Subject,
    Role,
    Rule,
    DetailKind,
    /// A word of a closed list: the kind of a material or an assembly, a control, a fold.
    Word,
    /// A path in quotes.
    Include,
}

impl Sort {
    /// Its names are one namespace over an include tree.
    pub fn is_global(self) -> bool {
        matches!(self, Sort::Material | Sort::Assembly | Sort::Climate | Sort::Detail)
    }
}

/// In the order of the text.
pub fn mentions(document: &Document) -> Vec<Mention> {
    let mut all = Vec::new();
    for (number, item) in document.items.iter().enumerate() {
        let mut gather = Gather { item: number, home: item.head.keyword, all: &mut all };
        gather.item(item);
    }
    all.sort_by_key(|mention| (mention.span.start, mention.span.end));
    all
}

/// The mention that a place lies in or just behind.
pub fn mention_at(mentions: &[Mention], offset: usize) -> Option<Mention> {
    let touches = |m: &&Mention| m.span.range().start <= offset && offset <= m.span.range().end;
    mentions.iter().find(|m| touches(m) && m.span.contains(offset)).or_else(|| mentions.iter().find(touches)).copied()
}

/// A waiver says `on NAME` of a piece or a layer, and sometimes of something else.
pub fn meant(source: &Source, mentions: &[Mention], found: Mention) -> Sort {
    let name = source.at(found.span);
    let same = |m: &&Mention| m.item == found.item && m.defines && source.at(m.span) == name;
    let defined = |sort: Sort| mentions.iter().filter(same).any(|m| m.sort == sort);
    match found.sort {
        Sort::Subject => [Sort::Piece, Sort::Layer].into_iter().find(|sort| defined(*sort)).unwrap_or(Sort::Subject),
        sort => sort,
    }
}

struct Gather<'a> {
    item: usize,
    home: Keyword,
    all: &'a mut Vec<Mention>,
}

impl Gather<'_> {
    fn item(&mut self, item: &Item) {
        let named = match item.head.keyword {
            Keyword::Material => [Some(Sort::Material), Some(Sort::Word)],
            Keyword::Assembly => [Some(Sort::Assembly), Some(Sort::Word)],
            Keyword::Detail => [Some(Sort::Detail), Some(Sort::DetailKind)],
            Keyword::Climate => [Some(Sort::Climate), None],
            _ => [None, None],
        };
        self.names(&item.head, named, true);
        self.clauses(&item.head);
        item.body.iter().for_each(|statement| self.statement(statement));
    }

    fn statement(&mut self, statement: &Statement) {
        let piece = Some(Sort::Piece);
        let (named, defines) = match statement.keyword {
            Keyword::Piece => ([piece, Some(Sort::Material)], true),
            Keyword::Cut | Keyword::Fasten => ([piece, None], false),
            Keyword::Seal => ([piece, piece], false),
            Keyword::Layer => ([Some(Sort::Material), None], false),
            Keyword::ClimateUse => ([Some(Sort::Climate), None], false),
            Keyword::Waive => ([Some(Sort::Rule), None], false),
            Keyword::Needs => ([Some(Sort::DetailKind), None], false),
            Keyword::Fold | Keyword::Surface | Keyword::MadeOf | Keyword::Adhesive => ([Some(Sort::Word), None], false),
            _ => ([None, None], false),
        };
        self.names(statement, named, defines);
        self.clauses(statement);
    }

    fn names(&mut self, statement: &Statement, [first, second]: [Option<Sort>; 2], defines: bool) {
        if let Some((span, sort)) = statement.names.first.zip(first) {
            self.put(span, sort, defines);
        }
        if let Some((span, sort)) = statement.names.second.zip(second) {
            self.put(span, sort, false);
        }
    }

    fn clauses(&mut self, statement: &Statement) {
        for part in &statement.clauses {
            match &part.clause {
                Clause::Joins(first, others) => {
                    self.put(*first, Sort::Assembly, false);
                    others.iter().for_each(|other| self.put(*other, Sort::Assembly, false));
                }
                Clause::Of(span) => self.put(*span, Sort::Assembly, false),
                Clause::Meets(one, other) => {
                    [one, other].into_iter().for_each(|span| self.put(*span, Sort::Assembly, false))
                }
                Clause::Role(span) if self.home == Keyword::Assembly => self.put(*span, Sort::Layer, true),
                Clause::Role(span) => self.put(*span, Sort::Role, false),
                Clause::Bonds(spans, _) | Clause::Over(spans) | Clause::Behind(spans) => {
                    spans.iter().for_each(|span| self.put(*span, Sort::Piece, false));
                }
                Clause::With(span) => self.put(*span, Sort::Material, false),
                Clause::On(span) if statement.keyword == Keyword::Waive => self.put(*span, Sort::Subject, false),
                Clause::On(span) => self.put(*span, Sort::Material, false),
                Clause::Between { frame, .. } => self.put(*frame, Sort::Material, false),
                Clause::Controls(spans) | Clause::Holds(spans) => {
                    spans.iter().for_each(|span| self.put(*span, Sort::Word, false));
                }
                Clause::Text(span) if statement.keyword == Keyword::Include => self.put(*span, Sort::Include, false),
                _ => {}
            }
        }
    }

    fn put(&mut self, span: Span, sort: Sort, defines: bool) {
        self.all.push(Mention { span, sort, item: self.item, defines });
    }
}
