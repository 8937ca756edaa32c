//! What is asked of each thing of a list alike. A rule about pieces may go through the pieces of the detail for each of them, and most
//! of what it asks there depends on nothing but the piece at hand: that is evaluated once in a detail.

use std::cell::RefCell;
use std::rc::Rc;

use foldhash::HashMap;

use crate::facts::DetailFacts;
use crate::facts::vocabulary::FactList;
use crate::rules::expression::Code;

#[derive(Default)]
pub struct CandidateCache(RefCell<HashMap<(*const Code, *const DetailFacts), Candidates>>);

/// The numbers of the things of which a condition may be so; `None` where each has to be asked.
type Candidates = Option<Rc<[u32]>>;

/// Going through fewer is as quick.
const FEWEST: usize = 4;

impl CandidateCache {
    /// The things of a list of which this may be so. `may_be` says whether the parts of the condition that depend on the fact alone
    /// may all be so.
    pub fn candidates<'c>(
        &self,
        condition: &'c Code,
        items: FactList<'_>,
        may_be: impl Fn(&[&'c Code], usize) -> bool,
    ) -> Candidates {
        let FactList::All(facts, _, count) = items else { return None };
        if count < FEWEST {
            return None;
        }
        let key = (std::ptr::from_ref(condition), std::ptr::from_ref(facts));
        if let Some(known) = self.0.borrow().get(&key) {
            return known.clone();
        }
        let alone = alone(condition);
        let found: Candidates = (!alone.is_empty())
            .then(|| (0..count).filter(|number| may_be(&alone, *number)).map(|number| number as u32).collect());
        self.0.borrow_mut().insert(key, found.clone());
        found
    }

    /// Goes on to another detail.
    pub fn forget(&self) {
        self.0.borrow_mut().clear();
    }
}

/// What has to be so of the thing alone for a condition to be so.
fn alone(condition: &Code) -> Vec<&Code> {
    let parts = if let Code::And(parts) = condition { parts } else { std::slice::from_ref(condition) };
    parts.iter().filter(|part| !part.reaches_beyond(0)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_mentions_the_thing_around_does_not_hang_on_the_inner_one_alone() {
        let own = |depth| Code::Own(depth);
        let same = |a, b| Code::Same(Box::new([own(a), own(b)]));
        let any = |inner| Code::Any(Box::new([own(0), inner]));
        let condition = Code::And([same(0, 0), same(0, 1), any(same(0, 1)), any(same(0, 2))].into_iter().collect());
        let Code::And(parts) = &condition else { unreachable!() };
        assert!(alone(&condition) == [&parts[0], &parts[2]]);
        assert!(alone(&same(0, 1)).is_empty());
    }
}
