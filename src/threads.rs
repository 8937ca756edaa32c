//! One function for many things: on all cores in the program, one after the other in the core alone. Order is kept.

#[cfg(feature = "cli")]
use rayon::prelude::{IntoParallelIterator as Many, ParallelIterator};
#[cfg(not(feature = "cli"))]
use std::iter::IntoIterator as Many;

pub fn map<A: Many, B: Send>(all: A, one: impl Fn(A::Item) -> B + Sync + Send) -> Vec<B> {
    iterator(all).map(one).collect()
}

pub fn filter_map<A: Many, B: Send>(all: A, one: impl Fn(A::Item) -> Option<B> + Sync + Send) -> Vec<B> {
    iterator(all).filter_map(one).collect()
}

#[cfg(feature = "cli")]
fn iterator<A: Many>(all: A) -> A::Iter {
    all.into_par_iter()
}

#[cfg(not(feature = "cli"))]
fn iterator<A: Many>(all: A) -> A::IntoIter {
    all.into_iter()
}
