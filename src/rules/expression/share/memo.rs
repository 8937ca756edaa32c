//! What a run knows already of the thing that rules are asked about.

use std::cell::Cell;

/// What is known already of one thing: a bit for each shared condition.
#[derive(Default)]
pub struct ConditionCache {
    known: Cell<u128>,
    yes: Cell<u128>,
}

impl ConditionCache {
    pub fn get(&self, condition: u8) -> Option<bool> {
        let bit = 1 << condition;
        (self.known.get() & bit != 0).then(|| self.yes.get() & bit != 0)
    }

    /// Whether one of these conditions, a bit for each, is known to be false.
    pub fn denies(&self, conditions: u128) -> bool {
        self.known.get() & !self.yes.get() & conditions != 0
    }

    /// Goes on to another thing, for which no more than these conditions are what they were.
    pub fn keep(&self, conditions: u128) {
        self.known.set(self.known.get() & conditions);
        self.yes.set(self.yes.get() & conditions);
    }

    /// Of these conditions, a bit for each, the ones in `yes` are true.
    pub fn put(&self, conditions: u128, yes: u128) {
        self.known.set(self.known.get() | conditions);
        self.yes.set(self.yes.get() | yes);
    }
}

#[cfg(test)]
mod tests {
    use super::ConditionCache;

    #[test]
    fn of_another_thing_only_what_is_kept_is_known() {
        let memo = ConditionCache::default();
        memo.put(0b111, 0b101);
        memo.keep(0b011);
        assert_eq!([0, 1, 2].map(|condition| memo.get(condition)), [Some(true), Some(false), None]);
    }

    #[test]
    fn a_condition_is_denied_once_it_is_known_to_be_false() {
        let memo = ConditionCache::default();
        assert!(!memo.denies(0b111), "nothing is known yet");
        memo.put(0b011, 0b001);
        assert_eq!([0, 1, 2].map(|condition| memo.get(condition)), [Some(true), Some(false), None]);
        assert_eq!([0b001, 0b010, 0b101].map(|conditions| memo.denies(conditions)), [false, true, false]);
    }
}
