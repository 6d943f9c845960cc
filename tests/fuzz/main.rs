//! A fuzz target for each reader: the demo's files with edits drawn from a seed, and what must hold of whatever comes back.
//!
//! A few hundred inputs each run with all tests. `CUTCLOTH_FUZZ=600 cargo test --test fuzz` goes on for ten minutes a
//! target; a fault names its seed, and `CUTCLOTH_FUZZ_SEED=41` runs that one alone. A target is a function from edits (any
//! bytes, by `arbitrary`) to nothing, so a fuzzer that is led by coverage can drive it as well.

mod corpus;
mod edits;
mod targets;

use std::time::{Duration, Instant};

use arbitrary::{Arbitrary, Unstructured};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use corpus::Corpus;
use edits::Edits;

/// Inputs of a target in a run of all tests.
const INPUTS: u64 = 250;
/// No file within the limits keeps a reader busy longer, on a slow machine that does much else besides.
const LONGEST: Duration = Duration::from_secs(20);

/// Says which input it was, when a target gives up on it.
struct Named<'a> {
    target: &'a str,
    seed: u64,
    file: &'a [u8],
}

impl Drop for Named<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            let Named { target, seed, file } = self;
            let begin = String::from_utf8_lossy(&file[..file.len().min(3000)]).into_owned();
            eprintln!("{target}: seed {seed}, {} bytes, which begin:\n{begin}\n", file.len());
        }
    }
}

/// Runs `target` on files of `corpus` with edits, for as many inputs or as long as is asked for.
fn fuzz(name: &str, corpus: &Corpus, target: impl Fn(&str, &[u8])) {
    let number = |key: &str| std::env::var(key).ok().and_then(|text| text.parse::<u64>().ok());
    let only = number("CUTCLOTH_FUZZ_SEED");
    let seconds = number("CUTCLOTH_FUZZ").map(Duration::from_secs);
    let started = Instant::now();
    let mut longest = Duration::ZERO;
    let mut seed = only.unwrap_or(0);
    loop {
        let mut random = SmallRng::seed_from_u64(seed);
        let bytes: Vec<u8> = (0..random.random_range(16..400)).map(|_| random.random()).collect();
        let edits = Edits::arbitrary(&mut Unstructured::new(&bytes)).expect("enough bytes");
        let (file, content) = edits.applied(corpus);
        let named = Named { target: name, seed, file: &content };
        let begun = Instant::now();
        target(file, &content);
        let took = begun.elapsed();
        assert!(took < LONGEST, "{took:?}");
        drop(named);
        longest = longest.max(took);
        seed += 1;
        let done = match seconds {
            Some(seconds) => started.elapsed() >= seconds,
            None => seed >= INPUTS,
        };
        if done || only.is_some() {
            break;
        }
    }
    eprintln!("{name}: {seed} inputs in {:?}, the longest {longest:?}", started.elapsed());
}

#[test]
fn stashes() {
    fuzz("stash", &corpus::stashes(), targets::stash);
}

#[test]
fn charts() {
    fuzz("chart", &corpus::charts(), targets::pattern);
}

#[test]
fn patterns() {
    fuzz("pattern", &corpus::patterns(), targets::pattern);
}

#[test]
fn decisions() {
    let against = corpus::demo();
    fuzz("placements", &corpus::placements(), |name, bytes| targets::placements(&against, name, bytes));
}

#[test]
fn records() {
    let (inputs, records) = corpus::records();
    fuzz("record", &records, |_, bytes| targets::record(&inputs, bytes));
}

#[test]
fn files_as_they_are_pass_every_target() {
    let against = corpus::demo();
    let (inputs, records) = corpus::records();
    for (name, bytes) in corpus::stashes().files {
        targets::stash(&name, &bytes);
    }
    for (name, bytes) in corpus::charts().files.into_iter().chain(corpus::patterns().files) {
        targets::pattern(&name, &bytes);
    }
    for (name, bytes) in corpus::placements().files {
        targets::placements(&against, &name, &bytes);
    }
    for (_, bytes) in records.files {
        targets::record(&inputs, &bytes);
        let text = String::from_utf8(bytes).expect("text");
        let faults = cutcloth::verifying::verify(&inputs, &text);
        // Other runs of the same question have their plans beside the record; only the first was made from these inputs.
        assert!(faults.is_empty() || text.contains("\"impossible\""), "{}", faults[0]);
    }
}
