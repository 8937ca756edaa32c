//! How far includes lead from a file, and whether back to it.

use std::hash::Hash;

use foldhash::{HashMap, HashMapExt};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct IncludeReach {
    /// Some way leads back to where it began.
    pub circular: bool,
    /// Files in a row, the file itself among them; those of a circle count as one behind the other.
    pub deep: usize,
}

/// The reach of `root` and of all that it leads to, each found once however many ways there are: circles are strongly
/// connected components, as Tarjan finds them. By hand and not by recursion, since a chain can be longer than the stack is
/// deep. What is `known` is not gone through again; what is `found` has to be known from then on.
pub fn reach<K: Clone + Eq + Hash>(
    root: K,
    leads: impl Fn(&K) -> Vec<K>,
    known: impl Fn(&K) -> Option<IncludeReach>,
    mut found: impl FnMut(&K, IncludeReach),
) {
    let mut waiting: HashMap<K, usize> = HashMap::new();
    let mut component: Vec<K> = vec![root.clone()];
    let mut count = 0;
    let mut enter = |key: &K, waiting: &mut HashMap<K, usize>| {
        count += 1;
        waiting.insert(key.clone(), count);
        Visit { key: key.clone(), leads: leads(key), next: 0, number: count, low: count, deep: 0, circular: false }
    };
    let mut open = vec![enter(&root, &mut waiting)];
    while let Some(last) = open.last_mut() {
        if let Some(next) = last.leads.get(last.next).cloned() {
            last.next += 1;
            if let Some(number) = waiting.get(&next) {
                last.low = last.low.min(*number);
                last.circular = true;
            } else if let Some(reach) = known(&next) {
                last.deep = last.deep.max(reach.deep);
            } else {
                component.push(next.clone());
                open.push(enter(&next, &mut waiting));
            }
            continue;
        }
        let Some(done) = open.pop() else { return };
        let mut deep = done.deep;
        if done.low == done.number {
            let from = component.iter().rposition(|key| *key == done.key).unwrap_or(0);
            let members = component.split_off(from);
            deep += members.len();
            for member in &members {
                waiting.remove(member);
                found(member, IncludeReach { circular: members.len() > 1 || done.circular, deep });
            }
        }
        if let Some(above) = open.last_mut() {
            above.deep = above.deep.max(deep);
            if done.low < done.number {
                above.low = above.low.min(done.low);
            }
        }
    }
}

/// A file whose includes are being gone through.
struct Visit<K> {
    key: K,
    leads: Vec<K>,
    next: usize,
    number: usize,
    low: usize,
    deep: usize,
    circular: bool,
}

#[cfg(test)]
mod tests {
    use super::{IncludeReach, reach};
    use std::cell::RefCell;
    use std::collections::BTreeMap;

    fn of(leads: &[&[usize]], roots: &[usize]) -> BTreeMap<usize, (bool, usize)> {
        let all: RefCell<BTreeMap<usize, IncludeReach>> = RefCell::default();
        for root in roots.iter().filter(|root| !all.borrow().contains_key(root)).collect::<Vec<_>>() {
            if !all.borrow().contains_key(root) {
                let known = |key: &usize| all.borrow().get(key).copied();
                let found = |key: &usize, reach| assert_eq!(all.borrow_mut().insert(*key, reach), None);
                reach(*root, |key: &usize| leads[*key].to_vec(), known, found);
            }
        }
        all.into_inner().into_iter().map(|(key, reach)| (key, (reach.circular, reach.deep))).collect()
    }

    #[test]
    fn circles_and_rows_are_found_from_every_side() {
        // 0 leads to a circle of 1, 2 and 3, which leads to 4 and 5 in a row; 6 leads to itself.
        let leads: [&[usize]; 7] = [&[1, 4], &[2], &[3, 4], &[1], &[5], &[], &[6, 5]];
        let expected = [(false, 6), (true, 5), (true, 5), (true, 5), (false, 2), (false, 1), (true, 2)];
        for roots in [[0, 6, 1, 2, 3, 4, 5], [5, 4, 3, 2, 1, 0, 6], [2, 6, 0, 5, 1, 3, 4]] {
            assert_eq!(of(&leads, &roots).into_values().collect::<Vec<_>>(), expected);
        }
    }

    #[test]
    fn a_chain_longer_than_the_stack_is_gone_through() {
        let leads: Vec<Vec<usize>> = (0..200_000).map(|n| if n < 199_999 { vec![n + 1] } else { vec![] }).collect();
        let leads: Vec<&[usize]> = leads.iter().map(Vec::as_slice).collect();
        assert_eq!(of(&leads, &[0])[&0], (false, 200_000));
    }
}
