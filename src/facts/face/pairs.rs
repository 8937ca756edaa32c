//! A symmetric relation between pieces.

/// A square of bits.
#[derive(Clone, Debug)]
pub struct Pairs {
    words: usize,
    bits: Vec<u64>,
}

impl Pairs {
    pub fn new(pieces: usize) -> Pairs {
        let words = pieces.div_ceil(64);
        Pairs { words, bits: vec![0; words * pieces] }
    }

    pub fn insert(&mut self, a: usize, b: usize) {
        self.bits[a * self.words + b / 64] |= 1 << (b % 64);
        self.bits[b * self.words + a / 64] |= 1 << (a % 64);
    }

    pub fn has(&self, a: usize, b: usize) -> bool {
        self.bits[a * self.words + b / 64] >> (b % 64) & 1 == 1
    }

    /// All that are related to a piece, in ascending order.
    pub fn of(&self, piece: usize) -> impl Iterator<Item = usize> + '_ {
        ones(self.row(piece).iter().copied())
    }

    /// All that are related to both pieces, in ascending order.
    pub fn of_both(&self, a: usize, b: usize) -> impl Iterator<Item = usize> + '_ {
        ones(self.row(a).iter().zip(self.row(b)).map(|(x, y)| x & y))
    }

    /// Every pair once, the lower index first.
    pub fn iter(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        let pieces = self.bits.len().checked_div(self.words).unwrap_or(0);
        (0..pieces).flat_map(move |a| self.of(a).filter(move |&b| a < b).map(move |b| (a, b)))
    }

    fn row(&self, piece: usize) -> &[u64] {
        &self.bits[piece * self.words..(piece + 1) * self.words]
    }
}

fn ones(words: impl Iterator<Item = u64>) -> impl Iterator<Item = usize> {
    words.enumerate().flat_map(|(at, word)| {
        let mut rest = word;
        std::iter::from_fn(move || {
            (rest != 0).then(|| {
                let bit = rest.trailing_zeros() as usize;
                rest &= rest - 1;
                at * 64 + bit
            })
        })
    })
}
