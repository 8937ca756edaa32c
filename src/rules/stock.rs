//! What the stock rules stand on, as they are read one by one.

use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, OnceLock};

use crate::facts::vocabulary::Kind;
use crate::model::Words;
use crate::rules::constant::Constant;
use crate::rules::expression::{Code, SharedConditions, TypeChecker, numbered};
use crate::rules::table::Table;
use crate::rules::written::{Expr, StoredConditions, read_prepared};

/// In the order of `Kind::ALL`.
pub struct StockContext(Vec<KindContext>);

/// What the rules about one kind of thing stand on.
struct KindContext {
    kind: Kind,
    tables: Arc<[Table]>,
    words: Arc<Words>,
    /// The conditions that they have in common, each with the number of the first that depends on the same word.
    written: Vec<(&'static [u8], u8)>,
    /// The same read, by the number of that first one: one look at the word answers all of them.
    read: Vec<OnceLock<Vec<(u8, Code)>>>,
    /// Those of the conditions read so far that are the same for all that lies in one detail, a bit for each.
    of_detail: [AtomicU64; 2],
}

const TESTED: &str = "what is built in has been tested";

impl StockContext {
    pub fn new(tables: &Arc<[Table]>, words: Arc<Words>, mut common: Vec<StoredConditions<'static>>) -> StockContext {
        let of = |kind: Kind| {
            let same = common.iter_mut().find(|common| common.about == kind.word());
            let written = same.map_or_else(Vec::new, |common| std::mem::take(&mut common.conditions));
            let read = written.iter().map(|_| OnceLock::new()).collect();
            KindContext {
                kind,
                tables: tables.clone(),
                words: words.clone(),
                written,
                read,
                of_detail: Default::default(),
            }
        };
        StockContext(Kind::ALL.map(of).into())
    }

    /// For the expressions of a rule about this kind.
    pub fn checker<'c>(&'c self, kind: Kind, constants: &'c mut [Constant]) -> TypeChecker<'c> {
        self.0[kind as usize].checker(constants)
    }

    /// A condition that rules about this kind have in common, by its number.
    pub fn common(&self, kind: Kind, number: u8) -> &Code {
        self.0[kind as usize].common(number)
    }

    /// Those of them that are the same for all that lies in one detail, a bit for each. Of those that were not asked for yet
    /// there is nothing to know.
    pub fn of_detail(&self, kind: Kind) -> u128 {
        let [low, high] = &self.0[kind as usize].of_detail;
        u128::from(low.load(Ordering::Relaxed)) | u128::from(high.load(Ordering::Relaxed)) << 64
    }
}

impl KindContext {
    fn checker<'c>(&'c self, constants: &'c mut [Constant]) -> TypeChecker<'c> {
        let (tables, words) = (&*self.tables, &*self.words);
        let scopes = vec![self.kind];
        TypeChecker { scopes, constants, unreadable: &[], tables, words, common: Some(self), problems: Vec::new() }
    }

    /// The conditions on one word, read together.
    fn together(&self, first: u8) -> Vec<(u8, Code)> {
        let same = (0..).zip(&self.written).filter(|(_, (_, of))| *of == first);
        let read = same.map(|(number, (bytes, _))| {
            let expr: Expr<'_> = read_prepared(bytes);
            (number, self.checker(&mut []).yes_no(&expr).expect(TESTED))
        });
        let (read, of_detail) = numbered(read.collect());
        for (half, bits) in self.of_detail.iter().zip([of_detail as u64, (of_detail >> 64) as u64]) {
            half.fetch_or(bits, Ordering::Relaxed);
        }
        read
    }
}

impl SharedConditions for KindContext {
    fn common(&self, number: u8) -> &Code {
        let (_, first) = self.written[usize::from(number)];
        let together = self.read[usize::from(first)].get_or_init(|| self.together(first));
        let found = together.iter().find(|(own, _)| *own == number);
        &found.expect("it was read with the first of them").1
    }
}
