//! The context that stock rules share when they are read one by one.

use std::sync::{Arc, OnceLock};

use crate::facts::vocabulary::Kind;
use crate::model::Words;
use crate::rules::constant::Constant;
use crate::rules::expression::TypeChecker;
use crate::rules::sieve::Sieve;
use crate::rules::table::Table;
use crate::rules::written::read_prepared;

pub struct StockContext {
    tables: Arc<[Table]>,
    words: Arc<Words>,
    /// The sieves in the order of `Kind::ALL`, each in its stored form and, once it has been asked for, as read.
    sieves: Vec<(&'static [u8], OnceLock<Sieve>)>,
}

impl StockContext {
    pub fn new(tables: &Arc<[Table]>, words: Arc<Words>, sieves: &[(&'static str, &'static [u8])]) -> StockContext {
        let of = |kind: Kind| {
            let written = sieves.iter().find(|(about, _)| *about == kind.word()).map_or(&[][..], |(_, sieve)| sieve);
            (written, OnceLock::new())
        };
        StockContext { tables: tables.clone(), words, sieves: Kind::ALL.map(of).into() }
    }

    /// A checker for the expressions of a rule about this kind.
    pub fn checker<'c>(&'c self, kind: Kind, constants: &'c mut [Constant]) -> TypeChecker<'c> {
        TypeChecker::new(kind, constants, &self.tables, &self.words)
    }

    /// The sieve of the rules about this kind.
    pub fn sieve(&self, kind: Kind) -> &Sieve {
        let (written, read) = &self.sieves[kind as usize];
        read.get_or_init(|| match written.is_empty() {
            true => Sieve::default(),
            false => Sieve::of(read_prepared(written), &mut self.checker(kind, &mut [])),
        })
    }
}
