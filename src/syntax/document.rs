//! A text before any name is looked up: items, their statements, and the clauses of these.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::quantity::Quantity;
use crate::syntax::clause::ClauseKind;
use crate::text::Span;

/// One file as read. Names are spans in the source.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Document {
    /// In the order of the text.
    pub items: Vec<Item>,
}

impl Document {
    /// The quoted names of all that it includes.
    pub fn includes(&self) -> impl Iterator<Item = Span> + '_ {
        let heads = self.items.iter().map(|item| &item.head).filter(|head| head.keyword == Keyword::Include);
        heads.flat_map(|head| &head.clauses).filter_map(|part| match part.clause {
            Clause::Text(span) => Some(span),
            _ => None,
        })
    }
}

/// An include, a climate, a material, an assembly, a detail or a set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Item {
    pub head: Statement,
    pub body: Vec<Statement>,
    /// Names that unreadable statements would have defined, so that they are not reported as undefined where they are
    /// mentioned.
    pub lost: Vec<(Keyword, Span)>,
    /// Some line of it could not be read, so that a statement it lacks proves nothing.
    pub doubtful: bool,
    /// From the keyword to the closing brace.
    pub span: Span,
}

/// One line, or a line and its block of clauses.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Statement {
    pub keyword: Keyword,
    /// The names in fixed places after the keyword: for a piece, its own name and its material; for a seal, the two pieces.
    pub names: StatementNames,
    pub clauses: Vec<PlacedClause>,
    /// Some clause of it could not be read.
    pub doubtful: bool,
    pub span: Span,
}

/// At most two names.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct StatementNames {
    pub first: Option<Span>,
    pub second: Option<Span>,
}

/// A clause with its place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PlacedClause {
    /// The kind of clause; `None` for a value in a fixed position, such as that of a property.
    pub kind: Option<ClauseKind>,
    pub clause: Clause,
    pub span: Span,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Clause {
    /// With its quotes, like every text.
    Title(Span),
    /// The first assembly, and those that follow it.
    Joins(Span, Vec<Span>),
    Of(Span),
    Role(Span),
    Up(Extent),
    Along(Extent),
    UpAt(Quantity),
    AlongAt(Quantity),
    Bonds(Vec<Span>, Hold),
    Over(Vec<Span>),
    Behind(Vec<Span>),
    Drip,
    Slope(Quantity),
    Rolled,
    Primed,
    Inside,
    With(Span),
    Every(Quantity),
    On(Span),
    Width(Quantity),
    Depth(Quantity),
    Paved,
    /// The thickness that a resistance is stated for.
    Per(Quantity),
    Because(Span),
    By(Span),
    Until(Date),
    Controls(Vec<Span>),
    Between {
        frame: Span,
        width: Quantity,
        spacing: Quantity,
    },
    /// A quantity without a word before it: the thickness of a layer, the value of a property.
    Amount(Quantity),
    At(Quantity),
    /// A dry-cup or a wet-cup value.
    Dry(Quantity),
    Wet(Quantity),
    /// A temperature and a relative humidity.
    Air(Quantity, Quantity),
    Outdoor(Quantity, Quantity),
    Indoor(Quantity, Quantity),
    Class(u8),
    Days(Quantity),
    Vapor(Quantity),
    Saturation(Quantity),
    /// Surface resistances inside and outside.
    Surfaces(Quantity, Quantity),
    Holds(Vec<Span>),
    Text(Span),
    Meets(Span, Span),
}

/// What makes one piece stick to another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Hold {
    /// The adhesive of the piece, or the piece itself if it is a coat.
    #[default]
    Adhesive,
    /// Heat: the two melt into one, as seams of single-ply roofing do.
    Weld,
    /// Pressure: a band, a clamping ring, a termination bar.
    Clamp,
}

/// `up A to B`; an end that is not written is open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Extent {
    pub low: Option<Quantity>,
    pub high: Option<Quantity>,
}

/// The word that a statement begins with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Keyword {
    Include,
    Climate,
    Material,
    Assembly,
    Detail,
    Set,
    Zone,
    Indoor,
    Outdoor,
    Design,
    Drying,
    Holds,
    Thickness,
    Permeance,
    Mu,
    Permeability,
    AirLayer,
    Conductivity,
    Resistance,
    Density,
    AirPermeance,
    Sensitive,
    DoubleSided,
    Capped,
    Vented,
    Drained,
    Surface,
    MadeOf,
    Adhesive,
    AppliesAbove,
    UvLimit,
    Section,
    SourceNote,
    Outside,
    Inside,
    ClimateUse,
    Surfaces,
    Layer,
    Piece,
    Cut,
    Seal,
    Fasten,
    Weeps,
    Fold,
    Slope,
    Valley,
    WallLine,
    Grade,
    Sheltered,
    Exposed,
    InstalledAt,
    Sheet,
    Note,
    Waive,
    Needs,
}

impl Keyword {
    /// Whether it begins an item, and not a statement within one.
    pub fn is_item(self) -> bool {
        use Keyword::*;
        matches!(self, Include | Climate | Material | Assembly | Detail | Set)
    }
}

impl StatementNames {
    pub fn push(&mut self, name: Span) {
        match self.first {
            None => self.first = Some(name),
            Some(_) => self.second = Some(name),
        }
    }
}
