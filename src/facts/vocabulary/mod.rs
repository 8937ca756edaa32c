//! The table of fields that rules may ask for: what a rule author can write, and where the value comes from.
//!
//! A rule is checked against these types when it is loaded, so that a wrong word is an error in the rule file and
//! never a silent rule.

mod abutment;
mod assembly;
mod bare;
mod continuity;
mod detail;
mod drainage;
mod fact;
mod fact_list;
mod family;
mod fixing;
mod hole;
mod kind;
mod layer;
mod legs;
mod library;
mod material;
mod piece;
mod place;
mod stack;
mod trail;
mod unclad;
mod value;

pub use fact::Fact;
pub use fact_list::FactList;
pub use family::Family;
pub use kind::Kind;
pub use trail::TrailStep;
use value::{ABSENT, FieldResult, unstated, unstated_slope};
pub use value::{Missing, Owner, Value, WordSet};

use std::sync::LazyLock;

use foldhash::HashMap;

use crate::quantity::{Dimension, Quantity};

/// What a field holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Type {
    YesNo,
    Quantity(Dimension),
    /// One word of a list.
    Word(Family),
    /// Several words of a list.
    Words(Family),
    /// Free text, to be shown and compared for equality.
    Text,
    Fact(Kind),
    FactList(Kind),
}

/// One field of a kind of fact.
pub struct Field {
    pub name: &'static str,
    pub of: Type,
    /// What it means, for `headlap rules fields`.
    pub about: &'static str,
    get: Get,
    /// Whether it depends on the rest of the detail.
    pub depends: Dependence,
}

/// Which values of a field another statement of the detail could change. Where a statement could not be read, such a value
/// proves nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Dependence {
    /// Never: its own statement and the pieces named there settle it.
    Never,
    Always,
    /// Only where its value is one of these words.
    For(&'static [&'static str]),
}

/// Gets a value from an item of the kind in whose table the field is. A getter of another type than its field does not compile.
#[derive(Clone, Copy)]
enum Get {
    YesNo(for<'a> fn(Fact<'a>) -> FieldResult<'a, bool>),
    Quantity(for<'a> fn(Fact<'a>) -> FieldResult<'a, Quantity>),
    Word(for<'a> fn(Fact<'a>) -> FieldResult<'a, &'a str>),
    Words(for<'a> fn(Fact<'a>) -> FieldResult<'a, WordSet<'a>>),
    Text(for<'a> fn(Fact<'a>) -> FieldResult<'a, &'a str>),
    Fact(for<'a> fn(Fact<'a>) -> FieldResult<'a, Fact<'a>>),
    FactList(for<'a> fn(Fact<'a>) -> FieldResult<'a, FactList<'a>>),
}

impl Field {
    /// What the field yields for an item.
    pub fn get<'a>(&self, item: Fact<'a>) -> Value<'a> {
        match self.get {
            Get::YesNo(get) => get(item).map_or_else(Value::Unknown, Value::YesNo),
            Get::Quantity(get) => get(item).map_or_else(Value::Unknown, Value::Quantity),
            Get::Word(get) => get(item).map_or_else(Value::Unknown, Value::Word),
            Get::Words(get) => get(item).map_or_else(Value::Unknown, Value::Words),
            Get::Text(get) => get(item).map_or_else(Value::Unknown, Value::Text),
            Get::Fact(get) => get(item).map_or_else(Value::Unknown, Value::Fact),
            Get::FactList(get) => get(item).map_or_else(Value::Unknown, Value::FactList),
        }
    }

    const fn yes_no(
        name: &'static str,
        about: &'static str,
        get: for<'a> fn(Fact<'a>) -> FieldResult<'a, bool>,
    ) -> Field {
        Field::new(name, Type::YesNo, about, Get::YesNo(get))
    }

    const fn quantity(
        name: &'static str,
        of: Dimension,
        about: &'static str,
        get: for<'a> fn(Fact<'a>) -> FieldResult<'a, Quantity>,
    ) -> Field {
        Field::new(name, Type::Quantity(of), about, Get::Quantity(get))
    }

    const fn word(
        name: &'static str,
        of: Family,
        about: &'static str,
        get: for<'a> fn(Fact<'a>) -> FieldResult<'a, &'a str>,
    ) -> Field {
        Field::new(name, Type::Word(of), about, Get::Word(get))
    }

    const fn words(
        name: &'static str,
        of: Family,
        about: &'static str,
        get: for<'a> fn(Fact<'a>) -> FieldResult<'a, WordSet<'a>>,
    ) -> Field {
        Field::new(name, Type::Words(of), about, Get::Words(get))
    }

    const fn text(
        name: &'static str,
        about: &'static str,
        get: for<'a> fn(Fact<'a>) -> FieldResult<'a, &'a str>,
    ) -> Field {
        Field::new(name, Type::Text, about, Get::Text(get))
    }

    const fn fact(
        name: &'static str,
        of: Kind,
        about: &'static str,
        get: for<'a> fn(Fact<'a>) -> FieldResult<'a, Fact<'a>>,
    ) -> Field {
        Field::new(name, Type::Fact(of), about, Get::Fact(get))
    }

    const fn facts(
        name: &'static str,
        of: Kind,
        about: &'static str,
        get: for<'a> fn(Fact<'a>) -> FieldResult<'a, FactList<'a>>,
    ) -> Field {
        Field::new(name, Type::FactList(of), about, Get::FactList(get))
    }

    const fn new(name: &'static str, of: Type, about: &'static str, get: Get) -> Field {
        Field { name, of, about, get, depends: Dependence::Never }
    }

    pub const fn depends(self, depends: Dependence) -> Field {
        Field { depends, ..self }
    }
}

/// A field is an entry of a table, so that equality is identity.
impl PartialEq for Field {
    fn eq(&self, other: &Field) -> bool {
        std::ptr::eq(self, other)
    }
}

/// All fields of a kind, its own first; for a piece and a layer, those of their material follow.
pub fn fields(kind: Kind) -> impl Iterator<Item = &'static Field> {
    own_fields(kind).iter().chain(added(kind)).chain(inherited(kind))
}

pub fn field(kind: Kind, name: &str) -> Option<&'static Field> {
    // Ten thousand names are looked up whenever the program starts.
    static BY_NAME: LazyLock<HashMap<(Kind, &str), &Field>> = LazyLock::new(|| {
        let mut by_name = HashMap::default();
        for (kind, field) in Kind::ALL.into_iter().flat_map(|kind| fields(kind).map(move |field| (kind, field))) {
            by_name.entry((kind, field.name)).or_insert(field);
        }
        by_name
    });
    BY_NAME.get(&(kind, name)).copied()
}

fn own_fields(kind: Kind) -> &'static [Field] {
    match kind {
        Kind::Material => material::FIELDS,
        Kind::Layer => layer::FIELDS,
        Kind::Assembly => assembly::FIELDS,
        Kind::Detail => detail::FIELDS,
        Kind::Piece => piece::FIELDS,
        Kind::Lap => drainage::LAP,
        Kind::Drop => drainage::DROP,
        Kind::Stack => stack::STACK,
        Kind::Transition => continuity::TRANSITION,
        Kind::Edge => continuity::EDGE,
        Kind::Turn => continuity::TURN,
        Kind::Bond => fixing::BOND,
        Kind::Seal => fixing::SEAL,
        Kind::Fastening => fixing::FASTENING,
        Kind::Tuck => fixing::TUCK,
        Kind::Abutment => abutment::FIELDS,
        Kind::Meeting => fixing::MEETING,
        Kind::Touch => fixing::TOUCH,
        Kind::Need => library::NEED,
        Kind::Waiver => library::WAIVER,
    }
}

/// Fields from files of their own: where a piece lies with respect to the folds, and what goes through it.
fn added(kind: Kind) -> impl Iterator<Item = &'static Field> {
    let of_piece = [legs::FIELDS, hole::FIELDS, bare::FIELDS, unclad::FIELDS].into_iter().flatten();
    of_piece.filter(move |_| kind == Kind::Piece)
}

fn inherited(kind: Kind) -> &'static [Field] {
    match kind {
        Kind::Piece | Kind::Layer => material::FIELDS,
        _ => &[],
    }
}
