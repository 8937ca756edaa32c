//! A set of rules about one kind of thing. Rules are numbered within their kind.

use serde::{Deserialize, Serialize};

#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct RuleSet(Vec<u64>);

impl RuleSet {
    pub const NONE: RuleSet = RuleSet(Vec::new());

    pub fn insert(&mut self, rule: usize) {
        let block = rule / 64;
        self.0.resize(self.0.len().max(block + 1), 0);
        self.0[block] |= 1 << (rule % 64);
    }

    pub fn remove(&mut self, others: &RuleSet) {
        self.0.iter_mut().zip(&others.0).for_each(|(own, other)| *own &= !other);
    }

    pub fn add(&mut self, others: &RuleSet) {
        self.0.resize(self.0.len().max(others.0.len()), 0);
        self.0.iter_mut().zip(&others.0).for_each(|(own, other)| *own |= other);
    }

    /// Becomes a copy of another set, without a new allocation.
    pub fn copy(&mut self, other: &RuleSet) {
        self.0.clone_from(&other.0);
    }

    /// Whether one rule is in both.
    pub fn meets(&self, others: &RuleSet) -> bool {
        self.0.iter().zip(&others.0).any(|(own, other)| own & other != 0)
    }

    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|block| *block == 0)
    }

    pub fn len(&self) -> usize {
        self.0.iter().map(|block| block.count_ones() as usize).sum()
    }

    /// In the order of their numbers.
    pub fn iter(&self) -> impl Iterator<Item = usize> {
        self.0.iter().enumerate().flat_map(|(at, block)| {
            let mut rest = *block;
            std::iter::from_fn(move || {
                let next = (rest != 0).then(|| at * 64 + rest.trailing_zeros() as usize);
                rest &= rest.wrapping_sub(1);
                next
            })
        })
    }
}

impl FromIterator<usize> for RuleSet {
    fn from_iter<I: IntoIterator<Item = usize>>(rules: I) -> RuleSet {
        let mut set = RuleSet::default();
        rules.into_iter().for_each(|rule| set.insert(rule));
        set
    }
}

#[cfg(test)]
mod tests {
    use super::RuleSet;

    #[test]
    fn sets_of_different_lengths_meet_where_both_have_a_rule() {
        let mut many: RuleSet = [3, 64, 200].into_iter().collect();
        let few: RuleSet = [3, 5].into_iter().collect();
        assert!(many.meets(&few) && few.meets(&many));
        many.remove(&few);
        assert!(!many.meets(&few) && many.iter().eq([64, 200]));
        many.add(&few);
        assert_eq!((many.iter().collect::<Vec<_>>(), many.len()), (vec![3, 5, 64, 200], 4));
    }

    #[test]
    fn nothing_is_in_an_empty_set() {
        let mut set: RuleSet = [130].into_iter().collect();
        assert!(!set.is_empty() && RuleSet::default().is_empty());
        set.copy(&RuleSet::default());
        assert!(set.is_empty() && set.iter().next().is_none());
    }
}
