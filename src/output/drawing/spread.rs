//! Room for words: they move apart until none covers another.

/// Middles of boxes of these lengths, as near to where they are wanted as they can be without overlap, in the same order
/// and at or beyond `low`. `wanted` must ascend.
pub fn spread(wanted: &[f64], lengths: &[f64], low: f64) -> Vec<f64> {
    // Boxes that push each other form a block, which lies where its members want it on average.
    struct Block {
        first: usize,
        length: f64,
        /// Sum over its members of where each wants the block to begin.
        wish: f64,
        count: f64,
    }
    let begin = |block: &Block| (block.wish / block.count).max(low);
    let mut blocks: Vec<Block> = Vec::new();
    for (n, (at, length)) in wanted.iter().zip(lengths).enumerate() {
        blocks.push(Block { first: n, length: *length, wish: at - length / 2.0, count: 1.0 });
        while let [.., before, last] = blocks.as_slice() {
            if begin(before) + before.length <= begin(last) {
                break;
            }
            let wish = before.wish + last.wish - before.length * last.count;
            let merged = Block {
                first: before.first,
                length: before.length + last.length,
                wish,
                count: before.count + last.count,
            };
            blocks.truncate(blocks.len() - 2);
            blocks.push(merged);
        }
    }
    let mut middles = vec![0.0; wanted.len()];
    for (n, block) in blocks.iter().enumerate() {
        let mut at = begin(block);
        let end = blocks.get(n + 1).map_or(wanted.len(), |next| next.first);
        for (middle, length) in middles[block.first..end].iter_mut().zip(&lengths[block.first..end]) {
            *middle = at + length / 2.0;
            at += length;
        }
    }
    middles
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn what_has_room_stays_and_what_has_none_moves_apart_evenly() {
        assert_eq!(spread(&[10.0, 30.0], &[4.0, 4.0], 0.0), [10.0, 30.0]);
        assert_eq!(spread(&[10.0, 10.0], &[4.0, 4.0], 0.0), [8.0, 12.0]);
        assert_eq!(spread(&[1.0, 1.0, 9.0], &[4.0, 4.0, 4.0], 0.0), [2.0, 6.0, 10.0]);
    }

    #[test]
    fn boxes_never_overlap() {
        let wanted = [0.0, 0.5, 3.0, 3.1, 3.2, 20.0, 21.0, 21.5, 40.0];
        let lengths = [3.0, 5.0, 2.0, 4.0, 4.0, 1.0, 6.0, 2.0, 4.0];
        let middles = spread(&wanted, &lengths, 0.0);
        for n in 1..wanted.len() {
            assert!(middles[n] - middles[n - 1] >= (lengths[n] + lengths[n - 1]) / 2.0 - 1e-9, "{middles:?}");
        }
        assert!(middles[0] >= lengths[0] / 2.0);
    }
}
