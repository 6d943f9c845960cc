//! Marks of files: a short one of the inputs, printed on every sheet so that two print-outs can be told apart, and a
//! digest of each file that is written, so that a record can tell which files belong to it.

use serde::Serialize;
use sha2::{Digest as _, Sha256};

/// A file by its name within the output folder and what is in it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Digest {
    /// The name.
    pub name: String,
    /// SHA-256 (FIPS 180-4) of the bytes, in hexadecimal digits.
    pub sha256: String,
}

impl Digest {
    /// Of the file called `name` with these bytes.
    pub fn of(name: &str, bytes: &[u8]) -> Digest {
        let sha256 = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        Digest { name: name.to_owned(), sha256 }
    }
}

/// Eight hexadecimal digits that change when a name or a byte of any input changes.
///
/// It tells revisions apart; it is no protection against someone who wants two files to look alike.
/// FNV-1a, 64 bits, folded to 32 (Fowler, Noll and Vo): one line of arithmetic, the same on every machine.
///
/// ```
/// use cutcloth::report::fingerprint;
/// let first = fingerprint(&[("stash.csv", b"print,cut")]);
/// assert_eq!(first.len(), 8);
/// assert_ne!(first, fingerprint(&[("stash.csv", b"print;cut")]));
/// ```
pub fn fingerprint(inputs: &[(&str, &[u8])]) -> String {
    const START: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    let mut hash = START;
    let mut take = |byte: u8| hash = (hash ^ u64::from(byte)).wrapping_mul(PRIME);
    for (name, bytes) in inputs {
        name.bytes().for_each(&mut take);
        take(0);
        // The length keeps the end of one file apart from the start of the next.
        bytes.len().to_le_bytes().into_iter().for_each(&mut take);
        bytes.iter().copied().for_each(&mut take);
    }
    format!("{:08x}", (hash >> 32) ^ (hash & 0xffff_ffff))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moving_a_byte_from_one_file_to_the_next_changes_the_mark() {
        let one = fingerprint(&[("a", b"12"), ("b", b"3")]);
        let other = fingerprint(&[("a", b"1"), ("b", b"23")]);
        assert_ne!(one, other);
        assert_eq!(one, fingerprint(&[("a", b"12"), ("b", b"3")]));
    }
}
