//! What the stock rules stand on, as they are read one by one.

use std::sync::{Arc, OnceLock};

use crate::facts::vocabulary::Kind;
use crate::model::Words;
use crate::rules::constant::Constant;
use crate::rules::expression::{Checker, Code, numbered};
use crate::rules::table::Table;
use crate::rules::written::{Common, Expr};

pub struct Grounds {
    tables: Arc<[Table]>,
    words: Words,
    /// In the order of `Kind::ALL`.
    kinds: Vec<OfKind>,
}

/// What the rules about one kind of thing ask alike.
struct OfKind {
    kind: Kind,
    written: Vec<Expr<'static>>,
    read: OnceLock<(Vec<Code>, u128)>,
}

impl Grounds {
    pub fn new(tables: Arc<[Table]>, words: Words, mut common: Vec<Common<'static>>) -> Grounds {
        let mut of = |kind: Kind| {
            let same = common.iter_mut().find(|common| common.about == kind.word());
            let written = same.map_or_else(Vec::new, |common| std::mem::take(&mut common.conditions));
            OfKind { kind, written, read: OnceLock::new() }
        };
        let kinds = Kind::ALL.map(&mut of).into();
        Grounds { tables, words, kinds }
    }

    /// For the expressions of a rule about this kind.
    pub fn checker<'c>(&'c self, kind: Kind, constants: &'c mut [Constant]) -> Checker<'c> {
        self.checker_with(kind, constants, self.common(kind))
    }

    fn checker_with<'c>(&'c self, kind: Kind, constants: &'c mut [Constant], common: &'c [Code]) -> Checker<'c> {
        let (tables, words) = (&*self.tables, &self.words);
        Checker { scopes: vec![kind], constants, unreadable: &[], tables, words, common, problems: Vec::new() }
    }

    /// The conditions that rules about this kind have in common, by their numbers.
    pub fn common(&self, kind: Kind) -> &[Code] {
        &self.kinds[kind as usize].read(self).0
    }

    /// Those of them that are the same for all that lies in one detail, a bit for each.
    pub fn of_detail(&self, kind: Kind) -> u128 {
        self.kinds[kind as usize].read(self).1
    }
}

impl OfKind {
    fn read(&self, grounds: &Grounds) -> &(Vec<Code>, u128) {
        self.read.get_or_init(|| {
            // What stands within a condition has been read before it.
            let mut read: Vec<Code> = Vec::with_capacity(self.written.len());
            for (number, written) in self.written.iter().enumerate() {
                debug_assert!(number < 128);
                let code = grounds.checker_with(self.kind, &mut [], &read).yes_no(written);
                read.push(Code::Shared(number as u8, Box::new(code.expect("what is built in has been tested"))));
            }
            let own = |code| if let Code::Shared(_, own) = code { *own } else { code };
            let read = read.into_iter().map(own).collect();
            numbered(read)
        })
    }
}
