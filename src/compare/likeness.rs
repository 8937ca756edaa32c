//! Which thing of the submittal stands for which issued one.

use foldhash::HashMap;

use crate::model::Name;

/// A pair, or what stands alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pair<A, B> {
    Both(A, B),
    Gone(A),
    New(B),
}

impl<A: Copy, B: Copy> Pair<A, B> {
    pub fn map<C, D>(self, old: impl Fn(A) -> C, new: impl Fn(B) -> D) -> Pair<C, D> {
        match self {
            Pair::Both(a, b) => Pair::Both(old(a), new(b)),
            Pair::Gone(a) => Pair::Gone(old(a)),
            Pair::New(b) => Pair::New(new(b)),
        }
    }
}

/// Less than this is no likeness, from 0 (nothing in common) to 1 (the same).
const LEAST: f64 = 0.6;

/// How many things before and after its place in the order are compared with each that has no partner by name: of 10,000
/// on either side all pairs would be 100 million.
const COMPARED: usize = 100;

/// Pairs by name; of the rest, the most alike first. Numbers are indices; issued things come in their order, new ones last.
pub fn pairs<T: Copy>(
    issued: &[T],
    submitted: &[T],
    name: impl Fn(T) -> Name,
    likeness: impl Fn(T, T) -> f64,
) -> Vec<Pair<usize, usize>> {
    let mut partner: Vec<Option<usize>> = vec![None; issued.len()];
    let mut taken = vec![false; submitted.len()];
    let mut named: HashMap<Name, Vec<usize>> = HashMap::default();
    (0..submitted.len()).rev().for_each(|new| named.entry(name(submitted[new])).or_default().push(new));
    for (old, partner) in partner.iter_mut().enumerate() {
        if let Some(new) = named.get_mut(&name(issued[old])).and_then(Vec::pop) {
            (*partner, taken[new]) = (Some(new), true);
        }
    }
    let mut candidates: Vec<(f64, usize, usize)> = Vec::new();
    let free: Vec<usize> = (0..submitted.len()).filter(|new| !taken[*new]).collect();
    for (rank, old) in (0..issued.len()).filter(|old| partner[*old].is_none()).enumerate() {
        // What was renamed stays in its order, but for what was put in and taken out.
        let near = rank.saturating_sub(COMPARED).min(free.len())..(rank + COMPARED).min(free.len());
        for &new in &free[near] {
            let alike = likeness(issued[old], submitted[new]);
            if alike >= LEAST {
                candidates.push((alike, old, new));
            }
        }
    }
    candidates.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    for (_, old, new) in candidates {
        if partner[old].is_none() && !taken[new] {
            (partner[old], taken[new]) = (Some(new), true);
        }
    }
    let paired = partner.iter().enumerate().map(|(old, partner)| match partner {
        Some(new) => Pair::Both(old, *new),
        None => Pair::Gone(old),
    });
    paired.chain((0..submitted.len()).filter(|new| !taken[*new]).map(Pair::New)).collect()
}

/// The share of things that two lists have in common: twice the common ones over all.
pub fn shared<T: PartialEq>(a: &[T], b: &[T]) -> f64 {
    if a.is_empty() && b.is_empty() {
        return 1.0;
    }
    let mut rest: Vec<&T> = b.iter().collect();
    let mut common = 0;
    for one in a {
        if let Some(at) = rest.iter().position(|other| *other == one) {
            rest.swap_remove(at);
            common += 1;
        }
    }
    2.0 * common as f64 / (a.len() + b.len()) as f64
}
