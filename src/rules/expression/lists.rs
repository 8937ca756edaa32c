//! A cache for conditions on the items of lists. A rule about pieces may search the pieces of the detail for each piece, and
//! most of the condition depends on the item alone. That part is evaluated once per detail.

use std::cell::RefCell;
use std::rc::Rc;

use foldhash::HashMap;

use crate::facts::DetailFacts;
use crate::facts::vocabulary::FactList;
use crate::rules::expression::Code;

#[derive(Default)]
pub struct CandidateCache(RefCell<HashMap<(*const Code, *const DetailFacts), Candidates>>);

/// The indices of the items that may satisfy a condition; `None` where each has to be evaluated.
type Candidates = Option<Rc<[u32]>>;

/// A shorter list is evaluated just as fast without the cache.
const FEWEST: usize = 4;

impl CandidateCache {
    /// The items of a list that may satisfy a condition. `may_be` says whether an item may satisfy all parts that depend on the
    /// item alone.
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

    /// Clears the cache, before another detail.
    pub fn forget(&self) {
        self.0.borrow_mut().clear();
    }
}

/// The parts of a condition that depend on the item alone and without which it cannot be true.
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
