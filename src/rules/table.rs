//! Look-up tables whose cells have been checked against the lists and against each other.

use std::fmt;
use std::ops::Deref;
use std::sync::OnceLock;

use crate::facts::vocabulary::{Family, Value};
use crate::finding::{Basis, Finding, Known};
use crate::model::{Name, Words};
use crate::rules::expression::{ExprType, WordsOf, same};
use crate::rules::written::{Literal, RawRow, RawTable, read_prepared};
use crate::rules::{Message, WrittenMessage};
use crate::text::Span;

/// A table whose cells have been checked. It dereferences to its contents, which for a stock table are read on demand.
pub struct Table {
    pub name: Name,
    held: OnceLock<Held>,
    stored: &'static [u8],
}

/// What a table holds.
#[derive(Debug)]
pub struct Held {
    pub title: String,
    pub keys: Vec<TableColumn>,
    pub rows: Vec<TableRow>,
    pub basis: Vec<Basis>,
}

#[derive(Debug)]
pub struct TableColumn {
    pub name: Name,
    pub of: ExprType,
}

#[derive(Debug)]
pub struct TableRow {
    /// `None` stands for any.
    pub keys: Vec<Option<Literal>>,
    pub value: Literal,
    /// How well this very row is known.
    pub known: Known,
    pub span: Span,
}

impl RawRow {
    /// A cell for each key, then the value, then how well this row is known if that differs from the basis.
    fn settle(mut self, width: usize, problems: &mut Vec<Finding>) -> Option<RawRow> {
        if self.cells.len() == width + 2 {
            let (word, at) = self.cells.pop()?;
            self.known = Known::from_word(&word.show());
            if self.known.is_none() {
                problems.push(WrittenMessage::UnknownStatus { word: &word.show() }.at(at));
                return None;
            }
        }
        if self.cells.len() != width + 1 {
            problems.push(Message::WrongCells { expected: width + 1, found: self.cells.len() }.at(self.span));
            return None;
        }
        Some(self)
    }
}

/// A key cell that every value matches.
const ANY: &str = "any";

impl RawTable<'_> {
    /// Checks cells against the lists that columns are named after, and each column for a common type.
    pub fn check(self, words: &Words, problems: &mut Vec<Finding>) -> Table {
        let name = self.name.text.as_ref().into();
        Table { name, held: self.held(Some(words), problems).into(), stored: &[] }
    }

    /// Without `words`, no cell is checked against a list.
    fn held(self, words: Option<&Words>, problems: &mut Vec<Finding>) -> Held {
        let known = self.basis.iter().map(|b| b.known).next().unwrap_or(Known::Practice);
        let width = self.keys.len();
        let rows: Vec<RawRow> = self.rows.into_iter().filter_map(|row| row.settle(width, problems)).collect();
        let mut keys = Vec::new();
        for (at, key) in self.keys.iter().enumerate() {
            let of = column_type(rows.iter().map(|row| &row.cells[at]), Some(&key.text), problems);
            if let (ExprType::Word(list @ WordsOf::Family(_)), Some(words)) = (of, words) {
                for (cell, span) in rows.iter().map(|row| &row.cells[at]) {
                    if let Literal::Word(word) = cell
                        && &**word != ANY
                        && !list.has(word, words, &[])
                    {
                        let known = list.list(words, &[]).unwrap_or_default();
                        problems.push(Message::NotInList { word, list: &key.text, known: &known }.at(*span));
                    }
                }
            }
            keys.push(TableColumn { name: key.text.as_ref().into(), of });
        }
        column_type(rows.iter().map(|row| &row.cells[width]), None, problems);
        let rows = rows.into_iter().map(|mut row| {
            let value = row.cells.pop().expect("the row has a value").0;
            let any = |cell: &Literal| matches!(cell, Literal::Word(word) if &**word == ANY);
            let keys = row.cells.into_iter().map(|(cell, _)| Some(cell).filter(|cell| !any(cell))).collect();
            TableRow { keys, value, known: row.known.unwrap_or(known), span: row.span }
        });
        Held { title: self.title, keys, rows: rows.collect(), basis: self.basis }
    }
}

/// The type that all cells of a column share; a column named after a list of words holds words of that list.
fn column_type<'r>(
    cells: impl Iterator<Item = &'r (Literal, Span)>,
    name: Option<&str>,
    problems: &mut Vec<Finding>,
) -> ExprType {
    let mut of: Option<ExprType> = None;
    for (cell, span) in cells {
        if name.is_some() && matches!(cell, Literal::Word(word) if &**word == ANY) {
            continue;
        }
        let found = ExprType::of(cell);
        match of {
            None => of = Some(found),
            Some(expected) if expected == found => {}
            Some(expected) => problems.push(Message::OtherTypeInColumn { expected, found }.at(*span)),
        }
    }
    match (of.unwrap_or(ExprType::Word(WordsOf::Free)), name.and_then(family_named)) {
        (ExprType::Word(_), Some(family)) => ExprType::Word(WordsOf::Family(family)),
        (of, _) => of,
    }
}

fn family_named(name: &str) -> Option<Family> {
    Some(match name {
        "control" => Family::Control,
        "material-kind" => Family::MaterialKind,
        "assembly-kind" => Family::AssemblyKind,
        "detail-kind" => Family::DetailKind,
        "fold" => Family::FoldKind,
        "surface" => Family::Surface,
        "substance" => Family::Substance,
        "adhesive" => Family::Adhesive,
        "event" => Family::Event,
        "run" => Family::Run,
        "side" => Family::Side,
        "vapor-class" => Family::VaporClass,
        _ => return None,
    })
}

impl Deref for Table {
    type Target = Held;

    fn deref(&self) -> &Held {
        // Built-in tables have been tested, so problems are ignored.
        let read = || read_prepared::<RawTable<'_>>(self.stored).held(None, &mut Vec::new());
        self.held.get_or_init(read)
    }
}

impl fmt::Debug for Table {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple(&self.name).field(&**self).finish()
    }
}

impl Table {
    /// A stock table of which only the name has been read.
    pub fn stored(name: &str, stored: &'static [u8]) -> Table {
        Table { name: name.into(), held: OnceLock::new(), stored }
    }

    /// The first row whose keys all match.
    pub fn find(&self, keys: &[Value<'_>]) -> Option<&TableRow> {
        self.rows.iter().find(|row| {
            row.keys.iter().zip(keys).all(|(cell, key)| match (cell, key) {
                (None, _) => true,
                (Some(Literal::Word(cell)), Value::Word(key)) => &**cell == *key,
                (Some(cell), key) => cell.value().is_some_and(|cell| same(&cell, key)),
            })
        })
    }

    pub fn value_type(&self, number: usize) -> ExprType {
        match self.rows.first().map(|row| ExprType::of(&row.value)) {
            Some(ExprType::Word(_)) | None => ExprType::Word(WordsOf::Table(number)),
            Some(other) => other,
        }
    }

    /// Whether one of its values is this word.
    pub fn has_value(&self, word: &str) -> bool {
        self.rows.iter().any(|row| matches!(&row.value, Literal::Word(value) if **value == *word))
    }

    /// The words that its values are, each once.
    pub fn value_words(&self) -> Vec<String> {
        let mut words: Vec<String> = self.rows.iter().map(|row| row.value.show()).collect();
        words.sort();
        words.dedup();
        words
    }
}
