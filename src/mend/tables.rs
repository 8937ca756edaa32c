//! The tables of cures: which edits may cure the findings of a rule, and the sizes, slopes and materials of what they add.

use crate::finding::Finding;
use crate::mend::Context;
use crate::mend::edit_kind::{EDIT_KINDS, EditKind};
use crate::quantity::Quantity;
use crate::rules::{Literal, Message, Pack, TableRow};

const CURES: &str = "cures";
const SIZES: &str = "cure-sizes";
const MATERIALS: &str = "cure-materials";
const SLOPES: &str = "cure-slopes";
const FLASHINGS: &str = "cure-flashings";

/// The edits that may cure what a rule finds, in the order of the table.
pub fn edit_kinds(pack: &Pack, rule: &str) -> Vec<EditKind> {
    let known = |word: &str| EDIT_KINDS.iter().find(|kind| kind.word == word).copied();
    words(pack, CURES, rule).filter_map(known).collect()
}

/// Findings for rows that name no edit. Curing passes these rows over, and `headlap rules test` reports them.
pub fn unknown_edits(pack: &Pack) -> Vec<Finding> {
    let known = EDIT_KINDS.map(|kind| kind.word);
    let rows = pack.tables.iter().filter(|table| &*table.name == CURES).flat_map(|table| &table.rows);
    let problems = rows.filter_map(|row| {
        let word = match &row.value {
            Literal::Word(word) => word.to_string(),
            other => other.show(),
        };
        (!known.contains(&&*word)).then(|| Message::UnknownEdit { word: &word, known: &known }.at(row.span))
    });
    problems.collect()
}

/// The names of the materials that are tried for a bead or a tape, the likeliest first.
pub fn materials<'a>(pack: &'a Pack, of: &'a str) -> impl Iterator<Item = &'a str> {
    words(pack, MATERIALS, of)
}

fn words<'a>(pack: &'a Pack, table: &'a str, key: &'a str) -> impl Iterator<Item = &'a str> {
    let own =
        rows(pack, table).filter(move |row| row.keys.first().and_then(Option::as_ref).and_then(word) == Some(key));
    own.filter_map(|row| word(&row.value))
}

fn rows<'a>(pack: &'a Pack, table: &'a str) -> impl Iterator<Item = &'a TableRow> {
    let table = pack.tables.iter().find(move |own| &*own.name == table);
    table.into_iter().flat_map(|table| &table.rows)
}

/// A flashing as a row of the table describes it.
pub struct Flashing<'a> {
    /// The kind of detail that it belongs to.
    pub detail: &'a str,
    /// The role of the piece whose edge it covers, or the kind of its material.
    pub of: &'a str,
    pub edge: &'a str,
    /// Its role, or its name where there is no such role.
    pub role: &'a str,
    pub material: &'a str,
    pub drip: bool,
    /// It is bonded to what lies behind it.
    pub stuck: bool,
    /// It reaches past both ends of that edge.
    pub past: bool,
    /// It goes around what it covers, and is clamped to it.
    pub around: bool,
    /// It has no end beyond that edge.
    pub through: bool,
}

/// The flashings that may cure what a rule finds, in the order of the table.
pub fn flashings<'a>(pack: &'a Pack, rule: &'a str) -> impl Iterator<Item = Flashing<'a>> {
    rows(pack, FLASHINGS).filter_map(move |row| {
        // `any` stands for every key.
        let keys: Vec<&str> = row.keys.iter().filter_map(|key| key.as_ref().map_or(Some("any"), word)).collect();
        let [own, detail, of, edge, role, finish] = keys[..] else { return None };
        let is = |word: &str| finish.split('-').any(|own| own == word);
        let (drip, stuck, past) = (is("drip"), is("stuck"), is("past"));
        let (around, through) = (is("around"), is("through"));
        let material = word(&row.value)?;
        (own == rule).then_some(Flashing { detail, of, edge, role, material, drip, stuck, past, around, through })
    })
}

fn word(literal: &Literal) -> Option<&str> {
    match literal {
        Literal::Word(word) => Some(word),
        _ => None,
    }
}

/// The size of something that an edit adds, in the system of units of the detail.
pub fn size(context: &Context<'_>, of: &str) -> Option<Quantity> {
    stated(context.pack, SIZES, &[of, context.system().word()])
}

/// The slope that an edit gives to something.
pub fn slope(context: &Context<'_>, of: &str) -> Option<Quantity> {
    stated(context.pack, SLOPES, &[of])
}

fn stated(pack: &Pack, table: &str, keys: &[&str]) -> Option<Quantity> {
    let table = pack.tables.iter().find(|own| &*own.name == table)?;
    let is = |(key, word): (&Option<Literal>, &&str)| matches!(key, Some(Literal::Word(name)) if **name == **word);
    let row = table.rows.iter().find(|row| row.keys.len() == keys.len() && row.keys.iter().zip(keys).all(is));
    match &row?.value {
        Literal::Quantity(stated) => Some(*stated),
        _ => None,
    }
}
