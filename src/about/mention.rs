//! The names in a text, each with the kind of thing that it names.

use crate::syntax::{Clause, Document, Item, Keyword, Statement};
use crate::text::{Source, Span};

/// A name where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mention {
    pub span: Span,
    pub kind: NameKind,
    /// The item of the document that it stands in.
    pub item: usize,
    /// The thing gets its name here.
    pub defines: bool,
}

/// What a name may be the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum NameKind {
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

impl NameKind {
    /// Its names are one namespace over an include tree.
    pub fn is_global(self) -> bool {
        matches!(self, NameKind::Material | NameKind::Assembly | NameKind::Climate | NameKind::Detail)
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
pub fn meant(source: &Source, mentions: &[Mention], found: Mention) -> NameKind {
    let name = source.at(found.span);
    let same = |m: &&Mention| m.item == found.item && m.defines && source.at(m.span) == name;
    let defined = |kind: NameKind| mentions.iter().filter(same).any(|m| m.kind == kind);
    match found.kind {
        NameKind::Subject => {
            [NameKind::Piece, NameKind::Layer].into_iter().find(|kind| defined(*kind)).unwrap_or(NameKind::Subject)
        }
        kind => kind,
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
            Keyword::Material => [Some(NameKind::Material), Some(NameKind::Word)],
            Keyword::Assembly => [Some(NameKind::Assembly), Some(NameKind::Word)],
            Keyword::Detail => [Some(NameKind::Detail), Some(NameKind::DetailKind)],
            Keyword::Climate => [Some(NameKind::Climate), None],
            _ => [None, None],
        };
        self.names(&item.head, named, true);
        self.clauses(&item.head);
        item.body.iter().for_each(|statement| self.statement(statement));
    }

    fn statement(&mut self, statement: &Statement) {
        let piece = Some(NameKind::Piece);
        let (named, defines) = match statement.keyword {
            Keyword::Piece => ([piece, Some(NameKind::Material)], true),
            Keyword::Cut | Keyword::Fasten => ([piece, None], false),
            Keyword::Seal => ([piece, piece], false),
            Keyword::Layer => ([Some(NameKind::Material), None], false),
            Keyword::ClimateUse => ([Some(NameKind::Climate), None], false),
            Keyword::Waive => ([Some(NameKind::Rule), None], false),
            Keyword::Needs => ([Some(NameKind::DetailKind), None], false),
            Keyword::Fold | Keyword::Surface | Keyword::MadeOf | Keyword::Adhesive => {
                ([Some(NameKind::Word), None], false)
            }
            _ => ([None, None], false),
        };
        self.names(statement, named, defines);
        self.clauses(statement);
    }

    fn names(&mut self, statement: &Statement, [first, second]: [Option<NameKind>; 2], defines: bool) {
        if let Some((span, kind)) = statement.names.first.zip(first) {
            self.put(span, kind, defines);
        }
        if let Some((span, kind)) = statement.names.second.zip(second) {
            self.put(span, kind, false);
        }
    }

    fn clauses(&mut self, statement: &Statement) {
        for part in &statement.clauses {
            match &part.clause {
                Clause::Joins(first, others) => {
                    self.put(*first, NameKind::Assembly, false);
                    others.iter().for_each(|other| self.put(*other, NameKind::Assembly, false));
                }
                Clause::Of(span) => self.put(*span, NameKind::Assembly, false),
                Clause::Meets(one, other) => {
                    [one, other].into_iter().for_each(|span| self.put(*span, NameKind::Assembly, false))
                }
                Clause::Role(span) if self.home == Keyword::Assembly => self.put(*span, NameKind::Layer, true),
                Clause::Role(span) => self.put(*span, NameKind::Role, false),
                Clause::Bonds(spans, _) | Clause::Over(spans) | Clause::Behind(spans) => {
                    spans.iter().for_each(|span| self.put(*span, NameKind::Piece, false));
                }
                Clause::With(span) => self.put(*span, NameKind::Material, false),
                Clause::On(span) if statement.keyword == Keyword::Waive => self.put(*span, NameKind::Subject, false),
                Clause::On(span) => self.put(*span, NameKind::Material, false),
                Clause::Between { frame, .. } => self.put(*frame, NameKind::Material, false),
                Clause::Controls(spans) | Clause::Holds(spans) => {
                    spans.iter().for_each(|span| self.put(*span, NameKind::Word, false));
                }
                Clause::Text(span) if statement.keyword == Keyword::Include => {
                    self.put(*span, NameKind::Include, false)
                }
                _ => {}
            }
        }
    }

    fn put(&mut self, span: Span, kind: NameKind, defines: bool) {
        self.all.push(Mention { span, kind, item: self.item, defines });
    }
}
