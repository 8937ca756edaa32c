//! One function for many things: on all cores in the program, one after the other in the core alone. Order is kept.

#[cfg(feature = "cli")]
use rayon::prelude::*;

#[cfg(feature = "cli")]
pub fn map<A: Send, B: Send>(all: impl IntoIterator<Item = A>, one: impl Fn(A) -> B + Sync + Send) -> Vec<B> {
    match several(all) {
        Ok(several) => several.into_par_iter().map(one).collect(),
        Err(single) => single.into_iter().map(one).collect(),
    }
}

#[cfg(feature = "cli")]
pub fn filter_map<A: Send, B: Send>(
    all: impl IntoIterator<Item = A>,
    one: impl Fn(A) -> Option<B> + Sync + Send,
) -> Vec<B> {
    match several(all) {
        Ok(several) => several.into_par_iter().filter_map(one).collect(),
        Err(single) => single.into_iter().filter_map(one).collect(),
    }
}

/// For a single thing no thread is started: that takes longer than a short file.
#[cfg(feature = "cli")]
fn several<A>(all: impl IntoIterator<Item = A>) -> Result<Vec<A>, Option<A>> {
    let mut all: Vec<A> = all.into_iter().collect();
    if all.len() < 2 { Err(all.pop()) } else { Ok(all) }
}

#[cfg(not(feature = "cli"))]
pub fn map<A, B>(all: impl IntoIterator<Item = A>, one: impl Fn(A) -> B) -> Vec<B> {
    all.into_iter().map(one).collect()
}

#[cfg(not(feature = "cli"))]
pub fn filter_map<A, B>(all: impl IntoIterator<Item = A>, one: impl Fn(A) -> Option<B>) -> Vec<B> {
    all.into_iter().filter_map(one).collect()
}
