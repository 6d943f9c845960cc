//! Counts of pieces packed into a few machine words, so that adding two and testing limits is a handful of instructions.

use std::hash::{BuildHasherDefault, Hasher};

/// A map from counts; looked up, never walked.
pub(crate) type CountsMap<const N: usize, V> =
    std::collections::HashMap<Counts<N>, V, BuildHasherDefault<WordHasher>>;

/// A quick hash of whole words (multiply and rotate, as compilers use for their own tables).
#[derive(Default)]
pub(crate) struct WordHasher(u64);

impl Hasher for WordHasher {
    fn finish(&self) -> u64 {
        self.0 ^ (self.0 >> 29)
    }

    fn write(&mut self, bytes: &[u8]) {
        for word in bytes.chunks(8) {
            let mut padded = [0; 8];
            padded[..word.len()].copy_from_slice(word);
            self.write_u64(u64::from_le_bytes(padded));
        }
    }

    fn write_u64(&mut self, word: u64) {
        // An odd constant with well mixed bits (the golden ratio in 64 bits).
        self.0 = (self.0.rotate_left(23) ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    }
}

/// Counts by size, several in each word. `N` words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Counts<const N: usize>(pub(crate) [u64; N]);

impl<const N: usize> Counts<N> {
    /// A number that depends on the counts and `seed` as if drawn by lot.
    pub(crate) fn mixed(&self, seed: u64) -> u32 {
        let mut hasher = WordHasher(seed);
        self.0.iter().for_each(|&word| hasher.write_u64(word));
        u32::try_from(hasher.finish() >> 40).expect("24 bits fit")
    }
}

/// Where each size's count sits, and how large it may grow.
///
/// Every field has one bit more than its limit needs. With `guard = 2^(bits - 1) - 1 - limit`, a sum passes its
/// limit exactly when adding the guard sets the top bit; two counts within their limits never spill over a field.
#[derive(Clone, Debug)]
pub(crate) struct Fields<const N: usize> {
    fields: Vec<(usize, u32, u64)>,
    guard: [u64; N],
    high: [u64; N],
}

impl<const N: usize> Fields<N> {
    /// Fields for these limits; `None` when they need more than `N` words.
    pub(crate) fn new(limits: &[u32]) -> Option<Fields<N>> {
        let (mut fields, mut guard, mut high) = (Vec::new(), [0; N], [0; N]);
        let (mut word, mut shift) = (0, 0);
        for &limit in limits {
            let bits = (u32::BITS - limit.leading_zeros()) + 1;
            if shift + bits > u64::BITS {
                word += 1;
                shift = 0;
            }
            if word >= N {
                return None;
            }
            fields.push((word, shift, (1 << bits) - 1));
            guard[word] |= ((1 << (bits - 1)) - 1 - u64::from(limit)) << shift;
            high[word] |= 1 << (shift + bits - 1);
            shift += bits;
        }
        Some(Fields { fields, guard, high })
    }

    /// One of `size`.
    pub(crate) fn one(&self, size: usize) -> Counts<N> {
        let mut counts = Counts([0; N]);
        let (word, shift, _) = self.fields[size];
        counts.0[word] = 1 << shift;
        counts
    }

    /// The count of `size`.
    pub(crate) fn get(&self, counts: Counts<N>, size: usize) -> u64 {
        let (word, shift, mask) = self.fields[size];
        (counts.0[word] >> shift) & mask
    }

    /// The sum, or `None` when a limit is passed.
    pub(crate) fn add(&self, a: Counts<N>, b: Counts<N>) -> Option<Counts<N>> {
        let sum: [u64; N] = std::array::from_fn(|i| a.0[i] + b.0[i]);
        let over = (0..N).fold(0, |over, i| over | ((sum[i] + self.guard[i]) & self.high[i]));
        (over == 0).then_some(Counts(sum))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_within_their_limits_pass_and_others_do_not() {
        let limits = [1, 3, 4, 7, 9, 100, 2, 1, 1, 1, 5, 6, 31, 32, 1, 1, 1, 15];
        let fields = Fields::<2>::new(&limits).unwrap();
        for (size, &limit) in limits.iter().enumerate() {
            let mut counts = Counts([0; 2]);
            for n in 1..=limit {
                counts = fields.add(counts, fields.one(size)).expect("within the limit");
                assert_eq!(fields.get(counts, size), u64::from(n));
                assert!((0..limits.len()).all(|other| other == size || fields.get(counts, other) == 0));
            }
            assert_eq!(fields.add(counts, fields.one(size)), None);
        }
        assert!(Fields::<1>::new(&limits).is_none());
    }
}
